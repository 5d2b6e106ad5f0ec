package engine

import (
	"testing"

	"sillwright/schema/quantity"
)

// Sums of the profile, by hand.
func TestLevels_Identity(t *testing.T) {
	facts := Measure(read(t, "threshold: {segments: [{run: 40 mm, rise: 19 mm}, {run: 60 mm, rise: 0 mm}, {run: 0 mm, rise: -6 mm}]}"), generic(t)).Subjects[0].Facts
	for name, want := range map[string]quantity.Length{"floor_difference": 13, "top_above_outside": 19, "top_above_inside": 6} {
		if got := facts[name].Value; got != int64(want*quantity.Millimetre) {
			t.Errorf("%s is %v, want %d mm", name, got, want)
		}
	}
	for _, spec := range []string{
		"threshold: {segments: [{run: 40 mm, rise: unknown}, {run: 0 mm, rise: -6 mm}]}",
		"threshold: {segments: [{run: 40 mm, rise: 6 mm}]}\nsite: {floor_finish: {to_come: 12 mm}}",
	} {
		facts := Measure(read(t, spec), generic(t)).Subjects[0].Facts
		for _, name := range []string{"floor_difference", "top_above_outside", "top_above_inside"} {
			if f, ok := facts[name]; ok {
				t.Errorf("%s: %s is %v", spec, name, f.Value)
			}
		}
	}
}

// The frame leaves clear what the open leaf does, and maybe more.
func TestFrame_Identity(t *testing.T) {
	for spec, want := range map[string]struct {
		width  quantity.Length
		orMore bool
	}{
		"door: {clear_width: {face_to_stop: 850 mm, frame: 900 mm}}":  {900, false},
		"door: {clear_width: {face_to_stop: 850 mm, frame: 850 mm}}":  {850, false},
		"door: {clear_width: {face_to_stop: 850 mm}}":                 {850, true},
		"door: {clear_width: {face_to_stop: 850 mm, frame: unknown}}": {850, true},
		"door: {clear_width: {face_to_stop: unknown, frame: 900 mm}}": {900, false},
	} {
		f := Measure(read(t, spec), generic(t)).Subjects[0].Facts["clear_width_frame"]
		if f.Value != int64(want.width*quantity.Millimetre) || f.OrMore != want.orMore {
			t.Errorf("%s: %+v", spec, f)
		}
	}
	if f, ok := Measure(read(t, "door: {clear_width: {least: 800 mm}}"), generic(t)).Subjects[0].Facts["clear_width_frame"]; ok {
		t.Errorf("of no width to the stop: %+v", f)
	}
}

func TestUndercut_Identity(t *testing.T) {
	const leaf = "leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 22 mm}, {at: 450 mm, gap: 16 mm}, {at: 900 mm, gap: 20 mm}]}}]\n"
	facts := Measure(read(t, leaf), generic(t)).Subjects[0].Facts
	least, most := facts["undercut"], facts["bottom_gap_most"]
	if least.Value != int64(16*quantity.Millimetre) || least.OrLess || most.Value != int64(22*quantity.Millimetre) || most.OrMore {
		t.Errorf("read from edge to edge: %+v and %+v", least, most)
	}
	facts = Measure(read(t, leaf+"site: {floor_finish: {to_come: 12 mm}}"), generic(t)).Subjects[0].Facts
	if got := facts["undercut"].Value; got != int64(4*quantity.Millimetre) {
		t.Errorf("with a finish of 12 mm to come: %v", got)
	}
	facts = Measure(read(t, "leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}]}}]"), generic(t)).Subjects[0].Facts
	if !facts["undercut"].OrLess || !facts["bottom_gap_most"].OrMore {
		t.Errorf("read at one place: %+v and %+v", facts["undercut"], facts["bottom_gap_most"])
	}
	facts = Measure(read(t, leaf+"site: {floor_finish: {to_come: 17 mm}}"), generic(t)).Subjects[0].Facts
	if f, ok := facts["undercut"]; ok {
		t.Errorf("a leaf that fouls the floor: %+v", f)
	}
}
