package render

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema"
)

func comparing(t *testing.T, r *assess.Result, a, b string) *explain.Comparison {
	t.Helper()
	c, err := explain.Against(r, assessor(t).Policies, a, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func versusText(t *testing.T, c *explain.Comparison, colour bool) string {
	t.Helper()
	var b strings.Builder
	if err := AgainstText(&b, c, colour); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func versusJSON(t *testing.T, c *explain.Comparison) string {
	t.Helper()
	var b strings.Builder
	if err := AgainstJSON(&b, c, MadeBy{Version: "test"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func versusMarkdown(t *testing.T, c *explain.Comparison) string {
	t.Helper()
	var b strings.Builder
	if err := AgainstMarkdown(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// eachPair compares every option of every example with every other, both ways.
func eachPair(t *testing.T, do func(*explain.Comparison)) {
	t.Helper()
	oneByOne(t)
	pairs := 0
	for _, r := range exampleDoors(t) {
		for _, a := range r.Options {
			for _, b := range r.Options {
				if a.ID != b.ID {
					pairs++
					do(comparing(t, r, a.ID, b.ID))
				}
			}
		}
	}
	if pairs < 60 {
		t.Fatalf("%d pairs", pairs)
	}
}

var escapeCode = regexp.MustCompile("\x1b\\[[0-9;]*m")

// keepsToComparison holds JSON to its published schema.
func keepsToComparison(t *testing.T, text string) {
	t.Helper()
	s, err := schema.Named("comparison")
	if err != nil {
		t.Fatal(err)
	}
	docs, problems := schema.Read("object.json", []byte(text))
	if len(problems) > 0 || len(docs) != 1 || strings.Count(text, "\n") != 1 {
		t.Fatalf("no single line: %v", problems)
	}
	for _, p := range schema.Validate(docs[0], s) {
		t.Errorf("breaks its schema: %v", p)
	}
}

// A comparison keeps to the page, to its schema and to Markdown, says in every form the same of who is ahead, and is the same each time.
func TestAgainstKeepsToItsForms(t *testing.T) {
	eachPair(t, func(c *explain.Comparison) {
		text := versusText(t, c, false)
		name := c.Result.Door.Mark + ", " + c.A.ID + " against " + c.B.ID
		for line := range strings.Lines(text) {
			if line = strings.TrimSuffix(line, "\n"); columns(line) > width || strings.HasSuffix(line, " ") {
				t.Errorf("%s: %d columns: %q", name, columns(line), line)
			}
		}
		if strings.ContainsRune(text, '\uFFFD') || strings.Contains(text, "\x1b") || strings.Contains(text, "%!") {
			t.Errorf("%s: %q", name, text)
		}
		coloured := versusText(t, c, true)
		if escapeCode.ReplaceAllString(coloured, "") != text || coloured == text {
			t.Errorf("%s: another text in colour", name)
		}
		out := versusJSON(t, c)
		keepsToComparison(t, out)
		var told struct {
			Ahead      *string
			Conclusion string
		}
		if err := json.Unmarshal([]byte(out), &told); err != nil {
			t.Fatal(err)
		}
		page := showMarkdown(t, versusMarkdown(t, c))
		folded := strings.Join(strings.Fields(text), " ")
		if !strings.Contains(folded, strings.Join(strings.Fields(told.Conclusion), " ")) || len(page.tables) < 1 {
			t.Errorf("%s: %s\n%s", name, told.Conclusion, text)
		}
		if ahead := c.Lead.Ahead; (told.Ahead == nil) != (ahead == "") || ahead != "" && (*told.Ahead != ahead || !strings.HasPrefix(told.Conclusion, ahead+" is ahead")) {
			t.Errorf("%s: %s", name, told.Conclusion)
		}
		again := comparing(t, c.Result, c.A.ID, c.B.ID)
		if versusText(t, again, false) != text || versusJSON(t, again) != out || versusMarkdown(t, again) != versusMarkdown(t, c) {
			t.Errorf("%s: another text the second time", name)
		}
	})
}

// Nothing is said where neither option has anything: no point stands with two unknowns, and none twice.
func TestAgainstLeavesOutWhatNeitherHas(t *testing.T) {
	empty := []string{"", "-", "not known"}
	eachPair(t, func(c *explain.Comparison) {
		for _, part := range versusParts(c) {
			var seen []string
			for _, v := range part.rows {
				if slices.Contains(empty, v.a) && slices.Contains(empty, v.b) || v.a == "" || v.b == "" {
					t.Errorf("%s: %+v", c.Result.Door.Mark, v)
				}
				if slices.Contains(seen, v.point) && part.title != "Rules" {
					t.Errorf("%s: %s twice", c.Result.Door.Mark, v.point)
				}
				seen = append(seen, v.point)
			}
			for _, same := range part.same {
				if strings.HasSuffix(same, ": not known") || strings.HasSuffix(same, ": -") {
					t.Errorf("%s: %s", c.Result.Door.Mark, same)
				}
			}
		}
	})
}

// A text of somebody else's begins no line, column or markup, whatever it holds, in the ids of options too.
func TestAgainstHostileNames(t *testing.T) {
	r := *oneDoor(t, "h.yaml", steep(t))
	r.Options = slices.Clone(r.Options[:2])
	const hostile = "x\x1b[31m\n## nothing more\r| a | b |\u2028::error::<img src=x> [l](http://e.x) `c` @who ##[group] \u202E"
	long := strings.Repeat("ein-langer-name", 12)
	for _, ids := range [][2]string{{hostile, hostile + "2"}, {long, long + "2"}, {"字字字字字字字字字字字字字字字字字字字字字字字字", "e\u0301" + strings.Repeat("\u0301", 90)}} {
		d := *r.Door
		d.Mark, d.Title, r.Door = ids[0], hostile, &d
		for i, id := range ids {
			r.Options[i].ID, r.Options[i].Title = id, hostile
		}
		c := comparing(t, &r, ids[0], ids[1])
		text := versusText(t, c, false)
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if columns(line) > width {
				t.Errorf("%d columns: %q", columns(line), line)
			}
			if strings.HasPrefix(strings.TrimSpace(line), "::error") || strings.Contains(line, "##[") || strings.ContainsFunc(line, func(r rune) bool { return !schema.Prints(r) }) {
				t.Errorf("forged: %q", line)
			}
		}
		keepsToComparison(t, versusJSON(t, c))
		page := showMarkdown(t, versusMarkdown(t, c)) // refuses links, pictures and HTML
		if strings.Contains(strings.Join(page.headings, "\n"), "\n##") || slices.Contains(page.headings, "nothing more") {
			t.Errorf("a forged heading: %q", page.headings)
		}
		for _, table := range page.tables {
			for _, row := range table {
				if len(row) != 4 {
					t.Errorf("a forged column: %q", row)
				}
			}
		}
	}
}

// paired is a comparison of two options with these figures and verdicts; of those that do not comply one rule says so.
func paired(t *testing.T, order []engine.Criterion, verdicts [2]string, a, b string) *explain.Comparison {
	t.Helper()
	r := *oneDoor(t, "h.yaml", steep(t))
	r.Order, r.Options = order, nil
	for i, text := range []string{a, b} {
		o := assess.Option{Option: made(t, text), Verdict: verdicts[i], Standing: verdicts[i]}
		f := policies.Finding{Rule: "r/target", Title: "Target", Level: policies.Must, Subject: "option:" + o.ID, Outcome: policies.Pass, Point: policies.Point{Message: "Target"}}
		switch verdicts[i] {
		case assess.Fails:
			f.Outcome = policies.Fail
		case assess.Unproven:
			f.Outcome, f.Needs = policies.Unknown, []policies.Need{{Fact: "leakage", Pointer: "/leaves", Title: "air leakage", How: "read the gap"}}
		case "accepted":
			f.Outcome, f.Accepted = policies.Fail, &policies.Acceptance{Reason: "letter", ApprovedBy: "somebody"}
			o.Verdict, o.Standing = assess.Fails, assess.Complies
		}
		o.Findings = []policies.Finding{f}
		r.Options = append(r.Options, o)
	}
	return comparing(t, &r, r.Options[0].ID, r.Options[1].ID)
}

// One sentence says who is ahead and why: figures and bands by hand, each pair both ways.
func TestAhead(t *testing.T) {
	usual := engine.UsualOrder()
	force := []engine.Criterion{engine.ByForce, engine.ByLeakage}
	complies, fails, unproven := assess.Complies, assess.Fails, assess.Unproven
	less := "; y leaks 38 L/s more than x (32 to 44)"
	for name, c := range map[string]struct {
		order    []engine.Criterion
		verdicts [2]string
		a, b     string
		ahead    string
		by       engine.Criterion
		want     string
	}{
		"the better verdict": {usual, [2]string{complies, fails}, "x shared 82 25", "y shared 120 30", "x", explain.ByVerdict,
			"x is ahead: it complies, and y fails, by Target" + less + "."},
		"the better verdict leaks more": {usual, [2]string{fails, complies}, "x shared 82 25", "y shared 120 30", "y", explain.ByVerdict,
			"y is ahead: it complies, and x fails, by Target" + less + "."},
		"what is not proven": {usual, [2]string{complies, unproven}, "x leakage 1 2", "y", "x", explain.ByVerdict,
			"x is ahead: it complies, and y is not proven, for Target; to settle it: air leakage, read the gap."},
		"it may still comply": {usual, [2]string{unproven, fails}, "x", "y leakage 1 2", "x", explain.ByVerdict,
			"x is ahead: it is not proven, for Target, and may still comply, and y fails, by Target; to settle it: air leakage, read the gap."},
		"accepted": {usual, [2]string{"accepted", complies}, "x leakage 1 2", "y leakage 1 2", "y", explain.ByVerdict,
			"y is ahead: it complies, and x has deviations that are accepted (Target); y leaks as much as x (0.71 less to 0.71 more)."},
		"accepted before failing": {usual, [2]string{"accepted", fails}, "x", "y", "x", explain.ByVerdict,
			"x is ahead: what it does not meet is accepted (Target), and y fails, by Target."},
		"both fail": {usual, [2]string{fails, fails}, "x shared 82 25", "y shared 120 30", "", "",
			"Neither is ahead, for both fail: x by Target; y by Target" + less + "."},
		"neither is proven": {usual, [2]string{unproven, unproven}, "x leakage 9 17", "y leakage 20 40", "", "",
			"Neither is ahead, for neither is proven: x for Target; y for Target; if both were, x would be ahead: it leaks at most 17 L/s, y at least 20 L/s; to settle it: air leakage, read the gap."},
		"neither is proven, and one not known": {usual, [2]string{unproven, unproven}, "x leakage 9 17", "y", "", "",
			"Neither is ahead, for neither is proven: x for Target; y for Target; as far as is known nothing parts them; to settle it: air leakage, read the gap."},
		"leakage": {usual, [2]string{complies, complies}, "x leakage 9 17", "y leakage 20 40", "x", engine.ByLeakage,
			"x is ahead of y: it leaks at most 17 L/s, y at least 20 L/s."},
		"force": {usual, [2]string{complies, complies}, "x leakage 1 2 force 5 9", "y leakage 1 3 force 2 3", "y", engine.ByForce,
			"y is ahead of x: level on leakage, within their bands; it adds at most 3.0 N at the latch edge, x at least 5.0 N."},
		"the order that is asked": {force, [2]string{complies, complies}, "x leakage 1 2 force 5 9", "y leakage 20 30 force 2 3", "y", engine.ByForce,
			"y is ahead of x: it adds at most 3.0 N at the latch edge, x at least 5.0 N."},
		"known of one": {usual, [2]string{complies, complies}, "x", "y leakage 20 40", "y", engine.ByLeakage,
			"y is ahead of x: its leakage is known, and that of x is not."},
		"known of neither":             {usual, [2]string{complies, complies}, "x", "y", "", "", "Too close to call, for the leakage of neither is known."},
		"nothing that counts is known": {force[:1], [2]string{complies, complies}, "x leakage 1 2", "y", "", "", "Too close to call, for nothing that they are ranked by is known of either."},
		// Between 1.5 +- 0.5 and 5.25 +- 3.75 lies 3.75 -+ sqrt(0.5^2 + 3.75^2).
		"too close to call": {usual[:1], [2]string{complies, complies}, "x leakage 1 2", "y leakage 1.5 9", "", "",
			"Too close to call: level on leakage, within their bands. y leaks 3.8 L/s more than x (0.04 less to 7.6 more); the widest doubt between them is " +
				"residual gap of seal-y, 98 % of what keeps them level. To settle it: test a sample of the seal."},
	} {
		for _, swap := range []bool{false, true} {
			v, a, b := c.verdicts, c.a, c.b
			if swap {
				v[0], v[1], a, b = v[1], v[0], b, a
			}
			p := paired(t, c.order, v, a, b)
			got, want := ahead(p), c.want
			if swap && strings.HasPrefix(want, "Neither") { // they stand in the order in which they were asked for
				want = strings.NewReplacer("x by Target; y by", "y by Target; x by", "x for Target; y for", "y for Target; x for").Replace(want)
			}
			if swap && name == "accepted" {
				want = strings.Replace(want, "y leaks as much as x", "x leaks as much as y", 1)
			}
			if got != want || p.Lead.Ahead != c.ahead || p.Lead.By != c.by {
				t.Errorf("%s, %t: %q by %q: %s\nwant %s", name, swap, p.Lead.Ahead, p.Lead.By, got, want)
			}
			if !strings.Contains(got, settling(p)) {
				t.Errorf("%s: %q is not told", name, settling(p))
			}
			keepsToComparison(t, versusJSON(t, p))
		}
	}
}

// Where pairs go round in a circle, two stand otherwise among all options than alone, and that is said: a leaks less than b; c is level
// with both, drags less than a and more than b, and so is ahead of a alone, and level with it in the field.
func TestAheadInACircle(t *testing.T) {
	w := worded(t, engine.UsualOrder()[:2], "a leakage 1 3 force 5 6", "b leakage 5 7 force 1 2", "c leakage 1.5 6.5 force 3 4")
	r := *oneDoor(t, "h.yaml", steep(t))
	r.Order, r.Options = w.order, w.options
	for i := range r.Options {
		r.Options[i].Standing = assess.Complies
	}
	const want = "c is ahead of a: level on leakage, within their bands; it adds at most 4.0 N at the latch edge, a at least 5.0 N. Among all options of the door "
	for _, ids := range [][2]string{{"a", "c"}, {"c", "a"}} {
		c := comparing(t, &r, ids[0], ids[1])
		place := func(id string) string { return id + " has place " + rank(w.option(id))[:1] }
		if got := ahead(c); !c.Lead.Other || got != want+place(ids[0])+", and "+strings.Replace(place(ids[1]), "has ", "", 1)+"." {
			t.Errorf("%s", got)
		}
	}
	if c := comparing(t, &r, "a", "b"); c.Lead.Other || strings.Contains(ahead(c), "Among") {
		t.Errorf("%s", ahead(c))
	}
}

// The whole of one comparison, as it stands on the page.
func TestAgainst_Pinned(t *testing.T) {
	file, src := example(t, "complies-l-01-closer-near-the-force-limit.yaml")
	const want = `L-01  Library                                                                            TWO OPTIONS
                                                      complies-l-01-closer-near-the-force-limit.yaml
drop-seal is ahead: it complies, and brush is not proven, for Opening force with the bottom seal,
interior hinged doors; brush leaks 0.94 L/s more than drop-seal (1.6 less to 4.3 more); to settle
it: take 3.8 N off: press the bottom seal less, take one that drags less, or ease the closer and
hinges; then measure the force with the seal fitted and write it with the option.

                           drop-seal                            brush
  verdict                  complies                             unproven
  at the widest gap        -                                    just touching

RULES
  Opening force with the   passes: found 21.5 N, allowed at     not proven: found 21.5 N to 26.03
  bottom seal, interior    most 5 lbf (22.24 N)                 N, allowed at most 5 lbf (22.24 N)
  hinged doors
  Closes and latches with  not proven, for want of: force that  passes: found 4.75 N to 9.28 N,
  the bottom seal (should) is left to latch the door, with the  allowed at least 0 N (0 lbf)
                           bottom seal
    Both pass: Bottom seal on the push side; No compression gasket on the bottom edge; How each
    bottom seal is set; Overlap within what the seal is made for (should).
    Asked of drop-seal alone, and met: Drop seal reaches the floor at the widest place; Drop seal
    over an even floor.
    Asked of brush alone, and met: Bottom brush touches at the widest place; Bottom brush pressed at
    most 1 mm at the widest place; Movement allowance, door closed; Movement allowance, while the
    door opens; No fine brush or blade under severe duty; No fine brush dragged over rough concrete
    or stone; Shortest brush that bridges the gap.

AIR at 50 Pa in L/s, likely and its band
  all paths                3.0 (1.3 to 8.3)                     4.0 (2.1 to 11)
                           brush leaks 0.94 L/s more (1.6 less to 4.3 more).
  bottom of leaf A         1.3 (0.3 to 4.0)                     2.2 (1.0 to 6.5)
    The same: hinge: 0.71 (0.08 to 2.3); latch: 0.71 (0.08 to 2.3); head: 0.32 (0.03 to 1.1).
    The bands of differences leave out what both share, and do not add up. What the figures rest on:
    sillwright check.

FORCE at the latch edge with the bottom seal, N
  to open at 0 to 30 deg   21.5                                 21.8 (21.5 to 26.1), of it the
                                                                seals 0.31 (0 to 4.6)
  to open at 30 to 90 deg  17.0                                 17.3 (17.0 to 21.6), of it the
                                                                seals 0.31 (0 to 4.6)
  drag of the seals, most  none                                 0.31 (0 to 4.6)
  latching                 against the closed seals and the     against the closed seals and the
                           pressure there is at most 9.28 N     pressure there is 8.97 N (4.75 to
                           left; how little is not known        9.28) left

ON SITE
  to spare either way      nothing to set                       0 mm

KNOWN OF ONE ALONE
    Not known of drop-seal: how little is left to latch.

Rules: us-ada-2010/opening-force-hinged-sealed, seal-practice/latches. One in full: sillwright rules
       ID
`
	if got := versusText(t, comparing(t, oneDoor(t, file, src), "drop-seal", "brush"), false); got != want {
		t.Errorf("%s", got)
	}
}
