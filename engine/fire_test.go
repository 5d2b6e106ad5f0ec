package engine

import (
	"fmt"
	"strings"
	"testing"
)

// A step of 6 mm 20 mm into the way, then a bevel of 4 mm over 40 mm. The leaf is 40 mm thick.
const stepped = `
door: {operation: hinged, height: 2 m%s}
threshold: {segments: [{run: 20 mm, rise: 0 mm}, {run: 0 mm, rise: 6 mm}, {run: 20 mm, rise: 0 mm}, {run: 40 mm, rise: 4 mm}]%s}
`

// Geometry: what lies under the leaf differs by what the profile rises from one face of it to the other, both ends of an upright at a face
// among them; where the place of the leaf is not known, by the whole at most.
func TestUnderLeaf_Identity(t *testing.T) {
	for _, c := range []struct {
		thick, at string
		want      int64
		less      bool
	}{
		{", thickness: 40 mm", ", leaf_at: 0 mm", 6_000_000, false},
		{", thickness: 40 mm", ", leaf_at: 20 mm", 8_000_000, false}, // the upright and half the bevel
		{", thickness: 20 mm", ", leaf_at: 20 mm", 6_000_000, false},
		{", thickness: 20 mm", ", leaf_at: 50 mm", 2_000_000, false}, // within the bevel, 1:10
		{", thickness: 19 mm", ", leaf_at: 0 mm", 0, false},
		{", thickness: 19 mm", ", leaf_at: 20.000001 mm", 0, false},
		{"", ", leaf_at: 0 mm", 10_000_000, true},
		{", thickness: 40 mm", "", 10_000_000, true},
	} {
		f := Measure(read(t, fmt.Sprintf(stepped, c.thick, c.at)), generic(t)).Subjects[0].Facts["floor_under_leaf"]
		if f.Value != c.want || f.OrLess != c.less {
			t.Errorf("%s%s: %v, or less %v; want %d, %v", c.thick, c.at, f.Value, f.OrLess, c.want, c.less)
		}
	}
	for _, spec := range []string{
		"door: {operation: hinged}", "threshold: {segments: [{run: 9 mm, rise: unknown}]}", "site: {floor_finish: {to_come: 9 mm}}\nthreshold: {segments: []}",
	} {
		if f, ok := Measure(read(t, spec), generic(t)).Subjects[0].Facts["floor_under_leaf"]; ok {
			t.Errorf("%s: the floor under the leaf differs by %v", spec, f.Value)
		}
	}
	if f := Measure(read(t, "threshold: {segments: []}"), generic(t)).Subjects[0].Facts["floor_under_leaf"]; f.Value != int64(0) || f.OrLess {
		t.Errorf("a level floor differs by %v", f.Value)
	}
}

// A bottom is sealed where every leaf has a seal that reaches, is set within its range and has evidence on that leaf.
func TestThresholdSealed(t *testing.T) {
	const two = `
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}, {at: 450 mm, gap: 9 mm}, {at: 900 mm, gap: 9 mm}]}}, {id: B, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}, {at: 450 mm, gap: 9 mm}, {at: 900 mm, gap: %s mm}]}}]
door: {operation: pair}
evidence: [{seal: brush-fine-15, reference: report 7}, {seal: drop-seal-12, leaf: A, reference: report 8}, {seal: drop-seal-12, leaf: B, reference: report 8}]
options: [{id: x, %s}]
`
	for _, c := range []struct {
		gap, option string
		want        any
	}{
		{"9", "seal: brush-fine-15, set: {overlap: 1 mm}", true},
		{"9", "seal: brush-fine-15, set: {overlap: -1 mm}", false},
		{"9", "seal: brush-fine-15", nil},
		{"9", "seal: brush-fine-20, set: {overlap: 1 mm}", nil}, // no evidence
		{"9", "seal: none", false},
		{"9", "fits: [{edge: bottom, leaf: A, seal: brush-fine-15, set: {overlap: 1 mm}}]", false},
		{"9", "fits: [{edge: bottom, seal: unknown}]", nil},
		{"9", "seal: drop-seal-12", true},
		{"20", "seal: drop-seal-12", false},
	} {
		if got := optionOf(t, fmt.Sprintf(two, c.gap, c.option))["threshold_sealed"].Value; got != c.want {
			t.Errorf("gap %s, %s: sealed %v, want %v", c.gap, c.option, got, c.want)
		}
	}
	for _, option := range []string{"seal: brush-fine-15, set: {overlap: 1 mm}", "seal: drop-seal-12"} {
		partly := strings.Replace(fmt.Sprintf(two, "9", option), "{at: 0 mm, gap: 9 mm}, ", "", 1)
		if f, ok := optionOf(t, partly)["threshold_sealed"]; ok {
			t.Errorf("%s, a leaf not read from edge to edge: sealed %v", option, f.Value)
		}
	}
}
