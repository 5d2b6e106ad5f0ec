package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// Text writes a result for a person: what must change first, the rule ids last.
func Text(w io.Writer, r *assess.Result, colour bool) error {
	p := &page{colour: colour}
	p.head(r)
	p.change(r, "MUST CHANGE", policies.Must)
	p.change(r, "SHOULD CHANGE", policies.Should)
	p.accepted(r)
	p.conflicts(r)
	p.needed(r, "STILL NEEDED", "", true)
	p.needed(r, "WORTH KNOWING", "does not count", false)
	p.passes(r)
	p.gap(r)
	p.options(r)
	p.cautions(r)
	p.left(r)
	p.project(r)
	p.ids(r)
	_, err := io.WriteString(w, p.b.String())
	return err
}

var verdictStyle = map[string]string{assess.Complies: green, assess.Fails: red, assess.Unproven: amber}

func (p *page) head(r *assess.Result) {
	name := clean(r.Door.Mark)
	if r.Door.Title != "" {
		name += "  " + clean(r.Door.Title)
	}
	verdict, style := strings.ToUpper(r.Verdict), verdictStyle[r.Verdict]
	if r.Held() {
		verdict, style = "NO OPTION COMPLIES", amber
	}
	if r.ByAcceptance() {
		style = amber
		if r.Verdict == assess.Complies {
			verdict = "NO OPTION COMPLIES"
		}
		verdict += ", ACCEPTED"
	}
	name = cut(name, width-len(verdict)-1)
	p.b.WriteString(p.style(bold, name) + strings.Repeat(" ", width-columns(name)-len(verdict)) + p.style(style, verdict) + "\n")
	var books []string
	for _, b := range r.Rulebooks {
		if b.Always && b.Verdict == assess.NotApplicable {
			continue
		}
		books = append(books, b.Cite+": "+b.Verdict)
	}
	file := r.Door.Document.File
	if columns(file) > width/2 {
		file = baseName(file)
	}
	p.fact("", strings.Join(books, "; "), file)
	p.text("", orderLine(r))
}

// orderLine says in a sentence whether the door can be ordered, and why not.
func orderLine(r *assess.Result) string {
	fails, unknown := count(r, policies.Fail), answersNeeded(r)
	switch {
	case r.ByAcceptance():
		text := "Can be ordered"
		if len(r.Options) > 0 {
			text += fmt.Sprintf(" with %d of its %s", max(complying(r), len(r.Cleared())), plural(len(r.Options), "option", "options"))
		}
		return text + ", for what is not met is accepted."
	case r.CanOrder && len(r.Options) > 0:
		return fmt.Sprintf("Can be ordered with %d of its %s.", complying(r), plural(len(r.Options), "option", "options"))
	case r.CanOrder:
		return "Can be ordered."
	case fails > 0:
		return fmt.Sprintf("Cannot be ordered: %s must change.", plural(fails, "thing", "things"))
	case unknown > 0:
		return fmt.Sprintf("Cannot be ordered yet: %s still needed.", plural(unknown, "answer is", "answers are"))
	case r.Verdict != r.Standing && r.Standing == assess.Complies:
		return "What is not met of the door is accepted, but none of its options complies: it cannot be ordered yet."
	case complying(r) == 0 && len(r.Options) > 0 && !r.Passes:
		return "None of its options complies: it cannot be ordered yet."
	case complying(r) == 0 && len(r.Options) > 0:
		return "The door complies, but none of its options does: it cannot be ordered yet."
	default:
		return "Cannot be ordered yet: no rule that was asked speaks of this door."
	}
}

// answersNeeded counts what has to be found out, each once however many rules wait for it, and what an authority has to decide.
func answersNeeded(r *assess.Result) int {
	asked, open := map[string]bool{}, 0
	for _, f := range r.Findings {
		if !assess.Counts(f, r.Strict) || f.Outcome != policies.Unknown || f.Accepted != nil {
			continue
		}
		for _, n := range f.Needs {
			asked[n.Fact+n.Pointer+n.Text] = true
		}
		if len(f.Needs) == 0 {
			open++
		}
	}
	return len(asked) + open
}

func count(r *assess.Result, outcome string) int {
	n := 0
	for _, f := range r.Findings {
		switch {
		case !assess.Counts(f, r.Strict) || f.Outcome != outcome || f.Accepted != nil:
		case outcome == policies.Fail:
			n += len(f.Points)
		default:
			n++
		}
	}
	return n
}

// change lists every point of the failed rules of a level.
func (p *page) change(r *assess.Result, title, level string) {
	n := 0
	for _, f := range r.Findings {
		if f.Level != level || f.Outcome != policies.Fail || f.Accepted != nil {
			continue
		}
		for _, pt := range f.Points {
			if n == 0 {
				p.heading(title, "")
			}
			n++
			p.point(fmt.Sprintf("%2d  ", n), pt, f, r)
		}
		p.notAccepted(f)
	}
}

// point writes one thing that fails or is open: what, where, found against limit, what to do.
func (p *page) point(mark string, pt policies.Point, f policies.Finding, r *assess.Result) {
	indent := strings.Repeat(" ", len(mark))
	p.titled(mark, pt.Message, r, pt.Places)
	cite := cited(f.Cite, pt.Clause, f.Provenance)
	switch {
	case pt.Found != "" && pt.Allowed != "":
		p.fact(indent, "found "+pt.Found+"; allowed "+allowed(pt), cite)
	case pt.Found != "":
		p.fact(indent, "found: "+pt.Found, cite)
	default:
		p.fact(indent, "", cite)
	}
	if f.Answered != "" {
		p.text(indent, "Settled by an answer in the spec, which rests on: "+f.Answered)
	}
	if pt.Do != "" {
		p.text(indent+"Do: ", pt.Do)
	}
}

// cited names the text and its clause, and says so where the publisher's own text was not seen.
func cited(cite, clause, provenance string) string {
	if clause != "" {
		cite += ", " + clause
	}
	switch provenance {
	case "quoted":
		cite += " (quoted)"
	case "secondary":
		cite += " (secondary: check the text)"
	}
	return cite
}

// allowed is the limit with the way that it bounds.
func allowed(pt policies.Point) string {
	if pt.Limit == nil {
		return pt.Allowed
	}
	ways := map[string]string{"<=": "at most ", ">=": "at least "}
	if pt.Limit.Unit == "1" && strings.Contains(pt.Allowed, ":") { // a slope, and no part of a whole
		ways = map[string]string{"<=": "no steeper than ", ">=": "no gentler than "}
	}
	return ways[pt.Limit.Comparator] + pt.Allowed
}

// fact writes what was found with the clause beside it, or under it if both are long.
func (p *page) fact(indent, found, cite string) {
	if columns(indent)+columns(found)+columns(cite)+2 <= width && columns(cite) <= width/2 {
		p.sides(indent, found, cite, "")
		return
	}
	if found != "" {
		p.text(indent, found)
	}
	if columns(indent)+columns(cite) > width {
		p.text(indent, cite)
		return
	}
	p.sides(indent, "", cite, "")
}

// titled writes a message with file and line beside it; of a long one, the line only.
func (p *page) titled(mark, message string, r *assess.Result, places []policies.Place) {
	if columns(mark)+columns(message) > width-12 {
		p.text(mark, message)
		mark, message = strings.Repeat(" ", columns(mark)), ""
	}
	if len(places) == 0 {
		if message != "" {
			p.sides(mark, message, "", bold)
		}
		return
	}
	line := spanOf(r, places[0]).Start.Line
	place := fmt.Sprintf("%s:%d", baseName(r.Door.Document.File), line)
	if columns(mark)+columns(message)+columns(place)+1 > width {
		place = fmt.Sprintf("line %d", line)
	}
	p.sides(mark, message, place, bold)
}

func baseName(file string) string {
	return file[strings.LastIndexAny(file, `/\`)+1:]
}

// needed lists what is open on the door: measurements to take and questions to ask. What
// counts stands apart from what does not.
func (p *page) needed(r *assess.Result, title, note string, counts bool) {
	n := 0
	for _, f := range r.Findings {
		if f.Outcome != policies.Unknown || f.Level == policies.Caution || assess.Counts(f, r.Strict) != counts || f.Accepted != nil {
			continue
		}
		if n == 0 {
			p.heading(title, note)
		}
		n++
		mark := fmt.Sprintf("%2d  ", n)
		var decided []string // one question for the authority is put once
		for _, pt := range f.Points {
			if pt.Reason == "not-known" || (pt.Reason == "left-open" && slices.Contains(decided, decision(pt))) {
				continue
			}
			p.point(mark, pt, f, r)
			mark = "    "
			if pt.Reason != "left-open" {
				continue
			}
			decided = append(decided, decision(pt))
			if pt.Decision != nil {
				p.text("    Or ask: ", "the authority. "+*pt.Decision)
			}
		}
		if mark != "    " {
			p.titled(mark, f.Message, r, f.Places)
		}
		for _, need := range f.Needs {
			p.need(need)
		}
		p.notAccepted(f)
	}
}

// decision is the reading that leaves a point open, or its message where no reading is given.
func decision(pt policies.Point) string {
	if pt.Decision == nil {
		return pt.Message
	}
	return *pt.Decision
}

// passes lists what the door meets, with what there is to spare.
func (p *page) passes(r *assess.Result) {
	first := true
	for _, f := range r.Findings {
		if f.Outcome != policies.Pass || f.Level == policies.Caution || r.Always(f.Rulebook) {
			continue
		}
		if first {
			p.heading("PASSES", "")
			first = false
		}
		text := f.Message
		if f.Found != "" && f.Allowed != "" {
			text += ": " + f.Found + ", allowed " + allowed(f.Point)
		}
		if f.Answered != "" {
			text += "; settled by an answer in the spec, which rests on: " + f.Answered
		}
		p.fact("    ", text, cited(f.Cite, f.Clause, f.Provenance))
	}
}

func (p *page) need(n policies.Need) {
	what := n.Title
	if n.Text != "" {
		what += " " + n.Text
	}
	what += " (" + schema.Field(n.Pointer) + ")"
	if slices.Contains(p.asked, what) {
		p.text("    Needed: ", what+", as above.")
		return
	}
	p.asked = append(p.asked, what)
	p.text("    Needed: ", what+": "+n.How+".")
}

func (p *page) cautions(r *assess.Result) {
	if len(r.Cautions) == 0 {
		return
	}
	p.heading("CAUTIONS", "local codes and licensed practice come first")
	for _, c := range r.Cautions {
		text := c.Text
		if len(c.Unsaid) > 0 {
			text = "Not said: " + unsaid(c.Unsaid) + ". It may apply. " + text
		}
		if c.Answered != "" {
			text += " The spec answers for it, resting on: " + c.Answered + "."
		}
		p.text("  ! ", text)
	}
}

func unsaid(needs []policies.Need) string {
	var out []string
	for _, n := range needs {
		out = append(out, n.Title+" ("+schema.Field(n.Pointer)+")")
	}
	return strings.Join(out, ", ")
}

// left says what was not judged: rules that do not apply, and what no rule here asks.
func (p *page) left(r *assess.Result) {
	var reasons []string
	titles := map[string][]string{}
	for _, f := range r.Findings {
		if f.Outcome != policies.NotApplicable || f.Level == policies.Caution || r.Always(f.Rulebook) {
			continue
		}
		if !slices.Contains(reasons, f.Message) {
			reasons = append(reasons, f.Message)
		}
		if !slices.Contains(titles[f.Message], f.Title) {
			titles[f.Message] = append(titles[f.Message], f.Title)
		}
	}
	for i, reason := range reasons {
		if i == 0 {
			p.heading("DOES NOT APPLY", "")
		}
		p.text("    ", strings.Join(titles[reason], "; ")+": "+reason+".")
	}
	p.standing(r.Rulebooks)
	first := true
	for _, b := range r.Rulebooks {
		if len(b.NotJudged) > 0 {
			if first {
				p.heading("NOT JUDGED HERE", "")
			}
			first = false
			p.text("    ", b.Cite+": "+strings.Join(b.NotJudged, "; ")+".")
		}
	}
	if len(r.Unused) > 0 {
		p.blank()
		p.text("", "Answers not used, for their rules left nothing open: "+strings.Join(r.Unused, ", ")+".")
	}
}

// ids closes the report: the rules by number, for whoever looks them up.
func (p *page) ids(r *assess.Result) {
	var ids []string
	for _, f := range r.Findings {
		if f.Level != policies.Caution && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown) && !slices.Contains(ids, f.Rule) {
			ids = append(ids, f.Rule)
		}
	}
	for _, o := range r.Options {
		for _, f := range o.Findings {
			if (f.Outcome == policies.Fail || f.Outcome == policies.Unknown) && !slices.Contains(ids, f.Rule) {
				ids = append(ids, f.Rule)
			}
		}
	}
	if len(ids) > 0 {
		p.blank()
		p.text("Rules: ", strings.Join(ids, ", ")+". One in full: sillwright rules ID")
	}
}
