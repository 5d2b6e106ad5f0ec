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
	// 1 psf is 47.88025898 Pa, by the definitions of the pound-force and the foot.
	if d, problems := decode(t, head+"site: {pressure: {from: -1 psf, to: 0.2 psf}}\n"); len(problems) > 0 || d.Site.Pressure.From.Value != -47880259 || d.Site.Pressure.To.Value != 9576052 {
		t.Errorf("psf: %+v, %v", d.Site.Pressure, problems)
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
		"options: [{id: x, seal: none, opening_force: [{from: 30 deg, to: 0 deg, force: 9 N}]}]":                                         "from no more than to; write the smaller",
		"options: [{id: x, seal: none, opening_force: [{from: unknown, to: 181 deg, force: 9 N}]}]":                                      "found 181 deg; allowed: up to 180 deg",
		"options: [{id: x, seal: none, opening_force: [{from: 0 deg, to: 181 deg, force: 9 N}]}]":                                        "found 181 deg; allowed: up to 180 deg",
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

// A seal makes no door lighter: where the readings with the seals cover the angles of one of the door alone, one of them reaches it, to a
// tenth or to 1 N.
func TestSealsMakeNoDoorLighter(t *testing.T) {
	const head = "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\n"
	for name, c := range map[string]struct{ own, fitted, want string }{
		"a tenth less":                {"{from: 0 deg, to: 90 deg, force: 20 N}", "{from: 0 deg, to: 90 deg, force: 18 N}", ""},
		"a femtonewton less than so":  {"{from: 0 deg, to: 90 deg, force: 20 N}", "{from: 0 deg, to: 90 deg, force: 17.999999999999999 N}", "18 N or more"},
		"a newton less of a little":   {"{from: 0 deg, to: 90 deg, force: 5 N}", "{from: 0 deg, to: 90 deg, force: 4 N}", ""},
		"and a femtonewton":           {"{from: 0 deg, to: 90 deg, force: 5 N}", "{from: 0 deg, to: 90 deg, force: 3.999999999999999 N}", "4 N or more"},
		"over more angles":            {"{from: 0 deg, to: 30 deg, force: 22 N}", "{from: 0 deg, to: 90 deg, force: 2 N}", "2 N with the seals from 0 to 90 deg, where the door alone takes 22 N (door.opening_force[0])"},
		"over fewer angles":           {"{from: 0 deg, to: 90 deg, force: 22 N}", "{from: 0 deg, to: 30 deg, force: 2 N}", ""},
		"in two parts":                {"{from: 0 deg, to: 90 deg, force: 22 N}", "{from: 30 deg, to: 100 deg, force: 3 N}, {from: 0 deg, to: 30 deg, force: 2 N}", "3 N with the seals"},
		"in two parts, one as heavy":  {"{from: 0 deg, to: 90 deg, force: 22 N}", "{from: 0 deg, to: 30 deg, force: 22 N}, {from: 30 deg, to: 90 deg, force: 2 N}", ""},
		"in two parts, one not known": {"{from: 0 deg, to: 90 deg, force: 22 N}", "{from: 0 deg, to: 30 deg, force: unknown}, {from: 30 deg, to: 90 deg, force: 2 N}", ""},
		"with a gap between":          {"{from: 0 deg, to: 90 deg, force: 22 N}", "{from: 0 deg, to: 30 deg, force: 2 N}, {from: 31 deg, to: 90 deg, force: 2 N}", ""},
		"heavy at one angle between":  {"{from: 0 deg, to: 60 deg, force: 29 N}", "{from: 0 deg, to: 30 deg, force: 2 N}, {from: 30 deg, to: 30 deg, force: 29 N}, {from: 30 deg, to: 60 deg, force: 2 N}", ""},
		"at one angle":                {"{from: 30 deg, to: 30 deg, force: 22 N}", "{from: 0 deg, to: 60 deg, force: 2 N}", "2 N with the seals"},
		"at one angle, both":          {"{from: 30 deg, to: 30 deg, force: 22 N}", "{from: 30 deg, to: 30 deg, force: 2 N}", "2 N with the seals"},
		"at one angle of a range":     {"{from: 0 deg, to: 60 deg, force: 22 N}", "{from: 30 deg, to: 30 deg, force: 2 N}", ""},
		"beside it":                   {"{from: 0 deg, to: 30 deg, force: 22 N}", "{from: 30 deg, to: 60 deg, force: 2 N}", ""},
		"the door not known":          {"{from: 0 deg, to: 90 deg, force: unknown}", "{from: 0 deg, to: 90 deg, force: 2 N}", ""},
		"at an angle not known":       {"{from: 0 deg, to: unknown, force: 22 N}", "{from: 0 deg, to: 90 deg, force: 2 N}", ""},
	} {
		_, problems := decode(t, head+"door: {opening_force: ["+c.own+"]}\noptions: [{id: x, seal: none, opening_force: ["+c.fitted+"]}]\n")
		if (len(problems) > 0) != (c.want != "") || (c.want != "" && !strings.Contains(problems[0].Error(), c.want)) {
			t.Errorf("%s: %v, want %q", name, problems, c.want)
		}
	}
}
