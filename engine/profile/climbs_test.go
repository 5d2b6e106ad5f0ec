package profile

import (
	"fmt"
	"testing"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Climbs of small profiles, by hand: rise/run/top/from_leaf of each, in millimetres.
func TestClimbs_Identity(t *testing.T) {
	mm := func(v quantity.Length) door.Maybe[quantity.Length] {
		return door.Maybe[quantity.Length]{Value: v * quantity.Millimetre, Known: true}
	}
	for _, c := range []struct {
		name         string
		runs         []quantity.Length // run and rise in turn
		leaf, thick  door.Maybe[quantity.Length]
		outer, inner string
	}{
		{"a ramp up to the leaf", []quantity.Length{280, 35, 60, 0}, mm(290), mm(40), "35/280/35/10", ""},
		{"a ramp on the inner side", []quantity.Length{60, 0, 80, -10}, mm(10), mm(40), "", "10/80/10/10"},
		{"a ramp on the inner side, of a leaf whose thickness nobody gave", []quantity.Length{60, 0, 80, -10}, mm(10), door.Maybe[quantity.Length]{}, "", "10/80/10/-"},
		{"a bevel under the leaf", []quantity.Length{80, 10}, mm(40), door.Maybe[quantity.Length]{}, "10/80/10/0", ""},
		{"a face in two parts with nothing between", []quantity.Length{0, 2, 0, 0, 0, 3}, door.Maybe[quantity.Length]{}, door.Maybe[quantity.Length]{}, "5/0/5/-", ""},
		{"two lips", []quantity.Length{0, 3, 20, 0, 0, 3}, mm(30), mm(40), "3/0/3/30 3/0/6/10", ""},
		{"a track below the floor", []quantity.Length{0, -8, 20, 0, 0, 8}, mm(0), mm(40), "8/0/8/0", "8/0/8/0"},
	} {
		var segments []door.Segment
		for i := 0; i < len(c.runs); i += 2 {
			segments = append(segments, door.Segment{Run: mm(c.runs[i]), Rise: mm(c.runs[i+1]), Pointer: fmt.Sprint("/", i/2)})
		}
		ways := Climbs(door.Threshold{Segments: segments, LeafAt: c.leaf}, c.thick)
		for i, want := range []string{c.outer, c.inner} {
			got := ""
			for _, climb := range ways[i].Climbs {
				leaf := "-"
				if climb.FromLeaf != nil {
					leaf = quantity.Length(*climb.FromLeaf).MM()
				}
				if got != "" {
					got += " "
				}
				got += fmt.Sprintf("%s/%s/%s/%s", quantity.Length(climb.Rise).MM(), quantity.Length(*climb.Run).MM(), quantity.Length(climb.Top).MM(), leaf)
			}
			if got != want {
				t.Errorf("%s, %s side: %q, want %q", c.name, ways[i].Side, got, want)
			}
		}
	}
}

// What is not known is left out, and a rise that is not known ends a climb.
func TestClimbsNotKnown_Identity(t *testing.T) {
	mm := func(v quantity.Length) door.Maybe[quantity.Length] {
		return door.Maybe[quantity.Length]{Value: v * quantity.Millimetre, Known: true}
	}
	none := door.Maybe[quantity.Length]{}
	way := Edge([]door.Segment{{Run: none, Rise: mm(3), Pointer: "/0"}, {Run: mm(0), Rise: none, Pointer: "/1"}, {Run: mm(0), Rise: mm(3), Pointer: "/2"}})
	if len(way.Climbs) != 2 || way.Climbs[0].Run != nil || way.Top != nil || len(way.Needs) != 1 {
		t.Errorf("%+v", way)
	}
	way = Edge([]door.Segment{{Run: mm(0), Rise: mm(3), Pointer: "/0"}})
	if way.Top == nil || *way.Top != int64(3*quantity.Millimetre) {
		t.Errorf("%+v", way)
	}
	far := Climbs(door.Threshold{Segments: []door.Segment{{Run: none, Rise: mm(3), Pointer: "/0"}}, LeafAt: mm(0)}, mm(40))[0]
	if far.Climbs[0].FromLeaf != nil {
		t.Errorf("a run that is not known: %+v", far.Climbs[0])
	}
}
