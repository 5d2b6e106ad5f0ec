package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
	"sillwright/policies"
	"sillwright/schema"
)

// ExplanationText writes for a person why a door fails or is not proven, and what would make it comply; nil: that was not looked for.
func ExplanationText(w io.Writer, e *explain.Explanation, a *remedy.Answer, colour bool) error {
	p := &page{colour: colour}
	p.head(e.Result)
	for _, line := range scopeLines(e) {
		p.text("", line)
	}
	n := 0
	for _, g := range e.Groups {
		title, note := groupTitle(e, g.Kind)
		p.heading(title, note)
		for i, s := range g.Sections {
			if i > 0 {
				p.blank()
			}
			n++
			p.section(n, e, g.Kind, s)
		}
	}
	p.remedies(a)
	p.toFindOut(e.Needs)
	p.cautions(e.Result)
	p.project(e.Result)
	return p.flush(w)
}

// scopeLines say what was asked for, and what is not told.
func scopeLines(e *explain.Explanation) []string {
	var out []string
	for _, o := range e.Result.Options {
		if o.ID == e.Scope.Option {
			out = append(out, "Option "+clean(o.ID)+": "+o.Verdict+".")
		}
	}
	if len(e.Others) > 0 {
		var names []string
		for _, o := range e.Others {
			names = append(names, clean(o.ID)+" ("+o.Verdict+")")
		}
		out = append(out, "Options that are not in the way, for another complies: "+strings.Join(names, ", ")+". Why one does not: --option ID.")
	}
	switch {
	case len(e.Groups) > 0:
	case e.Scope.Rule != "":
		out = append(out, "Rule "+e.Scope.Rule+" has nothing to judge here, for the door has no such part or lists no options.")
	default:
		out = append(out, "Nothing fails, and nothing is open.")
	}
	return out
}

func groupTitle(e *explain.Explanation, k explain.Kind) (title, note string) {
	switch k {
	case explain.Fails:
		return "WHY IT FAILS", ""
	case explain.Unproven:
		return "NOT PROVEN", ""
	case explain.InOptions:
		if e.Scope.Option != "" {
			return "WHY THE OPTION DOES NOT COMPLY", ""
		}
		return "WHY NO OPTION COMPLIES", ""
	case explain.Asked:
		return "THE RULE", ""
	case explain.Uncounted:
		return "DOES NOT COUNT", "should rules; --strict lets them count"
	}
	return "ACCEPTED", "being accepted does not make it met"
}

// section tells of a rule: what it asks, where it bites, and what that rests on.
func (p *page) section(n int, e *explain.Explanation, k explain.Kind, s explain.Section) {
	mark := fmt.Sprintf("%2d  ", n)
	if columns(mark)+columns(s.Rule.Title)+columns(s.Rule.ID)+1 > width {
		p.sides(mark, s.Rule.Title, "", bold)
		p.sides("    ", "", s.Rule.ID, "")
	} else {
		p.sides(mark, s.Rule.Title, s.Rule.ID, bold)
	}
	p.text("    Asks:    ", s.Rule.Asks)
	p.text("    Why:     ", s.Rule.Why)
	p.text("    Source:  ", sourceOf(s))
	for _, f := range sharing(s.Findings) {
		p.found(e.Result, k, f)
	}
	for _, text := range decisionsOf(s) {
		p.text("    Reading: ", text)
	}
	p.draw(e.Result, s)
	mark = "    Facts:   "
	for _, line := range factLines(s, mostSource) {
		p.text(mark, line)
		mark = "             "
	}
	for _, known := range s.Rule.KnownProblems {
		p.text("    Known:   ", known)
	}
}

// sourceOf says where the text of a rule was seen, and how much it counts.
func sourceOf(s explain.Section) string {
	f := s.Findings[0].Finding
	text := f.Cite
	if f.Clause != "" {
		text += ", " + f.Clause
	}
	text += ": " + seen(s.Rule, f.Provenance) + ". Level: " + f.Level
	if f.LevelWas != "" {
		text += ", by the project file; its own is " + f.LevelWas
	}
	return text + "."
}

// decisionsOf gives how the rulebook reads its text, each once.
func decisionsOf(s explain.Section) []string {
	var out []string
	for _, f := range s.Findings {
		for _, text := range f.Decisions {
			if !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return out
}

// shared is a finding that several subjects have in the same words.
type shared struct {
	explain.Finding
	subjects []string
}

// sharing puts findings that say the same of several options into one.
func sharing(findings []explain.Finding) []shared {
	var out []shared
	for _, f := range findings {
		i := slices.IndexFunc(out, func(o shared) bool { return sameTold(o.Finding, f) })
		if i < 0 {
			out = append(out, shared{f, nil})
			i = len(out) - 1
		}
		out[i].subjects = append(out[i].subjects, f.Subject)
	}
	return out
}

func sameTold(a, b explain.Finding) bool {
	return explain.OptionOf(a.Subject) != "" && explain.OptionOf(b.Subject) != "" && a.Outcome == b.Outcome && slices.Equal(a.Needs, b.Needs) && a.NotAccepted == b.NotAccepted &&
		slices.EqualFunc(a.Told, b.Told, func(x, y explain.Point) bool {
			return x.Message == y.Message && x.Found == y.Found && x.Allowed == y.Allowed && x.Do == y.Do && x.Reason == y.Reason
		})
}

// who names the options that a finding is of, before what is said of them.
func (s shared) who() string {
	var ids []string
	for _, subject := range s.subjects {
		if id := explain.OptionOf(subject); id != "" {
			ids = append(ids, clean(id))
		}
	}
	if len(ids) == 0 {
		return ""
	}
	return strings.Join(ids, ", ") + ": "
}

// outcomeBefore begins what is told where it is not plain from the heading how it came out.
func outcomeBefore(k explain.Kind, f explain.Finding) string {
	if k == explain.Fails || k == explain.Unproven {
		return ""
	}
	return map[string]string{policies.Fail: "Fails: ", policies.Unknown: "Not proven: ", policies.Pass: "Passes: ", policies.NotApplicable: "Does not apply: "}[f.Outcome]
}

// found tells each point of a finding, then what is not known.
func (p *page) found(r *assess.Result, k explain.Kind, f shared) {
	before := f.who() + outcomeBefore(k, f.Finding)
	var open []string
	for _, pt := range f.Told {
		if pt.Reason == "not-known" {
			continue
		}
		p.point("    ", withMargin(before, pt), f.Finding.Finding, r)
		if pt.Decision != nil && !slices.Contains(open, *pt.Decision) {
			open = append(open, *pt.Decision)
			p.text("    Left open: ", *pt.Decision+" Ask the authority.")
		}
		before = f.who()
	}
	for i, n := range f.Needs {
		if i == 0 && f.allUnknown() && (before != "" || f.Message != f.Title || len(f.Places) > 0) {
			p.titled("    ", before+f.Message, r, f.Places)
		}
		p.text("    Not known: ", needWords(n.Title, n.Text, n.Pointer)+".")
	}
	if f.Accepted != nil {
		p.text("    ", acceptance(f.Accepted))
	}
	p.notAccepted(f.Finding.Finding)
}

// withMargin is a point with who has it before it, and its margin beside what was found.
func withMargin(before string, pt explain.Point) policies.Point {
	out := pt.Point
	out.Message = before + out.Message
	if pt.Margin != nil && out.Found != "" {
		out.Found += ", " + pt.Margin.Words
	}
	return out
}

// allUnknown says of a finding that it compares nothing yet.
func (s shared) allUnknown() bool {
	return !slices.ContainsFunc(s.Told, func(pt explain.Point) bool { return pt.Reason != "not-known" })
}

func needWords(title, text, pointer string) string {
	if text != "" {
		title += " " + text
	}
	return title + " (" + schema.Field(pointer) + ")"
}

// draw shows where a rule bites: on the threshold, or along the gap.
func (p *page) draw(r *assess.Result, s explain.Section) {
	d, words := drawingOf(r, s)
	for _, line := range d.lines {
		p.b.WriteString("    " + line + "\n")
	}
	for _, w := range words {
		p.text("    ", w)
	}
	if d.caption != "" {
		p.text("    ", d.caption)
	}
}

// drawingOf draws where the points of a rule bite, with words on each part that is marked; nothing where they bite elsewhere.
func drawingOf(r *assess.Result, s explain.Section) (drawing, []string) {
	var pointers []string
	for _, f := range s.Findings {
		for _, pt := range f.Told {
			for _, place := range pt.Places {
				pointers = append(pointers, place.Pointer)
			}
		}
	}
	t := r.Door.Threshold
	if marked := segmentsAt(t, pointers); len(marked) > 0 {
		var words []string
		for _, i := range marked {
			words = append(words, segmentWords(t, i, r.System))
		}
		return drawThreshold(r.Door, marked), words
	}
	leaf, along, marked, angle := readingsAt(r.Door.Leaves, pointers)
	if len(along) == 0 {
		if slices.Contains(pointers, t.Pointer) && len(t.Segments) > 0 {
			return drawThreshold(r.Door, nil), nil // it bites on all of it
		}
		return drawing{}, nil
	}
	sides := [2]string{"hinge", "latch"}
	if !swings(r) {
		sides = [2]string{"left", "right"}
	}
	var words []string
	for _, i := range marked {
		text := "leaf " + clean(leaf.ID) + ", at " + along[i].At.In(r.System) + ": the gap as read is " + along[i].Gap.In(r.System)
		if angle != "" {
			text += ", open " + angle
		}
		words = append(words, text)
	}
	return drawGap(along, marked, r.System, sides), words
}

// toFindOut lists what to measure or to ask, and what that settles.
func (p *page) toFindOut(needs []explain.Need) {
	for i, n := range needs {
		if i == 0 {
			p.heading("TO FIND OUT", "")
		}
		p.text(fmt.Sprintf("%2d  ", i+1), needText(n))
		p.text("    Settles: ", settlesText(n, clean))
	}
}

func needText(n explain.Need) string {
	return upper(needWords(n.Title, strings.Join(n.Text, ", "), n.Pointer)) + ": " + n.How + "."
}

// settlesText names the rules that wait for a need, and says how many of those that count wait for nothing else.
func settlesText(n explain.Need, write func(string) string) string {
	var ids []string
	for _, id := range n.Settles {
		ids = append(ids, write(id))
	}
	text := strings.Join(ids, ", ")
	if n.Alone > 0 && n.Alone < len(n.Settles) {
		return text + fmt.Sprintf("; by itself %d of these.", n.Alone)
	}
	return text + "."
}
