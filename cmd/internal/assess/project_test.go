package assess

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"

	"sillwright/cmd/internal/project"
	"sillwright/policies"
	"sillwright/schema"
)

// withProject gives the assessor a project file.
func withProject(t *testing.T, a *Assessor, text string) *Assessor {
	t.Helper()
	p, problems := project.Read("sillwright.yaml", []byte("format: sillwright/project/1\n"+text), a.Policies, "2026-11-26")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	out := *a
	out.Project = p
	return &out
}

func option(t *testing.T, r *Result, id string) Option {
	t.Helper()
	i := slices.IndexFunc(r.Options, func(o Option) bool { return o.ID == id })
	if i < 0 {
		t.Fatalf("no option %s", id)
	}
	return r.Options[i]
}

// A failure of the door that is accepted lets it be ordered, and every verdict stays what the text says.
func TestAcceptedOnTheDoor(t *testing.T) {
	alone(t)
	a := assessor(t)
	spec := example(t, "project/fails-a-01-annexe-threshold-of-16-mm.yaml")
	const of = "accepted: [{mark: A-01, rule: uk-adm1-2015/threshold, reason: r, approved_by: a"
	for _, c := range []struct {
		project string
		order   bool
	}{
		{"", false}, {of + "}]", true}, {of + ", found: 16 mm}]", true}, {of + ", found: 15.5 mm}]", false}, {of + ", outcome: unknown}]", false},
		{of + ", expires: 2026-11-26}]", true}, {of + ", expires: 2026-11-25}]", false}, {strings.Replace(of, "mark: A-01", "mark: A-02", 1) + "}]", false},
		{strings.Replace(of, "mark: A-01", `pattern: "A-*"`, 1) + "}]", true}, {strings.Replace(of, "uk-adm1-2015/threshold", "seal-practice/leaf-clears", 1) + "}]", false},
	} {
		r := assessText(t, withProject(t, a, c.project), spec)
		standing := map[bool]string{true: Complies, false: Fails}[c.order]
		if r.Verdict != Fails || r.CanOrder != c.order || r.ByAcceptance() != c.order || r.Standing != standing || r.Held() {
			t.Errorf("%s: %s, standing %s, can be ordered %v", c.project, r.Verdict, r.Standing, r.CanOrder)
		}
		for _, b := range r.Rulebooks {
			if b.ID == "uk-adm1-2015" && b.Verdict != Fails {
				t.Errorf("%s: the rulebook %s", c.project, b.Verdict)
			}
		}
	}
}

// An option that only an acceptance clears keeps its verdict and has no rank; the door that it belongs to can be ordered.
func TestAcceptedOnAnOption(t *testing.T) {
	alone(t)
	a := assessor(t)
	for _, c := range []struct{ file, rule, outcome, verdict string }{
		{"fails-t-01-stone-floor-varying-5-mm.yaml", "seal-practice/allowance", "fail", Fails},
		{"unproven-n-01-estimate-close-to-its-target.yaml", "spec/leakage", "unknown", Unproven},
	} {
		spec := example(t, c.file)
		if r := assessText(t, a, spec); !r.Held() {
			t.Fatalf("%s is not held without a project", c.file)
		}
		more := ", outcome: " + c.outcome + "}]"
		r := assessText(t, withProject(t, a, `accepted: [{pattern: "*", rule: `+c.rule+", reason: r, approved_by: a"+more), spec)
		if r.Verdict != Complies || !r.CanOrder || !r.ByAcceptance() || r.Held() {
			t.Errorf("%s: %s, can be ordered %v", c.file, r.Verdict, r.CanOrder)
		}
		cleared := 0
		for _, o := range r.Options {
			if o.Rank != 0 || o.Verdict == Complies {
				t.Errorf("%s: %s %s has place %d", c.file, o.ID, o.Verdict, o.Rank)
			}
			if o.ByAcceptance() {
				cleared++
				if o.Verdict != c.verdict || !slices.ContainsFunc(o.Findings, func(f policies.Finding) bool { return f.Rule == c.rule && f.Accepted != nil && f.Outcome == c.outcome }) {
					t.Errorf("%s: %s %s", c.file, o.ID, o.Verdict)
				}
			}
		}
		if cleared == 0 {
			t.Errorf("%s: no option is cleared", c.file)
		}
		other := map[string]string{"fail": "unknown", "unknown": "fail"}[c.outcome]
		if r := assessText(t, withProject(t, a, `accepted: [{pattern: "*", rule: `+c.rule+", reason: r, approved_by: a, outcome: "+other+"}]"), spec); r.CanOrder {
			t.Errorf("%s: %s is accepted, and clears %s", c.file, other, c.outcome)
		}
	}
}

// Where an option complies, accepting what another fails in changes neither the ranking nor why the door can be ordered.
func TestComplyingOptionsComeFirst(t *testing.T) {
	alone(t)
	a := assessor(t)
	spec := example(t, "complies-c-01-floor-falling-3-mm.yaml")
	before := assessText(t, a, spec)
	after := assessText(t, withProject(t, a, `accepted: [{pattern: "*", rule: seal-practice/brush-touches, reason: r, approved_by: a}, {pattern: "*", rule: spec/leakage, reason: r, approved_by: a}]`), spec)
	if !after.CanOrder || after.ByAcceptance() {
		t.Errorf("can be ordered %v, by acceptance %v", after.CanOrder, after.ByAcceptance())
	}
	cleared := 0
	for i, o := range after.Options {
		if o.ID != before.Options[i].ID || o.Rank != before.Options[i].Rank || o.Verdict != before.Options[i].Verdict {
			t.Errorf("%s %s %d; it was %s %s %d", o.ID, o.Verdict, o.Rank, before.Options[i].ID, before.Options[i].Verdict, before.Options[i].Rank)
		}
		if o.ByAcceptance() {
			cleared++
		}
	}
	if cleared == 0 {
		t.Error("no option is cleared, and nothing was tried")
	}
}

// Whatever is accepted of a fire door, evidence for its seal is still asked: no deviation can name that rule, and accepting every
// rule that it may name does not clear it.
func TestFireDoorNeedsEvidence(t *testing.T) {
	alone(t)
	a := assessor(t)
	var all strings.Builder
	for _, b := range a.Policies.Rulebooks {
		for _, r := range b.Rules {
			if r.Level == policies.Caution || b.ID == "safety" || r.ProvenByTest() {
				continue
			}
			for _, outcome := range []string{policies.Fail, policies.Unknown} {
				all.WriteString("  - {pattern: '*', rule: " + r.ID + ", reason: r, approved_by: a, outcome: " + outcome + "}\n")
			}
		}
	}
	r := assessText(t, withProject(t, a, "accepted:\n"+all.String()), example(t, "unproven-f-01-fire-door-without-evidence.yaml"))
	if r.CanOrder || len(r.Options) == 0 {
		t.Error("the fire door can be ordered")
	}
	for _, o := range r.Options {
		if o.Standing != Unproven {
			t.Errorf("%s %s", o.ID, o.Standing)
		}
	}
	for _, rule := range []string{"safety/fire-evidence", "fire-smoke/ul1784-leakage", "fire-smoke/en-13501-sa", "fire-smoke/adb2-smoke"} {
		for _, outcome := range []string{policies.Fail, policies.Unknown} {
			_, problems := project.Read("p.yaml", []byte("format: sillwright/project/1\naccepted: [{pattern: '*', rule: "+rule+", outcome: "+outcome+", reason: r, approved_by: a}]\n"), a.Policies, "2026-11-26")
			if len(problems) != 1 {
				t.Errorf("%s %s: %v", rule, outcome, problems)
			}
		}
	}
}

const shortBrush = `format: sillwright/door/1
mark: L-01
rulebooks: [spec]
door: {operation: hinged, height: 2040 mm, thickness: 40 mm, fire_rated: false, smoke_control: false}
leaves: [{id: A, width: 926 mm, gap: {readings: [{at: 0 mm, gap: 29 mm}, {at: 926 mm, gap: 29 mm}], reading_error: 0.5 mm}}]
threshold: {segments: [], openings: []}
floor: {under_seal: tile, swept: tile}
options: [{id: short, seal: brush-fine-30, set: {overlap: -2.5 mm}}]
targets: {leakage: {flow: 100000 L/s, at: 50 Pa}}
`

// A should that is made a must counts, and a must that is made a should does not: what is left of it is not known for other reasons.
func TestLevels(t *testing.T) {
	alone(t)
	a := assessor(t)
	for _, c := range []struct {
		project, rule, level, verdict string
	}{
		{"", "spec/working-range", policies.Should, Complies},
		{"levels: {spec/working-range: must}", "spec/working-range", policies.Must, Fails},
		{"rulebooks: [seal-practice]", "seal-practice/brush-touches", policies.Must, Fails},
		{"rulebooks: [seal-practice]\nlevels: {seal-practice/brush-touches: should}", "seal-practice/brush-touches", policies.Should, Unproven},
	} {
		o := option(t, assessText(t, withProject(t, a, c.project), shortBrush), "short")
		i := slices.IndexFunc(o.Findings, func(f policies.Finding) bool { return f.Rule == c.rule })
		if i < 0 || o.Findings[i].Level != c.level || o.Findings[i].Outcome != policies.Fail || o.Verdict != c.verdict {
			t.Errorf("%s: %s, %+v", c.project, o.Verdict, o.Findings)
		}
	}
}

// Levels hold before a setting is chosen: every one that was judged shows them.
func TestLevelsBeforeSettings(t *testing.T) {
	alone(t)
	a := assessor(t)
	spec := strings.Replace(shortBrush, "set: {overlap: -2.5 mm}", "set: auto", 1)
	fails := func(a *Assessor) (n int) {
		s := option(t, assessText(t, a, spec), "short").Settings
		if len(s) != 1 {
			t.Fatalf("%d settings", len(s))
		}
		for _, o := range s[0].Offered {
			if o.Verdict == Fails {
				n++
			}
		}
		return n
	}
	if without, with := fails(a), fails(withProject(t, a, "levels: {spec/working-range: must}")); without != 0 || with == 0 {
		t.Errorf("settings that fail: %d without, %d with the level", without, with)
	}
}

// With --strict an accepted should stands in the way no more than an accepted must.
func TestAcceptedUnderStrict(t *testing.T) {
	alone(t)
	a := assessor(t)
	a.Strict = true
	if r := assessText(t, a, shortBrush); r.CanOrder {
		t.Fatal("the should rule does not count")
	}
	r := assessText(t, withProject(t, a, "accepted: [{mark: L-01, rule: spec/working-range, reason: r, approved_by: a}]"), shortBrush)
	if !r.CanOrder || !r.ByAcceptance() || option(t, r, "short").Verdict != Fails {
		t.Errorf("%s, can be ordered %v", r.Verdict, r.CanOrder)
	}
}

// The variant that a spec names stands before that of the project.
func TestVariantOfTheSpecStands(t *testing.T) {
	alone(t)
	a := withProject(t, assessor(t), "rulebooks: [{id: uk-adm1-2015, variant: M4(1)}, seal-practice]")
	for spec, want := range map[string]string{
		example(t, "project/fails-a-01-annexe-threshold-of-16-mm.yaml"): "M4(2)",
		shortBrush: "M4(1)",
	} {
		docs, _ := schema.Read("d.yaml", []byte(spec))
		d, problems := a.Decode(docs[0])
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		in, _ := a.Input(d)
		if !slices.Contains(in.Rulebooks, policies.Ref{ID: "uk-adm1-2015", Variant: want}) || !slices.Contains(in.Rulebooks, policies.Ref{ID: "seal-practice"}) {
			t.Errorf("%v", in.Rulebooks)
		}
	}
}

// One project serves many doors at once; the race detector watches.
func TestProjectInParallel(t *testing.T) {
	a := withProject(t, assessor(t), `levels: {spec/working-range: must}
accepted: [{pattern: "L-*", rule: spec/working-range, reason: r, approved_by: a}, {mark: L-01, rule: spec/working-range, reason: r, approved_by: b, found: 0 mm}]`)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			docs, _ := schema.Read("d.yaml", []byte(shortBrush))
			d, problems := a.Decode(docs[0])
			if len(problems) > 0 {
				t.Error(problems)
				return
			}
			if r, err := a.Assess(context.Background(), d); err != nil || !r.ByAcceptance() || len(r.Met) != 2 {
				t.Errorf("%v, %v", r, err)
			}
		})
	}
	wait.Wait()
}

// alone leaves out, of a short run, a test of doors that are judged one after the other: the race detector learns nothing from it.
func alone(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one door after the other")
	}
}
