package engine

import (
	"fmt"
	"testing"

	"sillwright/schema/fact"
)

// transferOf gives the facts of the door, or of an option of it.
func transferOf(t *testing.T, spec, subject string) fact.Set {
	t.Helper()
	for _, s := range Measure(read(t, spec), generic(t)).Subjects {
		if s.ID == subject {
			return s.Facts
		}
	}
	t.Fatalf("no subject %s", subject)
	return nil
}

const undercutLeaf = "{id: A, width: 760 mm, gap: {readings: [{at: %s, gap: %s}, {at: 380 mm, gap: %s}, {at: %s, gap: %s}]}}"

func undercutSpec(from, a, b, to, c, more string) string {
	return fmt.Sprintf("leaves: ["+undercutLeaf+"]\n%s", from, a, b, to, c, more)
}

// By hand, in square millimetres: two trapezoids of 380 mm, and the gap of the outermost readings beyond them.
func TestFreeArea_Identity(t *testing.T) {
	const mm2 = int64(1e12)
	even := undercutSpec("0 mm", "10 mm", "10 mm", "760 mm", "10 mm", "")
	for name, c := range map[string]struct {
		spec string
		want int64
		more bool
	}{
		"10 mm under 760 mm":                {even + "door: {transfer_area: 0 cm2}", 7600 * mm2, false},
		"with a grille":                     {even + "door: {transfer_area: 50 cm2}", 12600 * mm2, false},
		"with a grille that nobody asked":   {even, 7600 * mm2, true},
		"a slope":                           {undercutSpec("0 mm", "8 mm", "10 mm", "760 mm", "12 mm", "door: {transfer_area: 0 cm2}"), 7600 * mm2, false},
		"a hump":                            {undercutSpec("0 mm", "12 mm", "4 mm", "760 mm", "12 mm", "door: {transfer_area: 0 cm2}"), 6080 * mm2, false},
		"constant beyond the outer reading": {undercutSpec("60 mm", "12 mm", "10 mm", "700 mm", "8 mm", "door: {transfer_area: 0 cm2}"), (60*12 + 320*11 + 320*9 + 60*8) * mm2, false},
		"half a square nanometre rounded down": {
			undercutSpec("0 mm", "0 mm", "0 mm", "759.999999 mm", "0.000001 mm", "door: {transfer_area: 0 cm2}"), 190_000_000, false,
		},
		"a finish to come of 12 mm": {undercutSpec("0 mm", "22 mm", "22 mm", "760 mm", "22 mm", "site: {floor_finish: {to_come: 12 mm}}\ndoor: {transfer_area: 0 cm2}"), 7600 * mm2, false},
		"a second leaf without a grille": {
			fmt.Sprintf("leaves: ["+undercutLeaf+", {id: B, width: 400 mm, gap: {readings: [{at: 0 mm, gap: 10 mm}, {at: 200 mm, gap: 10 mm}, {at: 400 mm, gap: 10 mm}]}}]\ndoor: {transfer_area: 0 cm2}", "0 mm", "10 mm", "10 mm", "760 mm", "10 mm"),
			11600 * mm2, false,
		},
	} {
		f, ok := transferOf(t, c.spec, "door")["free_area"]
		if !ok || f.Value != c.want || f.OrMore != c.more {
			t.Errorf("%s: %+v, want %d, more %v", name, f, c.want, c.more)
		}
	}
	for name, spec := range map[string]string{
		"no leaf":                 "door: {transfer_area: 0 cm2}",
		"read at two places":      "leaves: [{id: A, width: 760 mm, gap: {readings: [{at: 0 mm, gap: 10 mm}, {at: 760 mm, gap: 10 mm}]}}]",
		"no width":                "leaves: [{id: A, gap: {readings: [{at: 0 mm, gap: 10 mm}, {at: 380 mm, gap: 10 mm}, {at: 760 mm, gap: 10 mm}]}}]",
		"a finish nobody drew":    undercutSpec("0 mm", "22 mm", "22 mm", "760 mm", "22 mm", "site: {floor_finish: {to_come: unknown}}"),
		"a leaf that fouls it":    undercutSpec("0 mm", "9 mm", "9 mm", "760 mm", "9 mm", "site: {floor_finish: {to_come: 12 mm}}"),
		"half of the leaf so far": undercutSpec("0 mm", "9 mm", "9 mm", "400 mm", "9 mm", ""),
	} {
		if f, ok := transferOf(t, spec, "door")["free_area"]; ok {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// Above the floor as it is: a finish to come takes nothing yet, whether or not anybody knows how thick it will be.
func TestUndercutNow_Identity(t *testing.T) {
	for spec, want := range map[string]int64{
		"site: {floor_finish: fitted}":              15_000_000,
		"site: {floor_finish: {to_come: 12 mm}}":    15_000_000,
		"site: {floor_finish: {to_come: unknown}}":  15_000_000,
		"site: {floor_finish: {to_come: 20 mm}}\n#": 15_000_000,
	} {
		facts := transferOf(t, undercutSpec("0 mm", "15 mm", "16 mm", "760 mm", "17 mm", spec), "door")
		if f := facts["undercut_now"]; f.Value != want || f.OrLess {
			t.Errorf("%s: %+v, want %d", spec, f, want)
		}
	}
	if f := transferOf(t, "leaves: [{id: A, width: 760 mm, gap: {readings: [{at: 0 mm, gap: 15 mm}]}}]", "door")["undercut_now"]; f.Value != int64(15_000_000) || !f.OrLess {
		t.Errorf("read at one place: %+v", f)
	}
}

// What closes the gap leaves the grille; a bare gap leaves all; what may leave daylight leaves the grille or more.
func TestFreeAreaLeft_Identity(t *testing.T) {
	const mm2 = int64(1e12)
	for name, c := range map[string]struct {
		option, door string
		want         int64
		more, none   bool
	}{
		"a drop seal":                  {"{id: x, seal: drop-seal-12}", "0 cm2", 0, false, false},
		"a drop seal beside a grille":  {"{id: x, seal: drop-seal-12}", "80 cm2", 8000 * mm2, false, false},
		"a grille that nobody asked":   {"{id: x, seal: drop-seal-12}", "unknown", 0, true, false},
		"a brush that just touches":    {"{id: x, seal: brush-fine-15, set: {overlap: 0 mm}}", "0 cm2", 0, false, false},
		"a brush that leaves daylight": {"{id: x, seal: brush-fine-15, set: {overlap: -3 mm}}", "0 cm2", 0, true, false},
		"a brush that is not set":      {"{id: x, seal: brush-fine-15}", "0 cm2", 0, true, false},
		"a bare gap":                   {"{id: x, seal: none}", "0 cm2", 7600 * mm2, false, false},
		"a seal at another edge":       {"{id: x, fits: [{edge: head, seal: gasket-bulb-8}]}", "0 cm2", 7600 * mm2, false, false},
		"a seal that is not chosen":    {"{id: x, fits: [{edge: bottom, seal: unknown}]}", "0 cm2", 0, false, true},
	} {
		spec := undercutSpec("0 mm", "10 mm", "10 mm", "760 mm", "10 mm", "door: {transfer_area: "+c.door+"}\noptions: ["+c.option+"]")
		f, ok := transferOf(t, spec, "option:x")["free_area_left"]
		if ok == c.none || (ok && (f.Value != c.want || f.OrMore != c.more)) {
			t.Errorf("%s: %+v, want %d, more %v, none %v", name, f, c.want, c.more, c.none)
		}
	}
	if f, ok := transferOf(t, "leaves: [{id: A}]\noptions: [{id: x, seal: none}]", "option:x")["free_area_left"]; ok {
		t.Errorf("a bare gap that nobody read: %+v", f)
	}
}

// Where people come from decides the approach, one side that is not straight on at once.
func TestApproached_Identity(t *testing.T) {
	for name, c := range map[string]struct {
		approach string
		straight any
		route    any
	}{
		"both sides straight on":          {"{outside: {from: front}, inside: {from: front}}", true, nil},
		"one side not known":              {"{outside: {from: front}}", nil, nil},
		"one side along the wall":         {"{outside: {from: hinge, route_width: 1200 mm}}", false, nil},
		"both known, one along the wall":  {"{outside: {from: hinge, route_width: 1200 mm}, inside: {from: front}}", false, int64(1_200_000_000)},
		"both along the wall":             {"{outside: {from: hinge, route_width: 1500 mm}, inside: {from: latch, route_width: 1200 mm}}", false, int64(1_200_000_000)},
		"along a wall that nobody looked": {"{outside: {from: hinge}, inside: {from: latch, route_width: 1200 mm}}", false, nil},
	} {
		facts := transferOf(t, "approach: "+c.approach, "door")
		if facts["straight_on"].Value != c.straight || facts["route_width"].Value != c.route {
			t.Errorf("%s: %+v, %+v", name, facts["straight_on"], facts["route_width"])
		}
	}
}
