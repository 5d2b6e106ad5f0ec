package oracle

import "testing"

func up(rise string) part  { return part{run: value{v: mm("0")}, rise: value{v: mm(rise)}} }
func flat(run string) part { return part{run: value{v: mm(run)}, rise: value{v: mm("0")}} }
func bevel(rise, n string) part {
	return part{run: value{v: times(mm(rise), mm(n))}, rise: value{v: mm(rise)}}
}
func nosedUp(rise, n string) part { p := up(rise); p.nose = n; return p }
func drawn(work string, p ...part) door {
	return door{work: work, profile: p, drawn: true, location: "external", exposure: "exposed", powered: "none",
		operation: "hinged", serves: "public", role: "entrance", unit: "other", escape: yes, accessible: yes}
}

// down gives the same again as it falls on the inner side.
func down(ps ...part) []part {
	var out []part
	for i := len(ps) - 1; i >= 0; i-- {
		p := ps[i]
		p.rise.v = minus(mm("0"), p.rise.v)
		out = append(out, p)
	}
	return out
}

// both puts the same profile on both sides of a flat top.
func both(work string, ps ...part) door {
	all := append([]part{}, ps...)
	all = append(all, flat("40"))
	return drawn(work, append(all, down(ps...)...)...)
}

type handCase struct {
	source string // the clause that decides it
	rule   string
	door   door
	want   verdict
}

func check(t *testing.T, cases []handCase) {
	t.Helper()
	for _, c := range cases {
		if got := judgeAll(c.door)[c.rule]; got != c.want {
			t.Errorf("%s: %s is %s, want %s\n%s", c.source, c.rule, got, c.want, c.door.spec())
		}
	}
}

// Worked by hand from the clauses that they name.
func TestJudgeThresholdsAmerica_Published(t *testing.T) {
	const ada, a117, ibc, cbc = "us-ada-2010/threshold-profile", "us-a117-2017/threshold-profile", "us-ibc-2018/threshold-profile", "us-ca-cbc-2022/threshold-profile"
	slide := both("new", up("6.35"), bevel("11.65", "2"))
	slide.operation, slide.serves = "sliding", "dwelling"
	check(t, []handCase{
		{"ADA Advisory 303.3", ada, both("new", up("6.35"), bevel("6.35", "2")), pass},
		{"ADA 303.2, inch or 6.4 mm", ada, both("new", up("6.4"), bevel("6.3", "2")), unknown},
		{"ADA 303.3", ada, both("new", up("12.7")), fail},
		{"ADA 303.3, Guide: vertical below the bevel", ada, both("new", bevel("6.3", "2"), up("6.4")), fail},
		{"ADA 404.2.5, inch or 13 mm", ada, both("new", up("6"), bevel("6.9", "2")), unknown},
		{"ADA 404.2.5, inch or 13 mm", ada, both("new", up("6"), bevel("7", "2")), unknown},
		{"ADA 404.2.5", ada, both("new", up("6"), bevel("6.7", "2")), pass},
		{"ADA 404.2.5", ada, both("new", up("6"), bevel("7.1", "2")), fail},
		{"ADA 303.2", ada, both("new", up("6.35")), pass},
		{"ADA 303.2, inch or 6.4 mm", ada, both("new", up("6.4")), unknown},
		{"ADA 303.3", ada, both("new", up("6.41")), fail},
		{"ADA 303.3, stacked lips", ada, both("new", up("6"), flat("10"), up("6")), fail},
		{"ADA 303.3, stacked lips", ada, both("new", up("6"), flat("300"), up("6")), fail},
		{"ADA 404.2.5, each side", ada, drawn("new", bevel("19", "2"), up("-6")), fail},
		{"ADA 404.2.5 Exception", ada, both("existing", up("6.35"), bevel("12.65", "2")), pass},
		{"A117.1 404.2.4 Exception", a117, both("existing", up("6.35"), bevel("12.65", "2")), pass},
		{"ADA 404.2.5", ada, both("new", up("6.35"), bevel("12.65", "2")), fail},
		{"ADA 404.2.5 Exception", ada, both("existing", up("19")), fail},
		{"ADA 404.2.5 Exception", ada, both("existing", bevel("20", "2")), fail},
		{"ADA 404.2.5 Exception, one side", ada, drawn("existing", bevel("19", "2"), flat("40"), up("-19")), fail},
		{"ADA 404.2.5 Exception asks for the work", ada, both("", up("6"), bevel("13", "2")), unknown},
		{"IBC 1010.1.7", ibc, slide, pass},
		{"ADA 404.2.5, all door types", ada, slide, fail},
		{"ADA 404.2.5, whatever the slope", ada, both("new", bevel("20", "12")), fail},
		{"IBC 1010.1.7 prints no looser rounding", ibc, both("new", bevel("12.700001", "2")), fail},
		{"CBC 11B-404.2.5 prints 12.7 mm", cbc, both("new", bevel("12.700001", "2")), fail},
	})
}

func forced(location string, force string) door {
	d := door{location: location, operation: "hinged", powered: "none", fire: no, latch: yes, escape: yes, work: "new", role: "entrance", serves: "public"}
	d.forces = []reading{{from: value{v: mm("0")}, to: value{v: mm("90")}, force: value{v: mm(force)}}}
	d.starting, d.unlatching = value{v: mm(force)}, value{v: mm(force)}
	return d
}

func TestJudgeForces_Published(t *testing.T) {
	in, out := forced("internal", "22.3"), forced("external", "55")
	fire := forced("internal", "40")
	fire.fire = yes
	at := func(from, to, force string) door {
		d := forced("internal", force)
		d.forces = []reading{{from: value{v: mm("0")}, to: value{v: mm("60")}, force: value{v: mm("20")}}, {from: value{v: mm(from)}, to: value{v: mm(to)}, force: value{v: mm(force)}}}
		return d
	}
	check(t, []handCase{
		{"ADA 404.2.9(1)", "us-ada-2010/opening-force-hinged", in, fail},
		{"ADA 404.2.9(1), 5 lbf governs", "us-ada-2010/opening-force-hinged", forced("internal", "22.23"), pass},
		{"ADA 404.2.9, exterior hinged", "us-ada-2010/opening-force-hinged", out, notApplicable},
		{"ADA 404.2.9, fire doors", "us-ada-2010/opening-force-hinged", fire, notApplicable},
		{"IBC 1010.1.3", "us-ibc-2018/full-open-force", out, pass},
		{"IBC 1010.1.3", "us-ibc-2018/starting-force", out, pass},
		{"CBC 11B-404.2.9", "us-ca-cbc-2022/opening-force-exterior", out, fail},
		{"AD M 2 2.17(a), 3.10(a): 30 degrees is in both", "uk-adm2-2015/opening-force-60", at("30", "30", "29"), fail},
		{"AD M 2 3.10(a)", "uk-adm2-2015/opening-force-30", at("30", "30", "29"), pass},
		{"AD M 2 3.10(a), beyond 60 degrees", "uk-adm2-2015/opening-force-60", at("65", "65", "24"), pass},
		{"AD M 2 3.10(a)", "uk-adm2-2015/opening-force-30", at("5", "5", "31"), fail},
	})
}

func TestJudgeEngland_Published(t *testing.T) {
	const one, two = "uk-adm1-2015/threshold", "uk-adm2-2015/threshold"
	of := func(role string, d door) door { d.role, d.variant = role, "M4(2)"; return d }
	private := func(ps ...part) door { return of("private-entrance", both("new", ps...)) }
	public := func(ps ...part) door { return of("entrance", both("new", ps...)) }
	narrow := door{role: "private-entrance", variant: "M4(2)", location: "external", serves: "public", work: "new", from: "front",
		clear: value{v: mm("850")}, least: value{v: mm("810")}}
	check(t, []handCase{
		{"AD M 1 App. A", one, private(up("5"), bevel("10", "2")), pass},
		{"AD M 2 2.7(e)", two, public(up("5"), bevel("10", "2")), pass},
		{"AD M 2 2.7(e)", two, public(nosedUp("8", "rounded")), pass},
		{"AD M 1 App. A, chamfered only", one, private(nosedUp("8", "rounded")), unknown},
		{"AD M 1 App. A", one, private(bevel("16", "12")), fail},
		{"AD M 2 2.7(e)", two, public(bevel("16", "12")), fail},
		{"AD M 1 App. A", one, private(nosedUp("7", "square"), flat("20"), nosedUp("7", "square")), fail},
		{"AD M 1 App. A, minimum number", one, private(up("5"), flat("20"), up("5")), unknown},
		{"AD M 1 2.20(d), Diagram 2.2", "uk-adm1-2015/clear-width-entrance-wide", narrow, pass},
		{"AD M 2 Table 2, Diagram 9", "uk-adm2-2015/clear-width-public-entrance", narrow, fail},
		{"AD C 5.33(b), 1:4", "uk-adc-2004/sill-slope", both("new", bevel("10", "4")), pass},
		{"AD C 5.33(b), 1:3.7", "uk-adc-2004/sill-slope", both("new", bevel("10", "3.7")), fail},
	})
}
