package render

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// How much an entry weighs.
const (
	severe = "error"   // stands in the way of ordering
	minor  = "warning" // is shown and does not count
	note   = "note"    // is no failure, or one that was accepted
)

// What an entry is, where it is not the outcome of a rule.
const (
	isCaution  = "caution"
	isProblem  = "problem"
	isRepeated = "repeated"
	isNotice   = "notice"
)

// Ids of what no rule says.
const (
	inputID   = "sillwright/input"
	markID    = "sillwright/mark"
	projectID = "sillwright/project"
)

// StandardInput is how standard input is named in place of a file.
const StandardInput = "standard input"

// entry is one thing to report, for the formats that list them one by one. Its texts are as they come from the spec:
// whoever writes them escapes them.
type entry struct {
	rule     string // id
	kind     string // an outcome, or one of the kinds above
	weight   string
	mark     string // of the door; empty: not of one
	subject  string
	title    string // a few words
	message  string // a line a point
	accepted *policies.Acceptance
	file     string
	places   []schema.Span // the first is where it bites; none: not in a file
	identity []string      // what tells it from others, whatever else the file holds
}

// outcomeWords say of a door what no failure is.
var outcomeWords = map[string]string{policies.Unknown: "not proven", policies.Pass: "passes", policies.NotApplicable: "does not apply"}

// alone is an entry as a text that stands by itself, where a format shows no title: the door, what is the case if it is no
// failure, and the points, a line each. Nothing in it fails to print.
func (e entry) alone() string {
	var head []string
	if e.mark != "" {
		head = append(head, e.mark)
	}
	if e.subject != "" && e.subject != "door" {
		head = append(head, e.subject)
	}
	if word := outcomeWords[e.kind]; word != "" {
		head = append(head, word)
	}
	if e.accepted != nil {
		head = append(head, "accepted")
	}
	text := e.message
	if e.kind == isCaution {
		text = e.title + ". " + text
	}
	if len(head) > 0 {
		text = strings.ReplaceAll(strings.Join(head, ", "), "\n", " ") + ": " + text
	}
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = clean(lines[i])
	}
	return strings.Join(lines, "\n")
}

// entries are what there is to report of a door: the findings with the outcomes asked for, then the cautions. Findings of
// options are in the way where none of them complies, and left out otherwise, unless they were accepted of one that complies.
func entries(r *assess.Result, o Options) []entry {
	var out []entry
	add := func(findings []policies.Finding) {
		for _, f := range ordered(findings) {
			if f.Level != policies.Caution && slices.Contains(o.Only, f.Outcome) {
				out = append(out, finding(r, f, o))
			}
		}
	}
	add(r.Findings)
	for _, option := range r.InTheWay() {
		add(option.Findings)
	}
	for _, option := range r.Options {
		if option.Verdict == assess.Complies { // what was accepted of it, or does not count by the project alone, is shown all the same
			add(slices.DeleteFunc(slices.Clone(option.Findings), func(f policies.Finding) bool { return f.Accepted == nil && !isLowered(f) }))
		}
	}
	for _, c := range r.Cautions {
		out = append(out, caution(r, c))
	}
	return out
}

func finding(r *assess.Result, f policies.Finding, o Options) entry {
	e := entry{
		rule: f.Rule, kind: f.Outcome, weight: note, mark: r.Door.Mark, subject: f.Subject,
		title: f.Title, message: findingText(f) + leveled(f), file: r.Door.Document.File,
		accepted: f.Accepted, identity: []string{r.Door.Mark, f.Subject, f.Rule},
	}
	switch {
	case f.Outcome != policies.Fail && f.Outcome != policies.Unknown, f.Accepted != nil:
	case !assess.Counts(f, r.Strict) || f.Outcome == policies.Unknown && o.AllowUnproven:
		e.weight = minor
	default:
		e.weight = severe
	}
	for _, pt := range f.Points {
		e.places = addPlaces(r, e.places, pt.Places)
	}
	e.places = addPlaces(r, e.places, f.Places)
	for _, n := range f.Needs {
		if len(e.places) == 0 {
			e.places = append(e.places, r.Door.Document.Root.SpanOf(n.Pointer))
		}
	}
	if len(e.places) == 0 {
		e.places = []schema.Span{markSpan(r)}
	}
	return e
}

// leveled says that the project sets the level of a rule.
func leveled(f policies.Finding) string {
	if f.LevelWas == "" {
		return ""
	}
	return "\nThe project makes this rule a " + f.Level + "; its own level is " + f.LevelWas + "."
}

// addPlaces adds the spans of places that are not among them.
func addPlaces(r *assess.Result, out []schema.Span, more []policies.Place) []schema.Span {
	for _, p := range more {
		if s := spanOf(r, p); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// spanOf is where in the document of the door a finding bites.
func spanOf(r *assess.Result, p policies.Place) schema.Span {
	return r.Door.Document.Root.SpanOf(p.Pointer)
}

// placed gives findings with the spans of their places, which the document of the door knows.
func placed(r *assess.Result, findings []policies.Finding) []policies.Finding {
	spans := func(places []policies.Place) []policies.Place {
		out := slices.Clone(places)
		for i, p := range out {
			s := spanOf(r, p)
			out[i].Span = &[4]int{s.Start.Line, s.Start.Column, s.End.Line, s.End.Column}
		}
		return out
	}
	for i := range findings {
		f := &findings[i]
		f.Points = slices.Clone(f.Points)
		for k := range f.Points {
			f.Points[k].Places = spans(f.Points[k].Places)
		}
		f.Places = spans(f.Places)
	}
	return findings
}

// markSpan is where the mark of a door stands.
func markSpan(r *assess.Result) schema.Span { return r.Door.Document.Root.SpanOf("/mark") }

// oneLine is a text of somebody else's on one line: whoever wrote it over several begins none of ours.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// pointText words one point of a finding.
func pointText(f policies.Finding, pt policies.Point) string {
	line := strings.TrimSuffix(oneLine(pt.Message), ".")
	if pt.Found != "" {
		line += ": found " + pt.Found
	}
	if pt.Found != "" && pt.Allowed != "" {
		line += "; allowed " + allowed(pt)
	}
	line += " (" + cited(f.Cite, pt.Clause, f.Provenance) + ")."
	if pt.Decision != nil {
		line += " " + *pt.Decision
	}
	if pt.Do != "" {
		line += " Do: " + pt.Do
	}
	return line
}

// findingText words a finding: a line for each place where it bites, and for each need.
func findingText(f policies.Finding) string {
	var lines []string
	add := func(text string) {
		if line := oneLine(text); !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	points := f.Points
	if len(points) == 0 {
		points = []policies.Point{f.Point}
	}
	for _, pt := range points {
		add(pointText(f, pt))
	}
	for _, n := range f.Needs {
		what := n.Title
		if n.Text != "" {
			what += " " + n.Text
		}
		add("Needed: " + what + " (" + schema.Field(n.Pointer) + "): " + n.How + ".")
	}
	if a := f.Accepted; a != nil {
		add(acceptance(a))
	}
	if f.NotAccepted != "" {
		add(f.NotAccepted + ".")
	}
	if f.Answered != "" {
		add("Settled by an answer in the spec, which rests on: " + f.Answered)
	}
	return strings.Join(lines, "\n")
}

func caution(r *assess.Result, c assess.Caution) entry {
	text := c.Text
	if len(c.Unsaid) > 0 {
		text = "Not said: " + unsaid(c.Unsaid) + ". It may apply. " + text
	}
	if c.Answered != "" {
		text += " The spec answers for it, resting on: " + strings.TrimSuffix(oneLine(c.Answered), ".") + "."
	}
	return entry{
		rule: c.ID, kind: isCaution, weight: note, mark: r.Door.Mark, subject: "door", title: "Caution: " + cautionName(r, c), message: oneLine(text),
		file: r.Door.Document.File, places: []schema.Span{markSpan(r)}, identity: []string{r.Door.Mark, c.ID},
	}
}

// problem is the entry of an input that could not be judged.
func problem(p schema.Problem) entry {
	e := entry{rule: inputID, kind: isProblem, weight: severe, title: "Not judged", message: p.Error(), file: p.File}
	if e.identity = []string{p.Pointer, p.Found, p.Allowed}; p.Mark != "" {
		e.identity = []string{"mark", p.Mark, p.Pointer, p.Field}
	}
	if p.Span.Start.Line > 0 {
		e.places = []schema.Span{p.Span}
	}
	return e
}

// repeated is the entry of a mark that two doors have. Both were judged.
func repeated(p schema.Problem) entry {
	e := problem(p)
	e.rule, e.kind, e.title = markID, isRepeated, "A mark given twice"
	return e
}

// notice is the entry of what was noticed beside the doors.
func notice(p schema.Problem) entry {
	e := problem(p)
	e.rule, e.kind, e.weight, e.title = projectID, isNotice, minor, "Project file"
	return e
}

// fromHere is a file as whoever reads the report looks for it: from the folder of the run, with forward slashes. A file that has
// the name of standard input keeps the folder before it, which tells them apart.
func fromHere(file string) string {
	if file == StandardInput {
		return file
	}
	if filepath.IsAbs(file) {
		if here, err := os.Getwd(); err == nil {
			if below, err := filepath.Rel(here, file); err == nil && filepath.IsLocal(below) {
				file = below
			}
		}
	}
	file = filepath.ToSlash(filepath.Clean(file))
	if file == StandardInput {
		return "./" + file
	}
	return file
}

// notWhole says of a report how the run ended, if not all was judged.
func notWhole(end End) string {
	switch {
	case end.Interrupted:
		return cutShort
	case end.Summary != nil && end.Summary.Broken+end.Summary.Missing > 0:
		return "Not all could be judged: see what is told of " + inputID + "."
	}
	return ""
}

// ambiguous says of a report that not every mark stands for one door, if so.
func ambiguous(end End) string {
	if end.Summary == nil || end.Summary.Repeated == 0 {
		return ""
	}
	return "A mark is given to more than one door: see what is told of " + markID + "."
}
