package render

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// sill is a door with a threshold of runs and rises in mm, in pairs, and its leaf so far along; below 0: the spec does not say.
func sill(leafAt quantity.Length, parts ...quantity.Length) *door.Door {
	d := &door.Door{}
	d.Threshold.Given = true
	for pair := range slices.Chunk(parts, 2) {
		d.Threshold.Segments = append(d.Threshold.Segments, door.Segment{Run: knownLength(pair[0]), Rise: knownLength(pair[1])})
	}
	if leafAt >= 0 {
		d.Threshold.LeafAt, d.Leaf.Thickness = knownLength(leafAt), knownLength(40)
	}
	return d
}

func knownLength(mm quantity.Length) door.Maybe[quantity.Length] {
	return door.Maybe[quantity.Length]{Value: mm * quantity.Millimetre, Known: true}
}

// A lip of 6 mm, a bevel, a plateau and a bevel that is too steep, each as long as it is; rows are twice as high as columns are wide, so
// 12 mm of 92 mm in 75 columns take five of the rows above the floor.
func TestDrawsAThreshold(t *testing.T) {
	got := drawThreshold(sill(40, 0, 6, 14, 6, 60, 0, 18, -12), []int{3})
	want := []string{
		`outside                                                                                 inside`,
		`                                       |             leaf              |`,
		`                                       |_______________________________|`,
		`                 ___________________________________________________`,
		`            ____/                                                   \__`,
		`        ___/                                                           \__`,
		`       /                                                                  \__`,
		`      |                                                                      \__`,
		`______|                                                                         \_______`,
		`                                                                   ^^^^^^^^^^^^^^^`,
		`                                                                          4`,
	}
	if !slices.Equal(got.lines, want) || !strings.HasPrefix(got.caption, "Heights are drawn as large as lengths, ") {
		t.Errorf("%s\n%s", strings.Join(got.lines, "\n"), got.caption)
	}
}

// What cannot be drawn is left out with a word, and what has no scale says so.
func TestDrawsNothingWithoutAWord(t *testing.T) {
	unknown := sill(0, 0, 6, 14, 6)
	unknown.Threshold.Segments[1].Run.Known = false
	for want, d := range map[string]*door.Door{
		"Not drawn: the spec gives no threshold.":             {},
		"Not drawn: the floor is level from side to side.":    sill(0),
		"Not drawn: of segment 2 run or rise is not known.":   unknown,
		"Upright faces only: lengths are drawn at no scale, ": sill(0, 0, 6, 0, 7, 0, -3),
		"Heights are drawn at no scale, ":                     sill(0, 30, 0),
		"Heights are drawn 921 times as large as lengths, ":   sill(0, 10, -20, 100_000, 0, 10, 20),
		"Heights are drawn as large as lengths, ":             sill(0, 5, 400),
	} {
		got := drawThreshold(d, nil)
		if !strings.HasPrefix(got.caption, want) || (len(got.lines) == 0) != strings.HasPrefix(want, "Not drawn") {
			t.Errorf("%q is drawn on %d lines as %q", want, len(got.lines), got.caption)
		}
	}
	if got := drawThreshold(sill(-1, 20, 5), nil); !strings.Contains(got.caption, "not given (threshold.leaf_at)") || strings.Contains(strings.Join(got.lines, ""), "leaf") {
		t.Errorf("a leaf of which nobody knows the place: %s", got.caption)
	}
}

// Whatever the profile, it keeps to the page, it is plain ASCII, it begins and ends on the floors, and what is marked has a mark.
func TestDrawingsKeepToThePage(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	sizes := []quantity.Length{0, 1, 6, 12, 90, 100_000}
	for round := range 3000 {
		count := 1 + random.IntN(12)
		if round%10 == 0 {
			count = 200
		}
		var parts []quantity.Length
		for range count {
			run, rise := sizes[random.IntN(len(sizes))], sizes[random.IntN(len(sizes))]
			if random.IntN(2) == 0 {
				rise = -rise
			}
			parts = append(parts, run, rise)
		}
		d := sill(sizes[random.IntN(len(sizes))]*quantity.Length(random.IntN(3))-1, parts...)
		marked := []int{random.IntN(count), random.IntN(count)}
		slices.Sort(marked)
		got := drawThreshold(d, marked)
		if fault := faultOf(got, 13); fault != "" {
			t.Fatalf("%s: leaf at %v, %v\n%s", fault, d.Threshold.LeafAt, parts, strings.Join(got.lines, "\n"))
		}
		signs := got.lines[len(got.lines)-2]
		pieces, each := piecesOf(d.Threshold.Segments)
		if stretches := len(strings.Fields(signs)); stretches == 0 || stretches > 2 {
			t.Fatalf("%d stretches are marked of %v of %d", stretches, marked, len(pieces))
		}
		if first := fmt.Sprint(marked[0] + 1); each == 1 && !strings.Contains(got.lines[len(got.lines)-1], first) {
			t.Fatalf("segment %s is not named: %q", first, got.lines[len(got.lines)-1])
		}
	}
}

func faultOf(d drawing, most int) string {
	if len(d.lines) < 3 || len(d.lines) > most {
		return fmt.Sprintf("%d lines", len(d.lines))
	}
	for _, line := range d.lines {
		if len(line) > width-4 {
			return fmt.Sprintf("a line of %d columns", len(line))
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
			return "not plain ASCII"
		}
	}
	return ""
}

// Each segment lies under its own mark: the columns that are marked are those in which the profile is drawn for it.
func TestMarksLieUnderTheirSegments(t *testing.T) {
	d := sill(40, 24, 12, 48, 0, 24, -12)
	for i := range 3 {
		got := drawThreshold(d, []int{i})
		begin := strings.Index(got.lines[len(got.lines)-2], "^")
		end := begin + strings.Count(got.lines[len(got.lines)-2], "^")
		var signs string
		for _, line := range got.lines[3 : len(got.lines)-2] {
			if begin < len(line) {
				signs += line[begin:min(end, len(line))]
			}
		}
		for sign, of := range map[string]int{"/": 0, "\\": 2} {
			if strings.Contains(signs, sign) != (of == i) {
				t.Errorf("segment %d: %q above its mark", i+1, signs)
			}
		}
	}
}

// A pointer names the segment that is nearest above: in a plate the top has the pointer of the plate, and each bevel its own below it.
func TestPointersNameSegments(t *testing.T) {
	plate := door.Threshold{Segments: []door.Segment{{Pointer: "/threshold/plate/bevels/0"}, {Pointer: "/threshold/plate"}, {Pointer: "/threshold/plate/bevels/1"}}}
	for pointer, want := range map[string][]int{
		"/threshold/plate/bevels/1": {2}, "/threshold/plate/height": {1}, "/threshold/plate": {1}, "/threshold": nil, "/threshold/plate/bevels/10": {1}, "/floor": nil,
	} {
		if got := segmentsAt(plate, []string{pointer}); !slices.Equal(got, want) {
			t.Errorf("%s: %v, not %v", pointer, got, want)
		}
	}
}

// The floor under a leaf sinks where the gap is wide, and a reading is marked where it was taken.
func TestDrawsAGap(t *testing.T) {
	readings := []door.Reading{{At: 0, Gap: 28 * quantity.Millimetre}, {At: 463 * quantity.Millimetre, Gap: 29 * quantity.Millimetre}, {At: 926 * quantity.Millimetre, Gap: 31 * quantity.Millimetre}}
	got := drawGap(readings, []int{2}, quantity.Metric, [2]string{"hinge", "latch"})
	want := []string{
		`hinge                                                                  latch`,
		`============================================================================`,
		`_________`,
		`         \_________________`,
		`                           \_____________`,
		`                                         \_________`,
		`                                                   \________`,
		`                                                            \_________`,
		`                                                                      \_____`,
		`                                                                           ^`,
	}
	if !slices.Equal(got.lines, want) || !strings.Contains(got.caption, "from 28 mm to 31 mm") {
		t.Errorf("%s\n%s", strings.Join(got.lines, "\n"), got.caption)
	}
}

func TestGapDrawingsKeepToThePage(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		var readings []door.Reading
		at := quantity.Length(0)
		for range 2 + random.IntN(120) {
			readings = append(readings, door.Reading{At: at, Gap: quantity.Length(random.Int64N(30)) * quantity.Millimetre / 3})
			at += 1 + quantity.Length(random.Int64N(int64(quantity.Metre)))
		}
		marked := []int{random.IntN(len(readings))}
		got := drawGap(readings, marked, quantity.Imperial, [2]string{"left", "right"})
		if fault := faultOf(got, 3+mostHeights+1); fault != "" || strings.Count(got.lines[len(got.lines)-1], "^") != 1 {
			t.Fatalf("%s: %v\n%s", fault, readings, strings.Join(got.lines, "\n"))
		}
	}
	if got := drawGap([]door.Reading{{}}, []int{0}, quantity.Metric, [2]string{"hinge", "latch"}); len(got.lines) > 0 || got.caption == "" {
		t.Errorf("one reading: %+v", got)
	}
}
