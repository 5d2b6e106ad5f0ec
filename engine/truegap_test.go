package engine

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/schema/quantity"
)

// gaps reads the only leaf of a door and gives its true gaps in nanometres.
func gaps(t *testing.T, site, leaf string) ([]quantity.Length, []Missing) {
	t.Helper()
	d := read(t, fmt.Sprintf("site: {%s}\nleaves: [{id: A, %s}]", site, leaf))
	readings, missing := trueReadings(d, d.Leaves[0])
	var out []quantity.Length
	for i, r := range readings {
		if r.At != d.Leaves[0].Readings[i].At || r.Pointer != d.Leaves[0].Readings[i].Pointer {
			t.Errorf("%s: reading %d has moved: %+v", leaf, i, r)
		}
		out = append(out, r.Gap)
	}
	return out, missing
}

const level = "gap: {readings: [{at: 0 mm, gap: 12 mm}, {at: 300 mm, gap: 12 mm}, {at: 900 mm, gap: 12 mm}]}"

// By hand: 12 mm less 3 mm x 300/900 is 11, less 3 mm is 9; a finish of 5 mm takes 5 everywhere.
func TestTrueReadings_Identity(t *testing.T) {
	const mm = quantity.Millimetre
	for _, c := range []struct {
		site, leaf string
		want       []quantity.Length
	}{
		{"", "width: 900 mm, " + level, []quantity.Length{12 * mm, 12 * mm, 12 * mm}},
		{"", "width: 900 mm, out_of_square: 3 mm, " + level, []quantity.Length{12 * mm, 11 * mm, 9 * mm}},
		{"", "width: 900 mm, out_of_square: -3 mm, " + level, []quantity.Length{12 * mm, 13 * mm, 15 * mm}},
		{"floor_finish: {to_come: 5 mm}", "width: 900 mm, out_of_square: 3 mm, " + level, []quantity.Length{7 * mm, 6 * mm, 4 * mm}},
		{"floor_finish: {to_come: 0 mm}", "out_of_square: 0 mm, " + level, []quantity.Length{12 * mm, 12 * mm, 12 * mm}},
		{"floor_finish: {to_come: 12 mm}", level, []quantity.Length{0, 0, 0}},
		// 1 nm over 3 nm of width: a third and two thirds; over 2 nm: the half goes up, either way.
		{"", "width: 0.000003 mm, out_of_square: 0.000001 mm, gap: {readings: [{at: 0.000001 mm, gap: 1 mm}, {at: 0.000002 mm, gap: 1 mm}]}", []quantity.Length{mm, mm - 1}},
		{"", "width: 0.000002 mm, out_of_square: 0.000001 mm, gap: {readings: [{at: 0.000001 mm, gap: 1 mm}]}", []quantity.Length{mm}},
		{"", "width: 0.000002 mm, out_of_square: -0.000001 mm, gap: {readings: [{at: 0.000001 mm, gap: 1 mm}]}", []quantity.Length{mm + 1}},
		// Lengths whose product passes 64 bits.
		{"", "width: 100 m, out_of_square: -100 m, gap: {readings: [{at: 99999.999999 mm, gap: 0 mm}]}", []quantity.Length{100*quantity.Metre - 1}},
	} {
		if got, missing := gaps(t, c.site, c.leaf); !slices.Equal(got, c.want) || len(missing) > 0 {
			t.Errorf("%s %s: %v, missing %v; want %v", c.site, c.leaf, got, missing, c.want)
		}
	}
}

// The gap read from the other edge: the level line there runs lower by what the leaf is, and so do its readings.
func TestMirroredLeafHasTheSameGaps_Identity(t *testing.T) {
	for _, square := range []int{0, 1, 7, 1_234_567} {
		for _, at := range []int{0, 1, 450_000_001, 463_123_457, 925_000_003} {
			const width, gap = 925_000_003, 12_000_000
			const leaf = "width: %s mm, out_of_square: %s mm, gap: {readings: [{at: %s mm, gap: %s mm}]}"
			mm := func(nm int) string { return quantity.Length(nm).MM() }
			one, _ := gaps(t, "", fmt.Sprintf(leaf, mm(width), mm(square), mm(at), mm(gap)))
			two, _ := gaps(t, "", fmt.Sprintf(leaf, mm(width), mm(-square), mm(width-at), mm(gap-square)))
			if !slices.Equal(one, two) || len(one) != 1 {
				t.Errorf("out of square by %d nm, at %d: %v, mirrored %v", square, at, one, two)
			}
		}
	}
}

// 36 in is 914.4 mm, 1/2 in 12.7 mm, 1/16 in 1.5875 mm, 1/4 in 6.35 mm.
func TestTrueReadingsInInches_Identity(t *testing.T) {
	metric, _ := gaps(t, "floor_finish: {to_come: 6.35 mm}", "width: 914.4 mm, out_of_square: 1.5875 mm, gap: {readings: [{at: 0 mm, gap: 12.7 mm}, {at: 127 mm, gap: 12.7 mm}]}")
	inches, _ := gaps(t, "floor_finish: {to_come: 1/4 in}", "width: 36 in, out_of_square: 1/16 in, gap: {readings: [{at: 0 in, gap: 1/2 in}, {at: 5 in, gap: 1/2 in}]}")
	// At 5/36 of the width 1.5875 mm x 5/36 = 0.220486111... mm is taken off 6.35 mm.
	if want := []quantity.Length{6_350_000, 6_129_514}; !slices.Equal(metric, want) || !slices.Equal(inches, want) {
		t.Errorf("millimetres %v, inches %v, want %v", metric, inches, want)
	}
}

func TestTrueGapThatIsNotKnown(t *testing.T) {
	for name, c := range map[string]struct{ site, leaf, pointer, what string }{
		"no readings":      {"", "width: 900 mm", "/leaves/0/gap/readings", "the bottom gap of leaf A"},
		"finish":           {"floor_finish: {to_come: unknown}", level, "/site/floor_finish", "the gap above the floor finish that is still to come"},
		"width":            {"", "out_of_square: 1 mm, " + level, "/leaves/0/width", "the width of leaf A"},
		"square":           {"", "width: 900 mm, out_of_square: unknown, " + level, "/leaves/0/out_of_square", "how far leaf A is out of square, where its gap was read to a level line"},
		"fouled by finish": {"floor_finish: {to_come: 12.5 mm}", level, "/leaves/0/gap/readings/0", "a leaf that clears the floor: leaf A at 0 mm would stand 0.5 mm below it, for 12 mm were read, and a finish of 12.5 mm is to come"},
		"fouled at the latch": {"floor_finish: {to_come: 10 mm}", "width: 900 mm, out_of_square: 3 mm, " + level, "/leaves/0/gap/readings/2",
			"a leaf that clears the floor: leaf A at 900 mm would stand 1 mm below it, for 12 mm were read, the leaf is out of square by 3 mm over its width, and a finish of 10 mm is to come"},
	} {
		got, missing := gaps(t, c.site, c.leaf)
		if want := []Missing{{c.pointer, c.what}}; got != nil || !reflect.DeepEqual(missing, want) {
			t.Errorf("%s: %v, missing %q; want %q", name, got, missing, want)
		}
	}
}

func TestTrueSwing(t *testing.T) {
	const leaf = "site: {%s}\nleaves: [{id: A, width: 900 mm, %sgap: {swing: [%s]}}]"
	const along = "{angle: 45 deg, readings: [{at: 0 mm, gap: 9 mm}, {at: 450 mm, gap: 12 mm}, {at: 900 mm, gap: 10 mm}]}"
	for name, c := range map[string]struct {
		site, square, swing string
		smallest            quantity.Length
		at, missing         string
	}{
		"none":             {"", "", "", 0, "", ""},
		"smallest":         {"floor_finish: {to_come: 4 mm}", "", "{angle: 45 deg, gap: 9 mm}", 5, "/leaves/0/gap/swing/0", ""},
		"along":            {"floor_finish: {to_come: 4 mm}", "", along, 5, "/leaves/0/gap/swing/0/readings/0", ""},
		"along, level":     {"", "out_of_square: 2 mm, ", along, 8, "/leaves/0/gap/swing/0/readings/2", ""},
		"smallest, level":  {"", "out_of_square: 2 mm, ", "{angle: 45 deg, gap: 9 mm}", 0, "", "the gap along the width of leaf A, which is out of square, at 45 deg"},
		"finish not known": {"floor_finish: {to_come: unknown}", "", along, 0, "", "the gap above the floor finish that is still to come"},
		"fouled":           {"floor_finish: {to_come: 9.5 mm}", "", along, 0, "", "a leaf that clears the floor: leaf A, open at 45 deg, would stand 0.5 mm below it, for 9 mm were read, and a finish of 9.5 mm is to come"},
	} {
		text := fmt.Sprintf(leaf, c.site, c.square, c.swing)
		if c.swing == "" {
			text = strings.Replace(text, "gap: {swing: []}", "gap: {}", 1)
		}
		d := read(t, text)
		got, missing := trueSwing(d, d.Leaves[0])
		switch {
		case c.missing != "" && (got != nil || len(missing) != 1 || missing[0].What != c.missing):
			t.Errorf("%s: %v, missing %q, want %q", name, got, missing, c.missing)
		case c.missing == "" && (len(missing) > 0 || (c.at == "") != (len(got) == 0)):
			t.Errorf("%s: %v, missing %q", name, got, missing)
		case c.at != "" && (smallest(got[0]).Gap != c.smallest*quantity.Millimetre || smallest(got[0]).Pointer != c.at || got[0].Gap != c.smallest*quantity.Millimetre):
			t.Errorf("%s: %+v, want %d mm at %s", name, got, c.smallest, c.at)
		}
	}
	d := read(t, fmt.Sprintf(leaf, "", "", along)) // what was read stays as it was
	before := d.Leaves[0].Swing[0].Readings[0].Gap
	d.Leaves[0].OutOfSquare.Value, d.Site.FinishThickness.Value = 5, 5
	truthOf(d, &d.Leaves[0])
	if d.Leaves[0].Swing[0].Readings[0].Gap != before {
		t.Error("the readings of the spec were changed")
	}
}

// A door read above the raw floor leaks, and touches, as one that was read above the finish; and it says what it took.
func TestFinishToComeIsCounted_Identity(t *testing.T) {
	const spec = "door: {thickness: 40 mm}\nfloor: {under_seal: tile}\nsite: {floor_finish: %s}\nleaves: [{id: A, width: 900 mm%s, gap: {reading_error: 0 mm, readings: [{at: 0 mm, gap: %s}, {at: 450 mm, gap: %s}, {at: 900 mm, gap: %s}]}}]\noptions: [{id: x, seal: brush-fine-15, set: {overlap: 0.5 mm}}]"
	m := Measure(read(t, fmt.Sprintf(spec, "{to_come: 5 mm}", ", out_of_square: 2 mm", "14 mm", "15 mm", "17 mm")), generic(t))
	laid := Measure(read(t, fmt.Sprintf(spec, "fitted", "", "9 mm", "9 mm", "10 mm")), generic(t)).Options[0]
	drawn := m.Options[0]
	if drawn.Leakage == nil || drawn.Leakage.Range != laid.Leakage.Range || !reflect.DeepEqual(drawn.Contact, laid.Contact) {
		t.Errorf("drawn %+v (missing %v), laid %+v", drawn.Leakage, drawn.Missing, laid.Leakage)
	}
	const taken = "the floor finish of 5 mm that is to come, laid as drawn: measure again when it is in"
	if !slices.Contains(drawn.Taken, taken) || slices.Contains(laid.Taken, taken) {
		t.Errorf("taken: %q, and once it is laid %q", drawn.Taken, laid.Taken)
	}
	if m.Leaves[0].Readings[2].Gap != 10*quantity.Millimetre {
		t.Errorf("measured leaf: %+v", m.Leaves[0].Readings)
	}
	for _, s := range m.Subjects {
		if s.Kind == "option" {
			compare(t, "corrected", s.Facts, map[string]want{"overlap_most": {tenths(15), "/options/0 /leaves/0/gap/readings/0 /leaves/0/out_of_square /site/floor_finish/to_come"}})
		}
	}
}

// A threshold above a finish to come is not known, however thick the finish will be.
func TestProfileWaitsForTheFinish(t *testing.T) {
	facts, _ := practiceFacts(t, "site: {floor_finish: {to_come: 5 mm}}\nthreshold: {segments: [{run: 0 mm, rise: 6 mm}]}")
	if _, known := facts["raised"]; known {
		t.Errorf("raised: %v", facts["raised"])
	}
}

func TestFloorClearance(t *testing.T) {
	const leaves = "leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 8 mm}], swing: [{angle: 90 deg, gap: 6 mm}]}}, {id: B, gap: {readings: [{at: 0 mm, gap: %s}]}}]"
	for _, c := range []struct {
		finish, gap string
		want        any
		at          string
	}{
		{"2 mm", "9 mm", tenths(40), "/leaves/0/gap/swing/0 /site/floor_finish/to_come"},
		{"2 mm", "5 mm", tenths(30), "/leaves/1/gap/readings/0 /site/floor_finish/to_come"},
		{"2 mm", "unknown", nil, ""},
		{"7 mm", "unknown", tenths(-10), "/leaves/0/gap/swing/0 /site/floor_finish/to_come"},
		{"unknown", "9 mm", nil, ""},
	} {
		facts, _ := practiceFacts(t, fmt.Sprintf("site: {floor_finish: {to_come: %s}}\n", c.finish)+fmt.Sprintf(leaves, c.gap))
		compare(t, c.finish+" "+c.gap, facts, map[string]want{"floor_clearance": {c.want, c.at}})
	}
	facts, _ := practiceFacts(t, "leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 8 mm}], swing: [{angle: 45 deg, gap: 9 mm}, {angle: 90 deg, gap: unknown}]}}]")
	compare(t, "an angle not read yet", facts, map[string]want{"floor_clearance": {nil, ""}})
}

const swinging = `
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 10 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: 12 mm}],
  swing: [{angle: 90 deg, gap: 9 mm}, {angle: 30 deg, readings: [{at: 0 mm, gap: 10 mm}, {at: 900 mm, gap: 13 mm}]}]}}]
options: [{id: x, seal: %s, set: {overlap: %s}}]
`

// By hand, set to 0.5 mm at 12 mm: the overlap at a gap g is 12.5 mm - g.
func TestContactAtEachAngle(t *testing.T) {
	c := Measure(read(t, fmt.Sprintf(swinging, "brush-fine-15", "0.5 mm")), generic(t)).Options[0].Contact[0]
	const mm, half = quantity.Millimetre, quantity.Millimetre / 2
	want := []AngleContact{
		{30 * quantity.Degree, []Touch{{At: 0, Gap: 10 * mm, Overlap: 2*mm + half}, {At: 900 * mm, Gap: 13 * mm, Overlap: -half}}, true, nil},
		{90 * quantity.Degree, []Touch{{Gap: 9 * mm, Overlap: 3*mm + half}}, false, nil},
	}
	for i := range c.Angles { // forces have a test of their own
		c.Angles[i].Force = nil
		for k := range c.Angles[i].Places {
			c.Angles[i].Places[k].Drag = doubt.Range{}
		}
	}
	if !reflect.DeepEqual(c.Angles, want) {
		t.Errorf("%+v, want %+v", c.Angles, want)
	}
	if c := Measure(read(t, fmt.Sprintf(swinging, "drop-seal-12", "0 mm")), generic(t)).Options[0].Contact; c != nil {
		t.Errorf("a drop seal finds the floor by itself: %+v", c)
	}
}

// A brush made for 0 to 3 mm over a gap that varies by 2 mm: 0.5 mm is free where it is set in the middle.
func TestTolerance(t *testing.T) {
	half := quantity.Millimetre / 2
	for option, want := range map[string]quantity.Length{
		"seal: brush-fine-15, set: {overlap: 0 mm}":         0,
		"seal: brush-fine-15, set: {overlap: 0.5 mm}":       half,
		"seal: brush-fine-15, set: {overlap: 0.75 mm}":      half / 2,
		"seal: brush-fine-15, set: {overlap: 1 mm}":         0,
		"seal: brush-fine-15, set: {overlap: 1.000001 mm}":  -1,
		"seal: brush-fine-15, set: {overlap: -0.000001 mm}": -1,
		"seal: brush-fine-15, set: unknown":                 -1,
		"seal: tufted-50, set: {overlap: 0 mm}":             -1, // its maker gives no range
		"seal: drop-seal-12":                                -1,
		"seal: drop-seal-12, set: {overlap: 0 mm}":          -1,
		"seal: none": -1,
		"fits: [{edge: bottom, order: 1, seal: drop-seal-12}, {edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 0.25 mm}}]":                    half / 2,
		"fits: [{edge: bottom, order: 1, seal: tufted-50, set: {overlap: 0 mm}}, {edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 0.25 mm}}]": -1,
	} {
		spec := strings.Replace(swinging, "seal: %s, set: {overlap: %s}", option, 1)
		got := Measure(read(t, spec), generic(t)).Options[0].Tolerance
		if (got == nil) != (want < 0) || (got != nil && *got != want) {
			t.Errorf("%s: tolerance %v, want %d (-1: none)", option, got, want)
		}
	}
}

// A drop seal finds the floor by itself, and a bare gap has no seal: neither can be set wrong. A seal that nobody knows may.
func TestNothingToSet(t *testing.T) {
	for option, want := range map[string]bool{
		"seal: drop-seal-12":                       true,
		"seal: drop-seal-12, set: {overlap: 0 mm}": true,
		"seal: none":                               true,
		"seal: brush-fine-15, set: unknown":        false,
		"seal: not-in-the-catalogue":               false,
		"fits: [{edge: bottom, order: 1, seal: drop-seal-12}, {edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 0.25 mm}}]": false,
	} {
		spec := strings.Replace(swinging, "seal: %s, set: {overlap: %s}", option, 1)
		if got := Measure(read(t, spec), generic(t)).Options[0].NothingToSet; got != want {
			t.Errorf("%s: nothing to set %v", option, got)
		}
	}
}

// The bottom of a leaf that is out of square leaks as one that was read to the leaf, whichever way round it hangs.
func TestMirroredFloorLeaksAlike_Identity(t *testing.T) {
	one := leakage(t, "900 mm, out_of_square: 1.5 mm", "[{at: 0 mm, gap: 9 mm}, {at: 300 mm, gap: 9.25 mm}, {at: 900 mm, gap: 11 mm}]", "brush-fine-15", "0 mm")
	two := leakage(t, "900 mm, out_of_square: -1.5 mm", "[{at: 0 mm, gap: 9.5 mm}, {at: 600 mm, gap: 7.75 mm}, {at: 900 mm, gap: 7.5 mm}]", "brush-fine-15", "0 mm")
	if math.Abs(one.Likely-two.Likely) > 1e-12*one.Likely {
		t.Errorf("%v and %v", one.Likely, two.Likely)
	}
}
