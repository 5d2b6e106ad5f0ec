package engine

import (
	"testing"

	"sillwright/schema/fact"
)

// edgeOf gives the distances of the leading edge, in nm, that a timing of a door is told with; least above most: none.
func edgeOf(t *testing.T, leaves, timing string) (int64, int64) {
	t.Helper()
	facts := fact.Set{}
	putClosing(facts, read(t, "door: {closing_times: ["+timing+"]}\n"+leaves))
	f, ok := facts["closing_to_edge"]
	if !ok {
		return 1, 0
	}
	item := f.Value.([]any)[0].(map[string]any)
	return item["least"].(int64), item["most"].(int64)
}

const leaf900 = "leaves: [{id: A, width: 900 mm, gap: {readings: []}}]"

// By geometry: the edge of a leaf of 900 mm at 30 degrees is 450 mm from its closed place square to it, 2 x 900 sin 15 = 465.87 mm straight
// and 900 pi / 6 = 471.24 mm along the arc.
func TestLeadingEdge_Identity(t *testing.T) {
	least, most := edgeOf(t, leaf900, "{from: 70 deg, to: 30 deg, time: 3 s}")
	if least > 450_000_000 || least < 449_999_990 || most < 471_238_899 || most > 471_238_910 {
		t.Errorf("%d to %d nm", least, most)
	}
	// Beyond a right angle it comes no nearer square to the closed door than its width.
	if least, _ := edgeOf(t, leaf900, "{from: 120 deg, to: 100 deg, time: 3 s}"); least < 899_999_990 || least > 900_000_000 {
		t.Errorf("at 100 deg %d nm", least)
	}
	for timing, want := range map[string]int64{
		"{from: 70 deg, to_edge: 75 mm, time: 3 s}":             75_000_000,
		"{from: 70 deg, to: 30 deg, to_edge: 75 mm, time: 3 s}": 75_000_000,
		"{from: 70 deg, to: 0 deg, time: 3 s}":                  0,
	} {
		if least, most := edgeOf(t, "", timing); least != want || most != want {
			t.Errorf("%s: %d to %d nm, want %d", timing, least, most, want)
		}
	}
}

// A pair has two edges, and it was not said which was timed.
func TestLeadingEdge_OfAPair(t *testing.T) {
	pair := "leaves: [{id: A, width: 900 mm, gap: {readings: []}}, {id: B, width: 300 mm, gap: {readings: []}}]"
	least, most := edgeOf(t, pair, "{from: 70 deg, to: 30 deg, time: 3 s}")
	if least > 150_000_000 || least < 149_999_990 || most < 471_238_899 {
		t.Errorf("%d to %d nm", least, most)
	}
}

// An angle says nothing of the edge of a leaf whose width is not known.
func TestLeadingEdge_NotKnown(t *testing.T) {
	for _, leaves := range []string{"", "leaves: [{id: A, gap: {readings: []}}]"} {
		if least, most := edgeOf(t, leaves, "{from: 70 deg, to: 30 deg, time: 3 s}"); least <= most {
			t.Errorf("%q: %d to %d nm", leaves, least, most)
		}
	}
}
