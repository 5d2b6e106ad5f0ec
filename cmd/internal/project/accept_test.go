package project

import (
	"slices"
	"strings"
	"testing"

	"sillwright/policies"
)

const rule = "uk-adm1-2015/threshold"

func failing(found ...string) policies.Finding {
	f := policies.Finding{Rule: rule, Level: policies.Must, Outcome: policies.Fail, Subject: "door"}
	for _, one := range found {
		f.Points = append(f.Points, policies.Point{Found: one})
	}
	if len(f.Points) > 0 {
		f.Point = f.Points[0]
	}
	return f
}

// deviation is a project of one.
func deviation(t *testing.T, more, day string) *Project {
	t.Helper()
	return read(t, head+"accepted: [{rule: "+rule+", reason: it stays, approved_by: the authority, "+more+"}]\n", day)
}

// A deviation holds on its last day, and not on the day after, across months, years and the end of February.
func TestLastDay(t *testing.T) {
	for _, c := range []struct {
		expires, day string
		holds        bool
	}{
		{"2027-06-30", "2027-06-29", true}, {"2027-06-30", "2027-06-30", true}, {"2027-06-30", "2027-07-01", false},
		{"2026-12-31", "2026-12-31", true}, {"2026-12-31", "2027-01-01", false}, {"2028-02-29", "2028-02-29", true}, {"2028-02-29", "2028-03-01", false},
	} {
		f := failing("16 mm")
		met := deviation(t, "mark: D, expires: "+c.expires, c.day).Accept("D", &f)
		if len(met) != 1 || met[0].Covers != c.holds || (f.Accepted != nil) != c.holds {
			t.Errorf("until %s, on %s: %v", c.expires, c.day, met)
		}
		if want := "The acceptance by the authority ended on " + c.expires; !c.holds && f.NotAccepted != want {
			t.Errorf("%q", f.NotAccepted)
		}
	}
}

// Marks are compared whole; patterns are those of path.Match, whose documentation says what they match.
func TestWhom(t *testing.T) {
	for _, c := range []struct {
		who, mark string
		met       bool
	}{
		{"mark: E-01", "E-01", true}, {"mark: E-01", "E-011", false}, {"mark: E-01", "e-01", false}, {"mark: E-*", "E-01", false}, {"mark: E-*", "E-*", true},
		{"pattern: E-*", "E-01", true}, {"pattern: E-*", "E-1/2", false}, {"pattern: E-*", "FE-01", false}, {"pattern: 'E-0?'", "E-01", true}, {"pattern: 'E-0?'", "E-0", false},
		{`pattern: "E-0[1-3]"`, "E-03", true}, {`pattern: "E-0[1-3]"`, "E-04", false}, {`pattern: 'E-\*'`, "E-*", true}, {`pattern: 'E-\*'`, "E-1", false},
	} {
		f := failing("16 mm")
		if met := deviation(t, c.who, "2026-11-26").Accept(c.mark, &f); (len(met) == 1) != c.met || (f.Accepted != nil) != c.met {
			t.Errorf("%s, %s: %v", c.who, c.mark, met)
		}
	}
}

// What was accepted is what every failing point shows, and nothing else; the writing of blanks does not matter.
func TestFound(t *testing.T) {
	for _, c := range []struct {
		accepted string
		found    []string
		others   string // empty: covered
	}{
		{"16 mm", []string{"16 mm"}, ""}, {"16  mm", []string{"16 mm"}, ""}, {"16 mm", []string{"16 mm", "16 mm"}, ""},
		{"16 mm", []string{"18 mm"}, "18 mm"}, {"16 mm", []string{"16 mm", "18 mm", "20 mm"}, "18 mm, 20 mm"}, {"16 mm", []string{"16 mm", ""}, "nothing"},
		{"[16 mm, 18 mm]", []string{"18 mm", "16 mm"}, ""}, {"[16 mm, 18 mm]", []string{"17 mm"}, "17 mm"}, {"16 mm", nil, "nothing"},
	} {
		p := deviation(t, "mark: D, found: "+c.accepted, "2026-11-26")
		f := failing(c.found...)
		met := p.Accept("D", &f)
		if len(met) != 1 || strings.Join(met[0].Found, ", ") != c.others || (f.Accepted != nil) != (c.others == "") || met[0].Covers != (c.others == "") {
			t.Errorf("%+v: %v", c, met)
		}
		if c.others != "" && f.NotAccepted != "The acceptance by the authority is of "+strings.Join(p.Deviations[0].Found, " or ")+", and of nothing else" {
			t.Errorf("%q", f.NotAccepted)
		}
	}
}

// A failure that is accepted is no unknown that is, nor the reverse; what passes or does not apply, another rule and a caution need
// nobody to accept them.
func TestOutcome(t *testing.T) {
	for _, c := range []struct {
		accepted, outcome, level, rule string
		met                            bool
	}{
		{"fail", "fail", "must", rule, true}, {"fail", "unknown", "must", rule, false}, {"unknown", "unknown", "must", rule, true}, {"unknown", "fail", "must", rule, false},
		{"fail", "pass", "must", rule, false}, {"fail", "not-applicable", "must", rule, false}, {"fail", "fail", "should", rule, true}, {"fail", "fail", "caution", rule, false},
		{"fail", "fail", "must", "uk-adm1-2015/other", false},
	} {
		f := failing("16 mm")
		f.Outcome, f.Level, f.Rule = c.outcome, c.level, c.rule
		met := deviation(t, "mark: D, outcome: "+c.accepted, "2026-11-26").Accept("D", &f)
		other := !c.met && c.rule == rule && c.level != "caution" && (c.outcome == "fail" || c.outcome == "unknown") // told, and not covered
		why := ""
		if other {
			why = "The acceptance by the authority is of the outcome " + c.accepted + ", and of nothing else"
		}
		if (f.Accepted != nil) != c.met || len(met) > 0 != (c.met || other) || f.Outcome != c.outcome || f.NotAccepted != why {
			t.Errorf("%+v: %v, %q", c, met, f.NotAccepted)
		}
	}
}

// Of a rule that fails and of which more is not known, both have to be accepted; one of the two covers nothing.
func TestFailsAndMore(t *testing.T) {
	one := func(outcome string) string {
		return "  - {mark: D, outcome: " + outcome + ", rule: " + rule + ", reason: it stays, approved_by: who takes " + outcome + "}\n"
	}
	for name, c := range map[string]struct{ text, by, why string }{
		"both":    {one("unknown") + one("fail"), "who takes fail", ""},
		"fail":    {one("fail"), "", "The acceptance by who takes fail is of what fails; more of it is not known"},
		"unknown": {one("unknown"), "", "The acceptance by who takes unknown is of what is not known, and of nothing else"},
	} {
		f := failing("16 mm")
		f.Needs = []policies.Need{{Fact: "profile"}}
		met := read(t, head+"accepted:\n"+c.text, "2026-11-26").Accept("D", &f)
		by := ""
		if f.Accepted != nil {
			by = f.Accepted.ApprovedBy
		}
		if by != c.by || f.NotAccepted != c.why || slices.ContainsFunc(met, func(m Met) bool { return m.Covers != (c.by != "") }) {
			t.Errorf("%s: by %q, %q, %v", name, by, f.NotAccepted, met)
		}
	}
	f := failing("16 mm") // nothing more: the other one is for another day
	if met := read(t, head+"accepted:\n"+one("unknown")+one("fail"), "2026-11-26").Accept("D", &f); len(met) != 1 || !met[0].Covers {
		t.Errorf("%v", met)
	}
}

// What was accepted of one part of a rule was not accepted of another, whatever the figure.
func TestParts(t *testing.T) {
	for found, covers := range map[string]bool{
		"16 mm": false, "'height: 16 mm'": false, "['height: 16 mm', 16 mm]": false, "['height: 16 mm', 'upstand: 16 mm']": true, "['height: 16 mm', 'upstand: 5 mm']": false,
	} {
		f := failing("16 mm", "16 mm")
		f.Points[0].Reason, f.Points[1].Reason = "height", "upstand"
		deviation(t, "mark: D, found: "+found, "2026-11-26").Accept("D", &f)
		if (f.Accepted != nil) != covers {
			t.Errorf("%s: %q", found, f.NotAccepted)
		}
	}
	f := failing("16 mm", "16 mm") // of one part, from two sides
	f.Points[0].Reason, f.Points[1].Reason = "height", "height"
	if deviation(t, "mark: D, found: 16 mm", "2026-11-26").Accept("D", &f); f.Accepted == nil {
		t.Error(f.NotAccepted)
	}
}

// A deviation for one option is for no other.
func TestOption(t *testing.T) {
	p := read(t, head+"accepted: [{mark: D, option: brush, rule: seal-practice/allowance, reason: it stays, approved_by: the authority}]\n", "2026-11-26")
	for subject, covers := range map[string]bool{"option:brush": true, "option:bare": false, "door": false} {
		f := failing("3 mm")
		f.Rule, f.Subject = "seal-practice/allowance", subject
		if met := p.Accept("D", &f); (f.Accepted != nil) != covers || (len(met) == 1) != covers || covers && met[0].Subject != subject {
			t.Errorf("%s: %v", subject, met)
		}
	}
}

const several = head + `accepted:
  - {mark: D-1, rule: uk-adm1-2015/threshold, reason: r, approved_by: one, expires: 2026-01-31}
  - {pattern: D-*, rule: uk-adm1-2015/threshold, reason: r, approved_by: two}
  - {mark: D-3, rule: uk-adm1-2015/threshold, reason: r, approved_by: three, found: 20 mm}
  - {mark: X-1, rule: uk-adm1-2015/threshold, reason: r, approved_by: four}
  - {mark: X-2, rule: uk-adm1-2015/threshold, reason: r, approved_by: five, found: [16 mm, 17 mm]}
  - {mark: X-3, rule: uk-adm1-2015/threshold, reason: r, approved_by: six, expires: 2026-01-31}
`

// Of several deviations the first in the file that holds counts; the others are met all the same.
func TestSeveral(t *testing.T) {
	p := read(t, several, "2026-11-26")
	f := failing("16 mm")
	met := p.Accept("D-1", &f)
	if len(met) != 2 || met[0].Covers || !met[1].Covers || f.Accepted.ApprovedBy != "two" || f.NotAccepted != "" {
		t.Errorf("%v, %+v", met, f)
	}
}

// The tracker tells of each deviation what became of it, and where somebody should look.
func TestTracker(t *testing.T) {
	p := read(t, several, "2026-11-26")
	tr := p.NewTracker()
	for _, door := range []struct{ mark, found string }{{"D-1", "16 mm"}, {"D-2", "16 mm"}, {"D-3", "20 mm"}, {"X-2", "16 mm"}, {"X-2", "19 mm"}, {"X-2", "21 mm"}, {"Y-1", "16 mm"}} {
		first, second := failing(door.found), failing(door.found)
		tr.Add(append(p.Accept(door.mark, &first), p.Accept(door.mark, &second)...)) // two findings, one door
	}
	var got []string
	for _, u := range tr.Uses() {
		got = append(got, strings.Join([]string{u.Whom(), u.State, string(rune('0' + u.Doors)), string(rune('0' + u.Not)), strings.Join(u.Now, "|")}, " "))
	}
	want := []string{"D-1 expired 0 1 ", "D-* used 3 0 ", "D-3 used 1 0 ", "X-1 unused 0 0 ", "X-2 no-longer-fits 1 2 19 mm|21 mm", "X-3 expired 0 0 "}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	var all, met []string
	for _, n := range tr.Notices() {
		all = append(all, n.Error())
	}
	tr.Partial = true
	for _, n := range tr.Notices() {
		met = append(met, n.Error())
	}
	if u := tr.Uses(); u[3].State != NotMet || u[1].State != Used || u[5].State != Expired {
		t.Errorf("of a part of the doors: %v", u)
	}
	const of = "found a deviation from uk-adm1-2015/threshold for "
	if want := []string{
		"sillwright.yaml:3:5: accepted[0]: " + of + "D-1 that ended on 2026-01-31; change the door, or ask one to accept it again",
		"sillwright.yaml:6:5: accepted[3]: " + of + "X-1 that no door needs; take it out",
		"sillwright.yaml:7:5: accepted[4]: " + of + "X-2 where now 19 mm; 21 mm is found; allowed: 16 mm or 17 mm; change the door back, or ask five to accept what is found now",
		"sillwright.yaml:8:5: accepted[5]: " + of + "X-3 that ended on 2026-01-31; take it out: no door of this run needs it",
	}; !slices.Equal(all, want) || !slices.Equal(met, []string{want[0], want[2]}) {
		t.Errorf("%q\n%q", all, met)
	}
}

// A door of which one finding is covered and another is not is not covered, in whatever order they come.
func TestPartlyCovered(t *testing.T) {
	for _, order := range [][]string{{"16 mm", "18 mm"}, {"18 mm", "16 mm"}} {
		p := deviation(t, "mark: D, found: 16 mm", "2026-11-26")
		first, second := failing(order[0]), failing(order[1])
		tr := p.NewTracker()
		tr.Add(append(p.Accept("D", &first), p.Accept("D", &second)...))
		if u := tr.Uses()[0]; u.State != NoLongerFits || u.Doors != 0 || u.Not != 1 {
			t.Errorf("%v: %+v", order, u)
		}
	}
}

// What is kept does not grow with the doors, however different they are.
func TestTrackerIsFlat(t *testing.T) {
	p := deviation(t, "pattern: D*, found: 16 mm", "2026-11-26")
	tr := p.NewTracker()
	for i := range 1000 {
		f := failing(strings.Repeat("I", i+1) + " mm")
		tr.Add(p.Accept("D", &f))
	}
	if u := tr.Uses()[0]; len(u.Now) != mostFound || u.Not != 1000 {
		t.Errorf("%+v", u)
	}
}

// No project asks for nothing, accepts nothing and has nothing to tell.
func TestNone(t *testing.T) {
	var p *Project
	f := failing("16 mm")
	refs := []policies.Ref{{ID: "spec"}}
	p.Level([]policies.Finding{f})
	tr := p.NewTracker()
	tr.Add(p.Accept("D", &f))
	if f.Accepted != nil || len(p.Asked(refs)) != 1 || len(tr.Uses())+len(tr.Notices()) > 0 {
		t.Errorf("%+v", f)
	}
}

// What a spec names stands, variant and all; the rest of what the project asks comes behind it.
func TestAsked(t *testing.T) {
	p := read(t, head+"rulebooks: [seal-practice, {id: uk-adm1-2015, variant: M4(2)}]\n", "2026-11-26")
	got := p.Asked([]policies.Ref{{ID: "uk-adm1-2015", Variant: "M4(1)"}})
	if !slices.Equal(got, []policies.Ref{{ID: "uk-adm1-2015", Variant: "M4(1)"}, {ID: "seal-practice"}}) {
		t.Errorf("%v", got)
	}
}
