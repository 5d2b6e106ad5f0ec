package project

import (
	"context"
	"os"
	"strings"
	"sync"
	"testing"

	"sillwright/policies"
	"sillwright/schema"
)

const head = "format: sillwright/project/1\n"

// rules are the built-in ones, loaded once.
var rules = sync.OnceValue(func() *policies.Policies {
	p, err := policies.Load(context.Background())
	if err != nil {
		panic(err)
	}
	return p
})

func read(t *testing.T, text, day string) *Project {
	t.Helper()
	p, problems := Read("sillwright.yaml", []byte(text), rules(), day)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

// Everything that a project file may say is read; the values are those of the text.
func TestRead(t *testing.T) {
	p := read(t, head+`rulebooks: [seal-practice, {id: uk-adm1-2015, variant: M4(2)}]
levels: {seal-practice/edges-closed: must, seal-practice/brush-touches: should, spec/leakage: should}
catalogues: [own-seals.yaml, ../shared/seals.yaml]
accepted:
  - {mark: E-01, rule: uk-adm1-2015/threshold, reason: "the sill\n stays", approved_by: the authority, found: "16  mm", expires: 2028-02-29}
  - {pattern: "E-0[1-4]", rule: uk-adm1-2015/threshold, reason: r, approved_by: a, found: [16 mm, 17 mm], outcome: unknown}
`, "2026-11-26")
	if p.Digest == "" || p.File != "sillwright.yaml" || p.Day != "2026-11-26" || len(p.Rulebooks) != 2 || p.Rulebooks[1] != (policies.Ref{ID: "uk-adm1-2015", Variant: "M4(2)"}) {
		t.Errorf("%+v", p)
	}
	if p.Levels["seal-practice/edges-closed"] != "must" || p.Levels["spec/leakage"] != "should" || len(p.Levels) != 3 {
		t.Errorf("%v", p.Levels)
	}
	if p.Catalogues[0].Path != "own-seals.yaml" || p.Catalogues[1].Path != "../shared/seals.yaml" {
		t.Errorf("%v", p.Catalogues)
	}
	first, second := p.Deviations[0], p.Deviations[1]
	if first.Mark != "E-01" || first.Outcome != "fail" || strings.Join(first.Found, ";") != "16 mm" || first.Acceptance.Expires != "2028-02-29" || first.Acceptance.Reason != "the sill\n stays" {
		t.Errorf("%+v", first)
	}
	if second.Pattern != "E-0[1-4]" || second.Outcome != "unknown" || strings.Join(second.Found, ";") != "16 mm;17 mm" || second.Acceptance.Expires != "" {
		t.Errorf("%+v", second)
	}
}

// Paths are from the folder of the file, wherever the run is.
func TestCataloguesLieBesideTheFile(t *testing.T) {
	p, problems := Read("../job/sillwright.yaml", []byte(head+"catalogues: [own.yaml, ../own.yaml]\n"), rules(), "2026-11-26")
	if len(problems) > 0 || p.Catalogues[0].Path != "../job/own.yaml" || p.Catalogues[1].Path != "../own.yaml" {
		t.Errorf("%v, %v", p, problems)
	}
	if got := p.Unreadable(p.Catalogues[1], os.ErrNotExist).Error(); !strings.HasPrefix(got, "../job/sillwright.yaml:2:24: catalogues[1]: found catalogue ../own.yaml, which cannot be read: file does not exist; allowed: ") {
		t.Error(got)
	}
}

// Each refusal stands at its line and column, and says what is allowed.
func TestRefusals(t *testing.T) {
	const of = ", reason: r, approved_by: a}"
	for text, want := range map[string]string{
		"rulebooks: [us-ada-2011]":                                                                "2:13: rulebooks[0]: found rulebook \"us-ada-2011\"; allowed: one of ae-dubai-2017, air-leakage, ",
		"rulebooks: [{id: uk-adm1-2015, variant: M4(4)}]":                                         "2:13: rulebooks[0]: found variant \"M4(4)\"; allowed: one of M4(1), M4(2), M4(3)",
		"rulebooks: [{id: us-ada-2010, variant: x}]":                                              "2:13: rulebooks[0]: found variant \"x\"; allowed: no variant: us-ada-2010 has none",
		"rulebooks: [us-ada-2010, {id: us-ada-2010}]":                                             "2:26: rulebooks[1]: found \"us-ada-2010\" a second time; allowed: each rulebook once",
		"rulebooks: [7]":                                                                          "2:13: rulebooks[0]: found 7; allowed: a rulebook id, or {id: ..., variant: ...}",
		"rulebooks: []":                                                                           "2:12: rulebooks: found []; allowed: at least 1 item",
		"rulebook: [us-ada-2010]":                                                                 "2:1: rulebook: found unknown key `rulebook`; did you mean `rulebooks`?",
		"levels: {seal-practice/edge-closed: must}":                                               "2:10: levels[\"seal-practice/edge-closed\"]: found rule \"seal-practice/edge-closed\"; allowed: the id of a rule (did you mean `seal-practice/edges-closed`?); list",
		"levels: {seal-practice/edges-closed: may}":                                               "2:38: levels[\"seal-practice/edges-closed\"]: found \"may\"; allowed: must, should",
		"levels: {us-ada-2010/threshold-profile: should}":                                         "2:41: levels[\"us-ada-2010/threshold-profile\"]: found should for us-ada-2010/threshold-profile, a must of a published text; allowed: must: only rules of sealing practice and of the spec's own terms may be made a should; have the authority accept the deviation",
		"levels: {uk-adm2-2015/threshold: should}":                                                "found should for ",
		"levels: {safety/fire-evidence: should}":                                                  "2:32: levels[\"safety/fire-evidence\"]: found a level for safety/fire-evidence; allowed: the level that it has: rules of safety keep theirs; take it out; what a fire or smoke door needs is evidence in its spec",
		"levels: {safety/escape: must}":                                                           "2:25: levels[\"safety/escape\"]: found a level for safety/escape; allowed: the level that it has: rules of safety keep theirs; take it out; what it asks is answered by those whom it names",
		"levels: {seal-practice/life: must}":                                                      "2:30: levels[\"seal-practice/life\"]: found a level for seal-practice/life, a caution; allowed: no level",
		"levels: {seal-practice/edges-closed: caution}":                                           "2:38: levels[\"seal-practice/edges-closed\"]: found the level caution; allowed: must or should",
		"catalogues: [/srv/seals.yaml]":                                                           "2:14: catalogues[0]: found the path \"/srv/seals.yaml\" from the root; allowed: a path from the folder of this file",
		"catalogues: [a.yaml, x/../a.yaml]":                                                       "2:22: catalogues[1]: found catalogue \"x/../a.yaml\" a second time; allowed: each catalogue once",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profle" + of:                            "2:28: accepted[0].rule: found rule \"us-ada-2010/threshold-profle\"; allowed: the id of a rule (did you mean `us-ada-2010/threshold-profile`?)",
		"accepted: [{mark: D, rule: safety/fire-evidence" + of:                                    "2:28: accepted[0].rule: found a deviation from safety/fire-evidence; allowed: a rule of another rulebook: nobody can accept that safety is not shown; take it out; what a fire or smoke door needs is evidence in its spec",
		"accepted: [{mark: D, rule: safety/trip-edge" + of:                                        "2:28: accepted[0].rule: found a deviation from safety/trip-edge",
		"accepted: [{mark: D, rule: seal-practice/life" + of:                                      "2:28: accepted[0].rule: found a deviation from seal-practice/life, a caution; allowed: a rule that can stand in the way",
		"accepted: [{rule: us-ada-2010/threshold-profile" + of:                                    "2:12: accepted[0]: found neither mark nor pattern; allowed: one of mark and pattern; say for which doors it is accepted",
		"accepted: [{mark: D, pattern: D*, rule: us-ada-2010/threshold-profile" + of:              "2:12: accepted[0]: found mark and pattern; allowed: one of mark and pattern; take one of them out",
		"accepted: [{pattern: \"D-[1\", rule: us-ada-2010/threshold-profile" + of:                 "2:22: accepted[0].pattern: found \"D-[1\"; allowed: a pattern such as E-*, E-0? or E-0[1-4]; close its brackets",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, expires: 2026-02-29" + of:      "2:68: accepted[0].expires: found \"2026-02-29\"; allowed: a day of the calendar, such as 2027-06-30",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, expires: 2026-6-1" + of:        "2:68: accepted[0].expires: found \"2026-6-1\"; allowed: a day",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, expires: 30.6.2027" + of:       "2:68: accepted[0].expires: found \"30.6.2027\"; allowed: a day",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, outcome: pass" + of:            "2:68: accepted[0].outcome: found \"pass\"; allowed: fail, unknown",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, found: 16" + of:                "2:66: accepted[0].found: found 16; allowed: what the report says was found, such as 16 mm, or a list of such texts",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, found: []" + of:                "2:66: accepted[0].found: found []; allowed: at least 1 item",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, reason: ' ', approved_by: a}]": "2:67: accepted[0].reason: found \" \"; allowed: a text of 1 to 1000 characters",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, approved_by: a}]":              "2:12: accepted[0].reason: found no key `reason`; allowed: ",
		"accepted: [{mark: D, rule: us-ada-2010/threshold-profile, reason: r}]":                   "2:12: accepted[0].approved_by: found no key `approved_by`; allowed: ",
		"accepted:\n  - {mark: D, rule: us-ada-2010/threshold-profile" + of + "\n  - {mark: D, rule: us-ada-2010/threshold-profile" + of: "4:5: accepted[1]: found a deviation from us-ada-2010/threshold-profile for D a second time, first on line 3; allowed: one for each rule and mark or pattern",
		"---\nformat: sillwright/project/1": "3:1: found 2 documents; allowed: one project a file",
		"mark: D-01":                        "2:1: mark: found unknown key `mark`; allowed: the keys ",
	} {
		if strings.HasSuffix(text, "}") && strings.HasPrefix(text, "accepted: [") {
			text += "]"
		}
		p, problems := Read("p.yaml", []byte(head+text+"\n"), rules(), "2026-11-26")
		if p != nil || len(problems) != 1 {
			t.Errorf("%s: %v", text, problems)
			continue
		}
		if got := problems[0].Error(); !strings.HasPrefix(got, "p.yaml:"+want) && !(strings.HasPrefix(want, "found") && strings.Contains(got, want)) {
			t.Errorf("%s:\ngot  %s\nwant %s", text, got, want)
		}
	}
}

// What is wrong is told all at once, in the order of the file.
func TestAllIsToldAtOnce(t *testing.T) {
	_, problems := Read("p.yaml", []byte("format: sillwright/project/2\nrulebooks: [nothing]\nlevels: {nothing: must}\naccepted: [{mark: D, rule: nothing}]\n"), rules(), "2026-11-26")
	var lines []int
	for i, p := range problems {
		lines = append(lines, p.Span.Start.Line)
		if i > 0 && lines[i-1] > lines[i] {
			t.Errorf("lines %v", lines)
		}
	}
	if len(lines) != 6 || lines[0] != 1 || lines[5] != 4 {
		t.Errorf("%v", problems)
	}
}

// The example keeps to its schema, and is read.
func TestExample(t *testing.T) {
	src, err := os.ReadFile("../../../examples/project/sillwright.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if p := read(t, string(src), "2026-11-26"); len(p.Deviations) != 3 || len(p.Rulebooks) != 1 || len(p.Levels) != 1 {
		t.Errorf("%+v", p)
	}
}

// Whatever a file holds, it is read or refused, and never half.
func FuzzRead(f *testing.F) {
	f.Add(head + "accepted: [{mark: D, rule: us-ada-2010/threshold-profile, reason: r, approved_by: a, found: [a, 1], expires: 1}]\n")
	f.Add(head + "levels: [a]\ncatalogues: {a: b}\nrulebooks: a\naccepted: [1, [], {}, null]\n")
	f.Add(head + "rulebooks: [{id: [a]}, {variant: b}]\nlevels: {a: [b], spec/leakage: 7}\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, problems := Read("p.yaml", []byte(text), rules(), "2026-11-26")
		if (p == nil) == (len(problems) == 0) {
			t.Fatalf("%v, %v", p, problems)
		}
		for _, one := range problems {
			if one.Found == "" || one.Span == (schema.Span{}) {
				t.Errorf("%+v", one)
			}
		}
	})
}
