package engine

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"sillwright/schema/fact"
)

// practiceSpec says everything that the facts of sealing practice rest on.
const practiceSpec = `
door: {operation: pair, thickness: 40 mm}
duty: {use: heavy}
floor: {swept: tile}
leaves:
  - {id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 10 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: 12 mm}], swing: [{angle: 45 deg, gap: 9 mm}, {angle: 90 deg, gap: 11 mm}]}}
  - {id: B, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 8 mm}, {at: 450 mm, gap: 8.5 mm}, {at: 900 mm, gap: 7 mm}], swing: [{angle: 90 deg, gap: 8 mm}]}}
paths:
  - {path: head, gap: 6 mm, seal: gasket-bulb-8}
  - {path: hinge, gap: 5 mm, seal: gasket-v-8}
  - {path: meeting, gap: 2 mm}
  - {path: side, gap: 5 mm, seal: brush-fine-15}
options:
  - id: x
    fits:
      - {edge: bottom, leaf: A, order: 1, seal: brush-fine-20, set: {overlap: 0.5 mm}}
      - {edge: bottom, leaf: A, order: 2, seal: tufted-50-blade-10, set: {overlap: 1 mm}}
      - {edge: bottom, leaf: B, order: 1, seal: blade-single-12, set: {overlap: 0.25 mm}}
      - {edge: bottom, leaf: B, order: 2, seal: drop-seal-12}
      - {edge: meeting, seal: gasket-bulb-8}
`

// practiceFacts gives the facts of the door and of its first option.
func practiceFacts(t *testing.T, spec string, own ...string) (door, option fact.Set) {
	t.Helper()
	c := generic(t)
	for _, src := range own {
		if problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n"+src)); len(problems) > 0 {
			t.Fatal(problems)
		}
	}
	d := read(t, spec)
	if problems := Unfit(d, c); len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, s := range Measure(d, c).Subjects {
		switch s.Kind {
		case "door":
			door = s.Facts
		case "option":
			if option == nil {
				option = s.Facts
			}
		}
	}
	return door, option
}

// want is a fact as it is expected; nil is one that is not known.
type want struct {
	value any
	at    string
}

// orMore and orLess are lengths that what was not read may still move, one way only.
type (
	orMore int64
	orLess int64
)

// told is the value of a fact, and how far it is known.
func told(f fact.Fact) any {
	n, _ := f.Value.(int64)
	switch {
	case f.OrMore:
		return orMore(n)
	case f.OrLess:
		return orLess(n)
	}
	return f.Value
}

func compare(t *testing.T, name string, got fact.Set, wants map[string]want) {
	t.Helper()
	for key, w := range wants {
		f, ok := got[key]
		switch {
		case w.value == nil && ok:
			t.Errorf("%s: %s is %v; want it not known", name, key, f.Value)
		case w.value == nil:
		case !ok || !reflect.DeepEqual(told(f), w.value):
			t.Errorf("%s: %s is %T %v, want %T %v", name, key, told(f), f.Value, w.value, w.value)
		case w.at != "" && strings.Join(f.At, " ") != w.at:
			t.Errorf("%s: %s comes from %v, want %s", name, key, f.At, w.at)
		}
	}
}

const quarter = int64(250_000) // of a millimetre, in nanometres

// tenths of a millimetre, in nanometres.
func tenths(n int64) int64 { return n * 100_000 }

// Arithmetic by hand: the overlap at a gap is that at the widest reading, plus the widest reading, less the gap.
func TestPracticeOfAPairWithTwoSeals(t *testing.T) {
	door, option := practiceFacts(t, practiceSpec)
	compare(t, "door", door, map[string]want{
		"edge_gasket":  {true, "/paths/0/seal /paths/1/seal"},
		"edges_closed": {true, ""}, // head and hinge by themselves, the meeting edge by every option
		"edge_gaskets_pressed": {[]any{
			map[string]any{"at": "/paths/0/seal", "edge": "head", "pressed": tenths(20), "least": tenths(10), "most": tenths(40)},
			map[string]any{"at": "/paths/1/seal", "edge": "hinge", "pressed": tenths(30), "least": tenths(10), "most": tenths(50)},
		}, ""},
	})
	compare(t, "option", option, map[string]want{
		"operation": {"pair", ""}, "floor_swept": {"tile", ""}, "duty_use": {"heavy", "/duty/use"},
		"bottom_brush":        {true, "/options/0/fits/0/seal /options/0/fits/1/seal"},
		"bottom_fine_brush":   {true, "/options/0/fits/0/seal"},
		"bottom_tufted_brush": {true, "/options/0/fits/1/seal"},
		"bottom_blade":        {true, "/options/0/fits/2/seal"},
		"bottom_drop_seal":    {true, "/options/0/fits/3/seal"},
		"bottom_gasket":       {false, "/options/0"},

		"brush_overlap_least": {tenths(5), "/options/0/fits/0 /leaves/0/gap/readings/2"},
		"brush_overlap_most":  {tenths(10), "/options/0/fits/1 /leaves/0/gap/readings/2"},
		// Most pressed is the tufted brush, 1 + 12 - 10; its maker gives no allowance, so there is none.
		"overlap_most": {tenths(30), "/options/0/fits/1 /leaves/0/gap/readings/0"}, "movement_allowance": {nil, ""},
		// The fine brush alone is beyond its allowance, 0.5 + 12 - 9, whatever the tufted one may be pressed.
		"swing_overlap_most": {tenths(35), "/options/0/fits/0 /leaves/0/gap/swing/0"}, "swing_allowance": {tenths(30), "/options/0/fits/0/seal"},

		"drop_gap": {tenths(85), "/options/0/fits/3 /leaves/1/gap/readings/1"}, "drop_fall": {tenths(120), "/options/0/fits/3/seal"},
		"blade_gap_variation": {tenths(15), "/leaves/1/gap/readings/1 /leaves/1/gap/readings/2"},
		"blade_overlap_least": {quarter, "/options/0/fits/2 /leaves/1/gap/readings/1"},
		"drop_gap_variation":  {tenths(15), ""},
		"several_blades":      {false, "/options/0/fits/2/seal"},
		"tufted_backed":       {true, ""},
		"shorter_brushes": {[]any{
			map[string]any{"at": "/options/0/fits/0/seal", "names": []any{"brush-fine-15"}},
			map[string]any{"at": "/options/0/fits/1/seal", "names": []any{}},
		}, ""},
		"embedded_blades": {[]any{map[string]any{"at": "/options/0/fits/1/seal", "part": tenths(250), "whole": tenths(500)}}, ""},
		"side_sealed":     {true, "/paths/3/seal"}, "side_brush": {true, "/paths/3/seal"},
		"fitted_gasket": {true, "/options/0/fits/4/seal"},
		"fitted_gaskets_pressed": {[]any{
			map[string]any{"at": "/options/0/fits/4/seal", "edge": "meeting", "pressed": tenths(60), "least": tenths(10), "most": tenths(40)},
		}, ""},
	})
}

const ownSeals = `  brush-loose-15: {title: pressed up to 6 mm, like: brush-fine-15, working: {least: 0 mm, most: 6 mm, from: made up for this test}}
  brush-stiff-13: {title: pressed up to 1 mm, like: brush-fine-15, length: {likely: 13 mm, from: made up for this test}, working: {least: 0 mm, most: 1 mm, from: made up for this test}}
  brush-long-16: {title: 16 mm, like: brush-fine-15, length: {likely: 16 mm, from: made up for this test}}
`

// Of two seals the one with the least to spare counts, not the one that is pressed most.
func TestWorstSealIsTheOneWithTheLeastToSpare(t *testing.T) {
	const spec = `
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 12 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: 10 mm}], swing: [{angle: 30 deg, gap: 12 mm}]}}]
options: [{id: x, fits: [{edge: bottom, order: 1, seal: brush-loose-15, set: {overlap: 2 mm}}, {edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 0.5 mm}}]}]
`
	_, option := practiceFacts(t, spec, ownSeals)
	compare(t, "two brushes", option, map[string]want{
		"overlap_most": {tenths(25), "/options/0/fits/1 /leaves/0/gap/readings/2"}, "movement_allowance": {tenths(30), "/options/0/fits/1/seal"},
		"swing_overlap_most": {tenths(5), "/options/0/fits/1 /leaves/0/gap/swing/0"}, "swing_allowance": {tenths(30), "/options/0/fits/1/seal"},
	})
}

// A shorter brush serves only if it is made for the overlap at the tightest place.
func TestShorterBrushMustBearTheOverlap(t *testing.T) {
	const spec = `
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 12 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: %s}]}}]
options: [{id: x, seal: brush-long-16, set: {overlap: 0 mm}}]
`
	for tightest, names := range map[string][]any{
		"11 mm":        {"brush-stiff-13", "brush-fine-15", "brush-loose-15"}, // the shortest first
		"10.999999 mm": {"brush-fine-15", "brush-loose-15"},
		"8 mm":         {"brush-loose-15"},
		"5 mm":         {},
	} {
		_, option := practiceFacts(t, fmt.Sprintf(spec, tightest), ownSeals)
		compare(t, tightest, option, map[string]want{"shorter_brushes": {[]any{map[string]any{"at": "/options/0/seal", "names": names}}, ""}})
	}
}

// What is not known is left out, and what can be told without it is kept.
func TestPracticeLeavesOutWhatIsNotKnown(t *testing.T) {
	gaps := []string{"overlap_most", "swing_overlap_most", "drop_gap", "drop_gap_variation", "blade_gap_variation", "shorter_brushes"}
	// Beyond its allowance under leaf A, and so whatever else is not known.
	dragged := want{tenths(35), "/options/0/fits/0 /leaves/0/gap/swing/0"}
	for name, c := range map[string]struct {
		old, new string
		unknown  []string
		known    map[string]want
	}{
		"finish to come": {"duty:", "site: {floor_finish: {to_come: unknown}}\nduty:", gaps, map[string]want{"drop_fall": {tenths(120), ""}, "several_blades": {false, ""},
			"brush_overlap_least": {orLess(tenths(5)), "/options/0/fits/0"}, "brush_overlap_most": {orMore(tenths(10)), "/options/0/fits/1"}, "blade_overlap_least": {orLess(quarter), ""}}},
		"a leaf read twice": {", {at: 900 mm, gap: 7 mm}", "", []string{"overlap_most", "drop_gap", "movement_allowance"}, map[string]want{
			"brush_overlap_least": {tenths(5), ""}, "blade_gap_variation": {orMore(tenths(5)), "/leaves/1/gap/readings/1 /leaves/1/gap/readings/0"}, "swing_overlap_most": dragged}},
		"a leaf read in the middle": {"readings: [{at: 0 mm, gap: 8 mm}", "readings: [{at: 400 mm, gap: 8 mm}", []string{"overlap_most", "drop_gap"}, map[string]want{
			"brush_overlap_least": {tenths(5), ""}, "blade_overlap_least": {orLess(quarter), "/options/0/fits/2 /leaves/1/gap/readings/1"}}},
		"no swing of a leaf": {", swing: [{angle: 90 deg, gap: 8 mm}]", "", nil, map[string]want{"overlap_most": {tenths(30), ""}, "swing_overlap_most": dragged}},
		"a blade not set":    {"set: {overlap: 0.25 mm}", "set: unknown", []string{"overlap_most", "blade_overlap_least"}, map[string]want{"brush_overlap_most": {tenths(10), ""}, "blade_gap_variation": {tenths(15), ""}, "swing_overlap_most": dragged}},
		"a brush not set":    {"set: {overlap: 1 mm}", "set: unknown", []string{"overlap_most"}, map[string]want{"brush_overlap_least": {orLess(tenths(5)), ""}, "brush_overlap_most": {orMore(tenths(5)), ""}}},
		"a seal not named": {"seal: drop-seal-12", "seal: unknown", []string{"bottom_gasket", "bottom_drop_seal", "drop_fall", "several_blades", "tufted_backed", "embedded_blades", "overlap_most", "drop_gap", "drop_gap_variation", "shorter_brushes"}, map[string]want{
			"bottom_brush": {true, ""}, "bottom_blade": {true, ""}, "blade_gap_variation": {orMore(tenths(15)), ""}, "brush_overlap_most": {orMore(tenths(10)), ""}, "swing_overlap_most": dragged}},
		"duty in openings": {"duty: {use: heavy}", "duty: {cycles_per_day: 40}", []string{"duty_use"}, nil},
	} {
		if strings.Count(practiceSpec, c.old) != 1 {
			t.Fatalf("%s: %q stands %d times", name, c.old, strings.Count(practiceSpec, c.old))
		}
		_, option := practiceFacts(t, strings.Replace(practiceSpec, c.old, c.new, 1))
		wants := map[string]want{}
		for _, key := range c.unknown {
			wants[key] = want{}
		}
		compare(t, name, option, wants)
		compare(t, name, option, c.known)
	}
}

// What is known to be beyond its bound stands whatever else is not read or not set, and what is not beyond it proves nothing. The
// overlaps are those of brush-fine-15, made for 3 mm; drop-seal-12 falls 12 mm.
func TestBeyondABoundWhateverElseIsUnread(t *testing.T) {
	const three = "readings: [{at: 0 mm, gap: 12 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: 10 mm}]"
	leaf := func(id, gap string) string { return "{id: " + id + ", width: 900 mm, gap: {" + gap + "}}" }
	const option, drop = "{id: x, seal: brush-fine-15, set: {overlap: %s}}", "{id: x, seal: drop-seal-12}"
	set := func(overlap string) string { return fmt.Sprintf(option, overlap) }
	nothing := want{}
	for name, c := range map[string]struct {
		leaves, option string
		wants          map[string]want
	}{
		"an angle read at two places":  {leaf("A", three+", swing: [{angle: 90 deg, readings: [{at: 0 mm, gap: 12 mm}, {at: 900 mm, gap: 5 mm}]}]"), set("0 mm"), map[string]want{"swing_overlap_most": {tenths(70), "/options/0 /leaves/0/gap/swing/0/readings/1"}, "swing_allowance": {tenths(30), "/options/0/seal"}}},
		"one that is within":           {leaf("A", three+", swing: [{angle: 90 deg, readings: [{at: 0 mm, gap: 12 mm}, {at: 900 mm, gap: 9 mm}]}]"), set("0 mm"), map[string]want{"swing_overlap_most": nothing, "swing_allowance": {tenths(30), ""}}},
		"the other leaf's angle":       {leaf("A", three+", swing: [{angle: 90 deg, gap: 8 mm}]") + ", " + leaf("B", three), set("0 mm"), map[string]want{"swing_overlap_most": {tenths(40), "/options/0 /leaves/0/gap/swing/0"}}},
		"another angle, not corrected": {"{id: A, width: 900 mm, out_of_square: 1 mm, gap: {" + three + ", swing: [{angle: 45 deg, gap: 9 mm}, {angle: 90 deg, readings: [{at: 0 mm, gap: 6 mm}]}]}}", set("0 mm"), map[string]want{"swing_overlap_most": {tenths(60), "/options/0 /leaves/0/gap/swing/1/readings/0 /leaves/0/out_of_square"}}},
		"closed, read at two places":   {leaf("A", "readings: [{at: 0 mm, gap: 12 mm}, {at: 900 mm, gap: 8 mm}]"), set("0 mm"), map[string]want{"overlap_most": {tenths(40), "/options/0 /leaves/0/gap/readings/1"}, "movement_allowance": {tenths(30), "/options/0/seal"}}},
		"closed, at its allowance":     {leaf("A", "readings: [{at: 0 mm, gap: 12 mm}, {at: 900 mm, gap: 9 mm}]"), set("0 mm"), map[string]want{"overlap_most": nothing, "movement_allowance": {tenths(30), ""}}},
		"set beyond it, read nowhere":  {"{id: A}", set("4 mm"), map[string]want{"overlap_most": {tenths(40), "/options/0"}, "brush_overlap_most": {orMore(tenths(40)), "/options/0"}}},
		"daylight, read once":          {leaf("A", "readings: [{at: 0 mm, gap: 12 mm}]"), set("-1 mm"), map[string]want{"brush_overlap_least": {orLess(-tenths(10)), "/options/0 /leaves/0/gap/readings/0"}, "overlap_most": nothing}},
		"a drop seal, read once":       {leaf("A", "readings: [{at: 0 mm, gap: 12.5 mm}]"), drop, map[string]want{"drop_gap": {tenths(125), "/options/0 /leaves/0/gap/readings/0"}, "drop_fall": {tenths(120), "/options/0/seal"}}},
		"a drop seal that reaches":     {leaf("A", "readings: [{at: 0 mm, gap: 12 mm}]"), drop, map[string]want{"drop_gap": nothing, "drop_fall": {tenths(120), ""}, "drop_gap_variation": {orMore(0), ""}}},
		"another leaf read nowhere":    {leaf("A", "readings: [{at: 0 mm, gap: 12 mm}, {at: 900 mm, gap: 7 mm}]") + ", {id: B}", drop, map[string]want{"drop_gap_variation": {orMore(tenths(50)), "/leaves/0/gap/readings/0 /leaves/0/gap/readings/1"}}},
	} {
		_, option := practiceFacts(t, "leaves: ["+c.leaves+"]\noptions: ["+c.option+"]")
		compare(t, name, option, c.wants)
	}
}

// Rows are counted leaf by leaf; without leaves, on the door.
func TestRowsOfBlades(t *testing.T) {
	const leaves = "leaves: [{id: A}, {id: B}]\n"
	for spec, several := range map[string]bool{
		"options: [{id: x, seal: blade-single-12}]": false,
		"options: [{id: x, seal: blade-double-12}]": true,
		leaves + "options: [{id: x, fits: [{edge: bottom, seal: blade-single-12}, {edge: bottom, order: 2, seal: blade-single-12}]}]":         true,
		leaves + "options: [{id: x, fits: [{edge: bottom, leaf: A, seal: blade-triple-12}]}]":                                                 true,
		leaves + "options: [{id: x, fits: [{edge: bottom, seal: blade-single-12}, {edge: bottom, leaf: B, order: 2, seal: none}]}]":           false,
		leaves + "options: [{id: x, fits: [{edge: bottom, leaf: A, seal: blade-double-12}, {edge: bottom, leaf: B, seal: blade-single-12}]}]": false,
	} {
		_, option := practiceFacts(t, spec)
		compare(t, spec, option, map[string]want{"several_blades": {several, ""}})
	}
}

// An edge that some option seals, or of which not enough is said, is neither open nor closed.
func TestEdgesClosed(t *testing.T) {
	const hinged = "door: {operation: hinged}\npaths: [{path: hinge, gap: 5 mm, seal: gasket-bulb-8}, {path: latch, gap: 5 mm, seal: gasket-bulb-8}, {path: head, %s}]\n%s"
	fitted := "options: [{id: x, fits: [{edge: head, seal: gasket-bulb-8}]}]"
	for name, c := range map[string]struct {
		head, more string
		closed     any
	}{
		"sealed":             {"gap: 5 mm, seal: gasket-bulb-8", "", true},
		"shut":               {"gap: 0 mm", "", true},
		"no hole":            {"area: 0 cm2", "", true},
		"open":               {"gap: 5 mm", "", false},
		"a hole":             {"area: 2 cm2", "", false},
		"the bare gap":       {"gap: 5 mm, seal: none", "", false},
		"seal not known":     {"gap: 5 mm, seal: unknown", "", nil},
		"nothing said":       {"length: 900 mm", "", nil},
		"fitted":             {"gap: 5 mm", fitted, true},
		"fitted by one only": {"gap: 5 mm", strings.Replace(fitted, "[{id: x", "[{id: y, seal: none}, {id: x", 1), nil},
		"fitted none":        {"gap: 5 mm", strings.Replace(fitted, "gasket-bulb-8", "none", 1), false},
	} {
		door, _ := practiceFacts(t, fmt.Sprintf(hinged, c.head, c.more))
		compare(t, name, door, map[string]want{"edges_closed": {c.closed, ""}})
	}
}
