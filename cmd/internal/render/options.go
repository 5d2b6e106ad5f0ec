package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

const nameWidth = 22

// options lists the options, complying ones in their places first.
func (p *page) options(r *assess.Result) {
	if len(r.Options) == 0 {
		p.house(r, unitOf(r))
		return
	}
	leaks := "leaks"
	if !r.Door.AllListed() {
		leaks = "by listed paths only"
	}
	u, target := unitOf(r), ""
	if t := r.Door.Targets; t.LeakagePressure.Known && t.LeakageFlow.Known {
		target = targetOf(r, u)
	}
	p.heading("OPTIONS, air at "+leakageAt(r)+" in "+u.name+", likely and its band", target)
	p.b.WriteString("    " + left("place", 7) + left("option", nameWidth) + left("at the widest gap", 19) + left(leaks, leakWidth) + "verdict\n")
	for _, o := range r.Options {
		p.b.WriteString("    " + left(rank(o), 7) + left(clean(o.ID), nameWidth-1) + " " + left(setting(o, r.System), 19) + pad(leak(o.Leakage, u), leakWidth) + p.style(verdictStyle[o.Verdict], o.Verdict) + brief(r, o) + "\n")
	}
	p.ranking(r)
	p.notes(r)
	p.settings(r)
	p.paths(r, u)
	p.basis(r)
	p.drags(r)
	p.openings(r)
	p.life(r, u)
	p.house(r, u)
}

// leakageAt words the pressure at which leakage is given.
func leakageAt(r *assess.Result) string {
	if at := r.Door.Targets.LeakagePressure; at.Known {
		return written(r, at.Pointer)
	}
	return fmt.Sprintf("%g Pa", engine.UsualPressure)
}

// flowUnit is what flows are shown in, and how many of it are one m3/s.
type flowUnit struct {
	name string
	per  float64
}

// unitOf is the unit that the target is written in; L/s in place of m3/s, in which a door's flows are all zeros.
func unitOf(r *assess.Result) flowUnit {
	text := strings.ReplaceAll(strings.ToLower(written(r, r.Door.Targets.LeakageFlow.Pointer)), "³", "3")
	for _, u := range []flowUnit{{"cfm", 60 / 0.028316846592}, {"m3/h", 3600}} {
		if strings.HasSuffix(text, u.name) {
			return u
		}
	}
	return flowUnit{"L/s", 1000}
}

// targetOf words the target as the spec writes it, and in the unit of the report where that is another.
func targetOf(r *assess.Result, u flowUnit) string {
	flow := r.Door.Targets.LeakageFlow
	text := "target at most " + written(r, flow.Pointer)
	if text = strings.TrimSpace(text); strings.HasSuffix(text, "m3/s") || strings.HasSuffix(text, "m³/s") {
		text += fmt.Sprintf(" (%g %s)", flow.Value*u.per, u.name)
	}
	return text
}

// leak is the likely flow and its band, in columns.
func leak(l *engine.Leakage, u flowUnit) string {
	if l == nil {
		return "not known"
	}
	return banded(doubt.Range(l.Range), u.per)
}

// banded is a likely figure and its band, two figures each but no more than two decimals, the band rounded outwards.
func banded(r doubt.Range, per float64) string {
	likely := figure(r.Likely*per, math.Round, 2)
	low := figure(r.Low*per, math.Floor, decimals(likely))
	if r.Likely > 0 && number(likely) == 0 {
		likely = "<0.01"
	}
	return left(likely, 6) + "(" + low + " to " + figure(r.High*per, math.Ceil, 2) + ")"
}

// figure writes two figures, with no more than so many decimals.
func figure(v float64, round func(float64) float64, most int) string {
	text := policies.Significant(v, round)
	if decimals(text) > most {
		scale := math.Pow(10, float64(most))
		text = strconv.FormatFloat(round(v*scale)/scale, 'f', most, 64)
	}
	return text
}

func decimals(figure string) int {
	_, fraction, _ := strings.Cut(figure, ".")
	return len(fraction)
}

// brief says in a few words what keeps an option from complying, or from being worth a look.
func brief(r *assess.Result, o assess.Option) string {
	if len(o.DominatedBy) > 0 {
		return ", dominated"
	}
	if o.ByAcceptance() {
		return ", accepted"
	}
	alone := ""
	for _, f := range failuresFirst(o.Findings) {
		if f.Level == policies.Caution || len(f.Points) == 0 || f.Accepted != nil {
			continue
		}
		switch {
		case !assess.Counts(f, r.Strict):
			continue
		case tooHeavyAlone(r, f):
			alone = ", as the door alone"
			continue
		case f.Rule == houseRule && f.Outcome == policies.Fail:
			return ", over house limit"
		case f.Rule == houseRule && f.Reason == "too-close":
			return ", house in band"
		case f.Question == "band-at-most" && f.Outcome == policies.Fail:
			return ", over target"
		case f.Question == "band-at-most" && f.Reason == "too-close":
			return ", target in band"
		}
		return ", see below"
	}
	return alone
}

// failuresFirst gives what fails, then what is unknown, each in its order.
func failuresFirst(findings []policies.Finding) []policies.Finding {
	var out []policies.Finding
	for _, outcome := range []string{policies.Fail, policies.Unknown} {
		for _, f := range findings {
			if f.Outcome == outcome {
				out = append(out, f)
			}
		}
	}
	return out
}

// notes are sentences on options. Options with the same sentence share it, and how to find out what several of them need is said once.
type notes struct {
	texts []string
	names map[string][]string
	hows  map[string][]string // by sentence
}

// finding adds what keeps an option from passing, or what it needs: a note for each place where it bites.
func (n *notes) finding(o assess.Option, before string, f policies.Finding) {
	n.one(o, before, f)
	for i := range f.Points {
		if i > 0 && f.Points[i].Reason != "not-known" {
			f.Point, f.Needs, f.NotAccepted = f.Points[i], nil, ""
			n.one(o, before, f)
		}
	}
}

func (n *notes) one(o assess.Option, before string, f policies.Finding) {
	text := before + reason(f)
	if n.hows == nil {
		n.hows = map[string][]string{}
	}
	n.hows[text] = nil
	for _, need := range f.Needs {
		n.hows[text] = append(n.hows[text], need.How)
	}
	n.add(o, text)
}

func (n *notes) add(o assess.Option, text string) {
	if n.names == nil {
		n.names = map[string][]string{}
	}
	if n.names[text] == nil {
		n.texts = append(n.texts, text)
	}
	n.names[text] = append(n.names[text], clean(o.ID))
}

func (p *page) write(n notes) {
	var said []string
	for _, text := range n.texts {
		brief := text
		for _, how := range n.hows[text] {
			if how != "" && slices.ContainsFunc(said, func(s string) bool { return strings.HasPrefix(s, how) }) {
				brief = strings.Replace(brief, ": "+how, ", as above", 1)
			}
			said = append(said, how)
		}
		p.text("    "+strings.Join(n.names[text], ", ")+": ", brief)
	}
}

// notes says what else there is to know of the options: how they hang and what is open.
func (p *page) notes(r *assess.Result) {
	var n notes
	for _, o := range r.Options {
		if o.Title != "" {
			n.add(o, clean(o.Title)+".")
		}
		for _, c := range o.Contact {
			if c.Hangs > 0 {
				n.add(o, fmt.Sprintf("%s is %s high: its carrier hangs %s below leaf %s at the widest gap.", c.Seal, c.Length.In(r.System), c.Hangs.In(r.System), clean(c.Leaf)))
			}
		}
		for _, counts := range []bool{true, false} {
			for _, f := range o.Findings {
				said := f.Level == policies.Caution || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) || f.Accepted != nil || saidElsewhere(r, o, f)
				if f.NotAccepted != "" && saidElsewhere(r, o, f) && assess.Counts(f, r.Strict) == counts {
					n.add(o, f.NotAccepted+".")
				}
				switch {
				case said || assess.Counts(f, r.Strict) != counts:
				case counts:
					n.finding(o, "", heaviest(f))
				default:
					n.finding(o, "Should: ", heaviest(f))
				}
			}
		}
		for _, m := range o.Missing {
			n.add(o, "needed: "+clean(m.What)+" ("+schema.Field(m.Pointer)+").")
		}
	}
	p.write(n)
}

// saidElsewhere is true of what the table, a note on what is missing, or the same rule of the door says already.
func saidElsewhere(r *assess.Result, o assess.Option, f policies.Finding) bool {
	if tooHeavyAlone(r, f) {
		return true
	}
	if f.Question == "band-at-most" && (f.Rule != houseRule || f.Outcome != policies.Fail) && f.Reason != "not-known" {
		return true
	}
	return f.Rulebook == "spec" && f.Outcome == policies.Unknown && len(o.Missing) > 0
}

// setting is how the bottom seal is set, in a few words.
func setting(o assess.Option, s quantity.System) string {
	var sets []quantity.Length
	for _, f := range o.Spec.Fits {
		if f.Edge == "bottom" && f.Overlap.Known && !slices.Contains(sets, f.Overlap.Value) {
			sets = append(sets, f.Overlap.Value)
		}
	}
	if len(sets) == 0 {
		return "-"
	}
	if len(sets) > 1 {
		return "differs by seal"
	}
	return pressed(sets[0], s)
}

// reason words an option's finding in one sentence.
func reason(f policies.Finding) string {
	text := f.Message
	if f.Found != "" && f.Allowed != "" {
		text += ": found " + f.Found + ", allowed " + allowed(f.Point)
	}
	if f.Clause != "" && f.Provenance != "own" {
		text += ", by " + cited(f.Cite, f.Clause, f.Provenance)
	}
	if f.Do != "" {
		text += ". Do: " + strings.TrimSuffix(f.Do, ".")
	}
	for _, n := range f.Needs {
		if n.Fact == "leakage" {
			continue // what it lacks is a note of its own
		}
		text += ". Needed: " + strings.TrimSpace(n.Title+" "+n.Text) + " (" + schema.Field(n.Pointer) + "): " + n.How
	}
	if f.NotAccepted != "" {
		text = strings.TrimSuffix(text, ".") + ". " + f.NotAccepted
	}
	return strings.TrimSuffix(text, ".") + "."
}

// written gives a value as the spec writes it.
func written(r *assess.Result, pointer string) string {
	if n, ok := r.Door.Document.Root.Lookup(pointer); ok {
		return clean(n.Text)
	}
	return ""
}
