// Package assess takes a door spec the one way through the house: read, validate,
// decode, measure, judge, rank.
package assess

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"sillwright/cmd/internal/project"
	"sillwright/engine"
	"sillwright/engine/catalogue"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// The verdicts of a rulebook, a door or an option.
const (
	Complies      = "complies"
	Fails         = "fails"
	Unproven      = "unproven"
	NotApplicable = "not-applicable"
)

// Assessor holds what every door is judged with.
type Assessor struct {
	Policies  *policies.Policies
	Catalogue *catalogue.Catalogue
	Strict    bool               // should rules count
	Order     []engine.Criterion // what complying options are ranked by
	Project   *project.Project   // what holds for every door; nil: nothing does
	Shown     []string           // the outcomes of which results have findings, those that count against a door among them; nil: all
}

// Result is what there is to say of one door.
type Result struct {
	Door      *door.Door
	Verdict   string
	Standing  string // the verdict without what is accepted, which is what ordering rests on
	CanOrder  bool
	Passes    bool // a rule that counts is met by the door, whatever its options are
	Rulebooks []BookVerdict
	Findings  []policies.Finding // of the door and its leaves
	Options   []Option           // ranked ones first, in rank order; then as written
	Order     []engine.Criterion // what they are ranked by
	Leaves    []door.Leaf        // with their true gaps, as the engine gives them
	Facts     fact.Set           // of the door
	Conflicts []Conflict
	Cautions  []Caution
	Unused    []string // rules that the spec answers for and that left nothing open
	System    quantity.System
	Strict    bool
	Project   *project.Project
	Met       []project.Met // deviations that its findings met
}

// BookVerdict is the verdict of one rulebook on the door, its leaves and the best of its options.
type BookVerdict struct {
	ID, Title, Cite, Verdict string
	Always                   bool
	NotJudged                []string // what its text asks and no rule here does
	Superseded               string   // by what and since when; "": it is current
	Own                      string   // the file of a rulebook that is not built in; "": it is
}

// Option is one option with its verdict and place.
type Option struct {
	engine.Option
	engine.Place // of a complying one
	Spec         door.Option
	Verdict      string
	Standing     string // the verdict without what is accepted; one that only this clears is not ranked
	Findings     []policies.Finding
	Settings     []Setting // of the seals that the program set
	ByArea       *AirClass // nil: its flow at 100 Pa or the area is not known, or nothing is asked of the house
	ByJoint      *AirClass // the same by the opening joint
}

// New loads the rules and the generic seals.
func New(ctx context.Context) (*Assessor, error) {
	p, err := policies.Load(ctx)
	if err != nil {
		return nil, err
	}
	return By(p)
}

// By judges by rules that are loaded.
func By(p *policies.Policies) (*Assessor, error) {
	c, err := catalogue.Generic()
	if err != nil {
		return nil, err
	}
	return &Assessor{Policies: p, Catalogue: c, Order: engine.UsualOrder()}, nil
}

// Decode validates a document and reads its door. With problems there is no door.
func (a *Assessor) Decode(doc schema.Document) (*door.Door, []schema.Problem) {
	s, err := schema.Named("door")
	if err != nil {
		return nil, []schema.Problem{{File: doc.File, Found: err.Error()}}
	}
	if what, other := OtherFormat(doc); other {
		do := "give the spec of the door"
		if what == words["seals"] {
			do = "use it beside a spec: sillwright check --seals " + doc.File + " SPEC"
		}
		return nil, []schema.Problem{doc.Problem("/format", what, "a door spec, sillwright/door/1", do)}
	}
	problems := schema.Validate(doc, s)
	d, own := door.Decode(doc)
	own = append(own, engine.Unfit(d, a.Catalogue)...)
	own = append(own, a.unknownRulebooks(d)...)
	// The decoder words a bad value better than the schema does.
	problems = slices.DeleteFunc(problems, func(p schema.Problem) bool {
		return slices.ContainsFunc(own, func(o schema.Problem) bool { return o.Pointer == p.Pointer && p.Pointer != "" })
	})
	problems = append(problems, own...)
	slices.SortStableFunc(problems, schema.ComparePlaces)
	if len(problems) > 0 {
		return nil, problems
	}
	return d, nil
}

func (a *Assessor) unknownRulebooks(d *door.Door) []schema.Problem {
	var out []schema.Problem
	report := func(pointer, found, allowed, do string) {
		out = append(out, d.Document.Problem(pointer, found, allowed, do))
	}
	for _, ref := range d.Rulebooks {
		if found, allowed, do, wrong := a.Policies.Refuse(policies.Ref{ID: ref.ID, Variant: ref.Variant}); wrong && ref.ID != "" {
			report(ref.Pointer, found, allowed, do)
		}
	}
	for _, answer := range d.Site.Answers {
		if _, ok := a.Policies.Rule(answer.Rule); !ok {
			report(answer.Pointer, fmt.Sprintf("an answer for rule %q", answer.Rule), "the id of a rule", "list them with: sillwright rules")
		}
	}
	return out
}

// Input is what the policies get for a door.
func (a *Assessor) Input(d *door.Door) (policies.Input, engine.Measured) {
	in := policies.Input{Format: policies.InputFormat, Mark: d.Mark, Answers: map[string]policies.Answer{}, System: d.System()}
	for _, ref := range d.Rulebooks {
		in.Rulebooks = append(in.Rulebooks, policies.Ref{ID: ref.ID, Variant: ref.Variant})
	}
	in.Rulebooks = a.Policies.Asked(a.Project.Asked(in.Rulebooks))
	measured := engine.Measure(d, a.Catalogue, a.Policies.Reads(in.Rulebooks)...)
	in.Subjects = measured.Subjects
	for _, answer := range d.Site.Answers {
		in.Answers[answer.Rule] = policies.Answer{Value: answer.Value, Evidence: answer.Evidence}
	}
	return in, measured
}

// Assess measures, judges and ranks one door.
func (a *Assessor) Assess(ctx context.Context, d *door.Door) (*Result, error) {
	j, err := a.settle(ctx, d)
	if err != nil {
		return nil, err
	}
	return a.conclude(d, j)
}

// conclude says what there is to say of a door that was judged, in findings of its own.
func (a *Assessor) conclude(d *door.Door, j *judged) (*Result, error) {
	r := &Result{Door: j.door, System: j.in.System, Leaves: j.leaves, Facts: j.subjects[0].Facts, Strict: a.Strict, Order: a.Order, Project: a.Project}
	guard := fireGuard(r.Facts)
	for i := range j.findings {
		f := &j.findings[i]
		guarded(f, guard)
		r.Met = append(r.Met, a.Project.Accept(d.Mark, f)...)
		if f.Level == policies.Caution {
			r.caution(a.Policies, *f)
		}
	}
	bySubject, onDoor := j.bySubject()
	r.Findings = onDoor
	r.Verdict, r.Standing = verdict(r.Findings, a.Strict), standing(r.Findings, a.Strict)
	r.options(j, bySubject)
	if err := r.airClasses(a.Policies); err != nil {
		return nil, err
	}
	for _, s := range j.subjects {
		var door []policies.Finding // what binds an option too
		if s.Kind == "option" {
			door = bySubject[j.subjects[0].ID]
		}
		r.Conflicts = append(r.Conflicts, conflicts(s.ID, bySubject[s.ID], door)...)
	}
	for _, ref := range j.in.Rulebooks {
		book, _ := a.Policies.Rulebook(ref.ID)
		r.Rulebooks = append(r.Rulebooks, BookVerdict{book.ID, book.Title, book.Cite, r.bookVerdict(book.ID), book.Always, book.NotJudged, book.Superseded, book.Own})
	}
	r.Verdict, r.Standing = r.proven(r.Verdict), r.proven(r.Standing)
	slices.SortStableFunc(r.Cautions, func(a, b Caution) int { return cmp.Compare(rank(a.ID), rank(b.ID)) })
	r.unused(j.findings)
	r.needed()
	r.CanOrder = r.Standing == Complies && (len(r.Options) == 0 || slices.ContainsFunc(r.Options, func(o Option) bool { return o.Standing == Complies }))
	r.Passes = slices.ContainsFunc(r.Findings, func(f policies.Finding) bool { return f.Outcome == policies.Pass && Counts(f, a.Strict) })
	r.show(a.Shown)
	return r, nil
}

// show leaves out findings that nobody will see.
func (r *Result) show(shown []string) {
	if shown == nil {
		return
	}
	r.Findings = withOutcomes(r.Findings, shown)
	for i := range r.Options {
		r.Options[i].Findings = withOutcomes(r.Options[i].Findings, shown)
	}
}

func withOutcomes(findings []policies.Finding, outcomes []string) []policies.Finding {
	n := 0
	for i := range findings {
		if slices.Contains(outcomes, findings[i].Outcome) {
			n++
		}
	}
	out := make([]policies.Finding, 0, n)
	for i := range findings {
		if slices.Contains(outcomes, findings[i].Outcome) {
			out = append(out, findings[i])
		}
	}
	return out
}

// proven is a verdict on the door once its options are known: where all that was asked is asked of them it complies, and where no rule
// spoke of the door nothing is proven.
func (r *Result) proven(verdict string) string {
	switch {
	case verdict != NotApplicable:
		return verdict
	case r.optionsAsked():
		return Complies
	}
	return Unproven
}

// options judges and ranks: complying ones first by rank, then the others as written.
func (r *Result) options(j *judged, findings map[string][]policies.Finding) {
	var complying []engine.Option
	var others []Option
	specs := map[string]door.Option{}
	for i, o := range j.options {
		specs[o.ID] = r.Door.Options[i]
		own := findings["option:"+o.ID]
		switch v := verdict(own, r.Strict); v {
		case Complies:
			complying = append(complying, o)
		case NotApplicable:
			v = Unproven // no rule spoke of this option: that proves nothing
			fallthrough
		default:
			others = append(others, Option{Option: o, Spec: specs[o.ID], Verdict: v, Standing: standing(own, r.Strict), Findings: own, Settings: j.settings[o.ID]})
		}
	}
	for _, ranked := range engine.Rank(complying, r.Order) {
		id := ranked.Option.ID
		r.Options = append(r.Options, Option{Option: ranked.Option, Spec: specs[id], Place: ranked.Place, Verdict: Complies, Standing: Complies, Findings: findings["option:"+id], Settings: j.settings[id]})
	}
	r.Options = append(r.Options, others...)
}

// Held is true of a door that complies and cannot be ordered all the same, for none of its options complies.
func (r *Result) Held() bool { return r.Verdict == Complies && !r.CanOrder }

// needed leaves out, of the deviations that findings met, those of options that do not stand in the way: where one complies, and where one
// is cleared by what is accepted, of the others.
func (r *Result) needed() {
	complies := slices.ContainsFunc(r.Options, func(o Option) bool { return o.Verdict == Complies })
	cleared := slices.ContainsFunc(r.Options, Option.ByAcceptance)
	r.Met = slices.DeleteFunc(r.Met, func(m project.Met) bool {
		i := slices.IndexFunc(r.Options, func(o Option) bool { return m.Subject == "option:"+o.ID })
		return i >= 0 && (complies || cleared && !r.Options[i].ByAcceptance())
	})
}

// MayComply says whether a door could be ordered, as far as is known, once all that is open has been settled.
func (r *Result) MayComply() bool {
	return r.Standing != Fails && (len(r.Options) == 0 || slices.ContainsFunc(r.Options, func(o Option) bool { return o.Standing != Fails }))
}

// ByAcceptance is true of a door that can be ordered only because of deviations that are accepted, its own or those of its options.
func (r *Result) ByAcceptance() bool {
	return r.CanOrder && (r.Verdict != Complies || len(r.Options) > 0 && !slices.ContainsFunc(r.Options, func(o Option) bool { return o.Verdict == Complies }))
}

// ByAcceptance is true of an option that does not comply and in whose way nothing stands but what is accepted.
func (o Option) ByAcceptance() bool { return o.Verdict != Complies && o.Standing == Complies }

// InTheWay gives the options whose findings stand in the way where none complies: those that only an acceptance clears, for the door is
// ordered with these, or all of them.
func (r *Result) InTheWay() []Option {
	if slices.ContainsFunc(r.Options, func(o Option) bool { return o.Verdict == Complies }) {
		return nil
	}
	if cleared := r.Cleared(); len(cleared) > 0 {
		return cleared
	}
	return r.Options
}

// Cleared gives the options that only an acceptance clears.
func (r *Result) Cleared() []Option {
	var out []Option
	for i := range r.Options {
		if r.Options[i].ByAcceptance() {
			out = append(out, r.Options[i])
		}
	}
	return out
}

// Only is a result with the findings that have one of the outcomes; the rest stays as it is.
func (r *Result) Only(outcomes []string) *Result {
	out := *r
	out.Findings, out.Options = withOutcomes(r.Findings, outcomes), slices.Clone(r.Options)
	for i := range out.Options {
		out.Options[i].Findings = withOutcomes(out.Options[i].Findings, outcomes)
	}
	return &out
}

// Always says whether a rulebook runs unasked.
func (r *Result) Always(id string) bool {
	return slices.ContainsFunc(r.Rulebooks, func(b BookVerdict) bool { return b.ID == id && b.Always })
}

// unused finds the answers that settled nothing.
func (r *Result) unused(findings []policies.Finding) {
	for _, a := range r.Door.Site.Answers {
		if !slices.ContainsFunc(findings, func(f policies.Finding) bool { return f.Rule == a.Rule && f.Answered != "" }) {
			r.Unused = append(r.Unused, a.Rule)
		}
	}
}

// fireGuard is what stands before every remedy on a door that is, or may be, a fire or smoke door.
func fireGuard(facts fact.Set) string {
	rated, smoke := facts["fire_rated"].Value, facts["smoke_control"].Value
	switch {
	case rated == true || smoke == true:
		return "only with its maker's evidence and the authority's consent, for it is a fire or smoke door: "
	case rated == nil || smoke == nil:
		return "unless it is a fire or smoke door: "
	}
	return ""
}

// guarded puts the guard before what a rule would have done to the door. What safety itself asks for stands as it is.
func guarded(f *policies.Finding, guard string) {
	if guard == "" || f.Rulebook == "safety" {
		return
	}
	if f.Do != "" {
		f.Do = guard + f.Do
	}
	if slices.ContainsFunc(f.Points, func(p policies.Point) bool { return p.Do != "" }) {
		f.Points = slices.Clone(f.Points) // the words of a rule are those of other doors, too
	}
	for i := range f.Points {
		if f.Points[i].Do != "" {
			f.Points[i].Do = guard + f.Points[i].Do
		}
	}
}
