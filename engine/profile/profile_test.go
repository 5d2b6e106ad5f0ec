package profile

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const mm = quantity.Millimetre

// threshold builds a profile from pairs of run and rise in millimetres.
func threshold(pairs ...quantity.Length) door.Threshold {
	t := door.Threshold{Given: true}
	for i := 0; i < len(pairs); i += 2 {
		t.Segments = append(t.Segments, door.Segment{
			Run:     door.Maybe[quantity.Length]{Value: pairs[i] * mm, Known: true},
			Rise:    door.Maybe[quantity.Length]{Value: pairs[i+1] * mm, Known: true},
			Pointer: "/" + strconv.Itoa(i/2),
		})
	}
	return t
}

// The expected values are plain sums of the segments, by hand.
func TestSides_Identity(t *testing.T) {
	// Outside 19 mm below the top, inside 6 mm below it.
	sides := Sides(threshold(38, 19, 60, 0, 0, -6))
	if *sides[0].Height != int64(19*mm) || *sides[1].Height != int64(6*mm) {
		t.Errorf("heights %d and %d", *sides[0].Height, *sides[1].Height)
	}
	if want := []Rising{{At: "/2", Rise: int64(6 * mm), Run: new(int64), AboveFloor: int64(6 * mm), AboveLow: int64(6 * mm)}}; !reflect.DeepEqual(sides[1].Rising, want) {
		t.Errorf("inner: %+v", sides[1].Rising)
	}
	// A channel 10 mm deep: its far wall rises 12 mm although its top is 2 mm up.
	channel := Sides(threshold(0, -10, 30, 0, 0, 12, 50, 0))[0].Rising
	if len(channel) != 1 || channel[0].AboveFloor != int64(2*mm) || channel[0].AboveLow != int64(12*mm) {
		t.Errorf("channel: %+v", channel)
	}
	// A dip starts no new allowance from the floor; a level part does not end a climb.
	dip := Sides(threshold(0, 6, 20, 0, 0, -3, 10, 0, 0, 6))[0].Rising
	if dip[1].AboveFloor != int64(9*mm) || dip[1].AboveLow != int64(6*mm) {
		t.Errorf("dip: %+v", dip)
	}
	lips := Sides(threshold(0, 6, 300, 0, 0, 6))[0].Rising
	if lips[1].AboveFloor != int64(12*mm) || lips[1].AboveLow != int64(12*mm) {
		t.Errorf("two lips: %+v", lips)
	}
}

func TestSides_MirrorIdentity(t *testing.T) {
	forward := Sides(threshold(0, 6, 14, 6, 60, 0, 18, -12))
	mirrored := Sides(threshold(18, 12, 60, 0, 14, -6, 0, -6))
	for i, name := range []string{"outer", "inner"} {
		a, b := forward[i], mirrored[1-i]
		if a.Side != name || *a.Height != *b.Height || len(a.Rising) != len(b.Rising) {
			t.Errorf("%s: %+v against %+v", name, a, b)
		}
		for j := range a.Rising {
			if a.Rising[j].AboveFloor != b.Rising[j].AboveFloor || *a.Rising[j].Run != *b.Rising[j].Run {
				t.Errorf("%s segment %d: %+v against %+v", name, j, a.Rising[j], b.Rising[j])
			}
		}
	}
}

func TestSidesLevelAndUnknown(t *testing.T) {
	for _, s := range Sides(door.Threshold{Given: true}) {
		if s.Height == nil || *s.Height != 0 || len(s.Rising) != 0 {
			t.Errorf("a level floor: %+v", s)
		}
	}
	partly := threshold(0, 6, 14, 6, 60, 0)
	partly.Segments[1].Rise.Known = false
	sides := Sides(partly)
	if sides[0].Height != nil || len(sides[0].Rising) != 1 || !reflect.DeepEqual(sides[0].Needs, []string{"/1"}) {
		t.Errorf("an unknown rise: %+v", sides[0])
	}
}

// Behind the outer face of the leaf nothing leads up to it; where nobody says where that is, nothing is known to be behind it.
func TestPastLeaf_Identity(t *testing.T) {
	segments := func(runs ...int64) []door.Segment {
		var out []door.Segment
		for i, run := range runs {
			s := door.Segment{Pointer: fmt.Sprint("/", i)}
			s.Rise = door.Maybe[quantity.Length]{Value: 5, Known: true}
			s.Run = door.Maybe[quantity.Length]{Value: quantity.Length(run), Known: run >= 0}
			out = append(out, s)
		}
		return out
	}
	at := func(l quantity.Length) door.Maybe[quantity.Length] {
		return door.Maybe[quantity.Length]{Value: l, Known: true}
	}
	none := []bool{false, false, false}
	for name, c := range map[string]struct {
		runs []int64
		leaf door.Maybe[quantity.Length]
		want []bool
		open []bool // may be behind it
	}{
		"between the second and the third": {[]int64{10, 20, 30}, at(30), []bool{false, false, true}, none},
		"within the second":                {[]int64{10, 20, 30}, at(29), []bool{false, false, true}, none},
		"in front of all":                  {[]int64{10, 20, 30}, at(0), []bool{true, true, true}, none},
		"not said":                         {[]int64{10, 20, 30}, door.Maybe[quantity.Length]{}, []bool{false, false, false}, none},
		"beyond a run not known":           {[]int64{10, -1, 30}, at(10), []bool{false, true, true}, none},
		"perhaps beyond a run not known":   {[]int64{10, -1, 30, 30}, at(40), []bool{false, false, false, true}, []bool{false, false, true, false}},
	} {
		var got, open []bool
		for _, r := range Sides(door.Threshold{Segments: segments(c.runs...), LeafAt: c.leaf})[0].Rising {
			got, open = append(got, r.PastLeaf), append(open, r.Unplaced)
		}
		if !slices.Equal(got, c.want) || !slices.Equal(open, c.open) {
			t.Errorf("%s: %v, perhaps %v; want %v, %v", name, got, open, c.want, c.open)
		}
	}
}

// An upright face that is written in two parts is one; a level part, a slope or a fall ends it.
func TestUpstands_Identity(t *testing.T) {
	heights := func(pairs ...quantity.Length) []int64 {
		var out []int64
		for _, u := range Sides(threshold(pairs...))[0].Upstands {
			out = append(out, u.Height/int64(mm))
		}
		return out
	}
	for _, c := range []struct {
		profile []quantity.Length
		want    []int64
	}{
		{[]quantity.Length{0, 5, 0, 5}, []int64{10}}, {[]quantity.Length{0, 5, 0, 0, 0, 5}, []int64{10}}, {[]quantity.Length{0, 5, 10, 0, 0, 5}, []int64{5, 5}},
		{[]quantity.Length{0, 5, 10, 4, 0, 5}, []int64{5, 5}}, {[]quantity.Length{0, 5, 0, -2, 0, 5}, []int64{5, 5}}, {[]quantity.Length{20, 5}, nil},
	} {
		if got := heights(c.profile...); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v: upstands of %v mm, want %v", c.profile, got, c.want)
		}
	}
	nosed := threshold(0, 5, 0, 5)
	nosed.Segments[1].Nose = door.Maybe[string]{Value: "rounded", Known: true}
	if got := Sides(nosed)[0].Upstands; got[0].Nose != "rounded" || !reflect.DeepEqual(got[0].At, []string{"/0", "/1"}) {
		t.Errorf("nose of a face in two parts: %+v", got)
	}
	if got := Sides(nosed)[1].Upstands; len(got) != 0 {
		t.Errorf("seen from inside it goes down: %+v", got)
	}
}

// A fall within a dip starts no new climb; one from the floor or from above it starts a new dip.
func TestDips_Identity(t *testing.T) {
	low := func(pairs ...quantity.Length) []int64 {
		var out []int64
		for _, r := range Sides(threshold(pairs...))[0].Rising {
			out = append(out, r.AboveLow/int64(mm))
		}
		return out
	}
	for _, c := range []struct {
		profile []quantity.Length
		want    []int64
	}{
		{[]quantity.Length{0, -30, 0, 6, 10, 0, 0, -1, 10, 0, 0, 6}, []int64{6, 11}}, // from -30 to -24, down to -25, up to -19
		{[]quantity.Length{0, -10, 0, 12, 0, -1, 0, 5}, []int64{12, 5}},              // out of the dip to 2, down to 1
		{[]quantity.Length{0, -10, 0, 10, 0, -4, 0, 5}, []int64{10, 5}},              // up to the floor: another dip
		{[]quantity.Length{0, -5, 10, -5, 0, 4}, []int64{4}},                         // one dip in two falls
	} {
		if got := low(c.profile...); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v: %v mm above the lowest point, want %v", c.profile, got, c.want)
		}
	}
	partly := threshold(0, 20, 14, 6, 60, 0)
	partly.Segments[1].Rise.Known = false
	if sides := Sides(partly); sides[0].Least != int64(20*mm) || sides[1].Least != 0 {
		t.Errorf("at least %d and %d", sides[0].Least, sides[1].Least)
	}
}

// Beyond a rise that is not known a part is told by what it climbs by itself.
func TestBeyondAnUnknownRise_Identity(t *testing.T) {
	p := threshold(50, 4, 20, 0, 0, 9, 10, 3, 0, -5, 0, 2)
	p.Segments[0].Rise.Known = false
	s := Sides(p)[0]
	if s.Height != nil || s.Least != 0 || len(s.Upstands) != 2 || s.Upstands[0].Height != int64(9*mm) {
		t.Errorf("%+v", s)
	}
	for i, want := range []quantity.Length{9, 12, 2} {
		if r := s.Rising[i]; r.AboveLow != int64(want*mm) || r.AboveFloor != r.AboveLow {
			t.Errorf("%s: %+v, want %d mm", r.At, r, want)
		}
	}
}

// What lies between two rises is summed along the path: the level, what falls, and no more of it than is known.
func TestApart_Identity(t *testing.T) {
	told := func(threshold door.Threshold, side int) string {
		out := ""
		for _, r := range Sides(threshold)[side].Rising {
			switch {
			case !r.Parted:
				out += " on"
			case r.Apart == nil:
				out += " apart"
			default:
				out += " " + strconv.FormatInt(*r.Apart/int64(mm), 10)
			}
		}
		return out
	}
	for _, c := range []struct {
		profile []quantity.Length
		outer   string
		inner   string
	}{
		{[]quantity.Length{0, 15, 300, 0, 0, 15}, " on 300", ""},
		{[]quantity.Length{0, 5, 20, 10, 0, 0, 0, 5}, " on on on", ""},
		{[]quantity.Length{0, 15, 10, -5, 40, 0, 0, 5, 60, 0, 0, -15}, " on 50", " on 100"},
		{[]quantity.Length{300, 0, 0, 15}, " on", ""},
		{[]quantity.Length{0, 15, 0, -5, 0, 5}, " on 0", " on"},
	} {
		if outer, inner := told(threshold(c.profile...), 0), told(threshold(c.profile...), 1); outer != c.outer || inner != c.inner {
			t.Errorf("%v: %q and %q, want %q and %q", c.profile, outer, inner, c.outer, c.inner)
		}
	}
	for _, unknown := range []func(*door.Segment){func(s *door.Segment) { s.Run.Known = false }, func(s *door.Segment) { s.Rise.Known = false }} {
		p := threshold(0, 15, 300, 0, 0, 15)
		unknown(&p.Segments[1])
		if got := told(p, 0); got != " on apart" {
			t.Errorf("%q", got)
		}
	}
}
