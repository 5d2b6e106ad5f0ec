package door

import (
	"strings"
	"testing"

	"sillwright/schema/quantity"
)

func TestForcesPressureAndCloser(t *testing.T) {
	const head = "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\n"
	d, problems := decode(t, head+`site: {pressure: {from: -10 Pa, to: 0.02 kPa}}
door: {closer: true, closer_size: 3, closing_force: 4 lbf}
options: [{id: x, seal: none, opening_force: [{from: 30 deg, to: 90 deg, force: 9 N}, {from: 0 deg, to: 30 deg, force: 2 lbf}, {from: unknown, to: 90 deg, force: 1 N}]}]
`)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if p := d.Site.Pressure; p.From.Value != -10*quantity.Pascal || p.To.Value != 20*quantity.Pascal || p.Pointer != "/site/pressure" {
		t.Errorf("pressure %+v", p)
	}
	if d.Leaf.CloserSize.Value != 3 || d.Leaf.ClosingForce.Value != 4*quantity.PoundForce {
		t.Errorf("closer %+v, %+v", d.Leaf.CloserSize, d.Leaf.ClosingForce)
	}
	f := d.Options[0].OpeningForce
	if len(f.Bands) != 2 || f.Bands[0].Force.Value != 2*quantity.PoundForce || f.Bands[0].Pointer != "/options/0/opening_force/1" || len(f.Unplaced) != 1 || !f.Given() || d.Leaf.OpeningForce.Given() {
		t.Errorf("forces %+v", f)
	}
	for text, want := range map[string]string{
		"site: {pressure: {from: 20 Pa, to: -10 Pa}}":        "from no more than to",
		"site: {pressure: {from: 0 Pa, to: 5000.000001 Pa}}": "5000 Pa either way at most",
		"site: {pressure: {from: 0 Pa, to: 5 N}}":            "write the unit as Pa",
		"door: {closer: false, closer_size: 3}":              "size 3, but closer: false",
		"options: [{id: x, seal: none, opening_force: [{from: 0 deg, to: 30 deg, force: 9 N}, {from: 20 deg, to: 40 deg, force: 9 N}]}]": "which another band covers",
		"options: [{id: x, seal: none, opening_force: [{from: 30 deg, to: 0 deg, force: 9 N}]}]":                                         "from no more than to, up to 180 deg",
	} {
		_, problems := decode(t, head+text+"\n")
		if len(problems) == 0 || !strings.Contains(problems[len(problems)-1].Error(), want) {
			t.Errorf("%s: %v, want %q", text, problems, want)
		}
	}
	if _, problems := decode(t, head+"door: {closer: true, closer_size: unknown}\nsite: {pressure: {from: unknown, to: -5000 Pa}}\n"); len(problems) > 0 {
		t.Error(problems)
	}
}
