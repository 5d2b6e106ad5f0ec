package render

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"net/url"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// Warner is a report that has something to say of itself, for standard error, when it is closed.
type Warner interface{ Warnings() []string }

// What GitHub takes of a run: more results than are refused with the whole report, and of those only the gravest are shown
// (GitHub documentation, SARIF support for code scanning).
const (
	gitHubTakes = 25_000
	gitHubShows = 5_000
)

// sarifFormat names the standard, OASIS SARIF 2.1.0 with its errata 01, whose sections are cited below.
const (
	sarifVersion = "2.1.0"
	sarifSchema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	sourceRoot   = "%SRCROOT%" // the folder of the run, which is taken for the root of the repository
)

// sarif is a log of one run. The results wait, for the rules that they name stand before them and are known last.
type sarif struct {
	w       io.Writer
	o       Options
	results entryList
	rules   []sarifRule
	index   map[string]int // of a rule
}

func newSARIF(w io.Writer, o Options) (Report, error) {
	return &sarif{w: w, o: o, rules: []sarifRule{}, index: map[string]int{}}, nil
}

func (s *sarif) Door(r *assess.Result) error {
	for _, e := range entries(r, s.o) {
		if err := s.add(e); err != nil {
			return err
		}
	}
	return nil
}

func (s *sarif) Problem(p schema.Problem) error { return s.add(problem(p)) }

func (s *sarif) Repeated(p schema.Problem) error { return s.add(repeated(p)) }

func (s *sarif) Notice(p schema.Problem) error { return s.add(notice(p)) }

func (s *sarif) Drop() { s.results.Drop() }

// Warnings says where the report, which is whole, is more than a service takes.
func (s *sarif) Warnings() []string {
	switch n := s.results.count; {
	case n > gitHubTakes:
		return []string{fmt.Sprintf("the report has %d results; GitHub refuses a SARIF run of more than %d: check fewer doors in a run", n, gitHubTakes)}
	case n > gitHubShows:
		return []string{fmt.Sprintf("the report has %d results; GitHub shows the %d gravest of a SARIF run", n, gitHubShows)}
	}
	return nil
}

// Close writes what stands before the results, and the results.
func (s *sarif) Close(end End) error {
	defer s.Drop()
	var head bytes.Buffer
	if err := line(&head, s.run(end)); err != nil {
		return err
	}
	before := strings.TrimSuffix(head.String(), "}\n")
	if _, err := fmt.Fprintf(s.w, `{"$schema":%q,"version":%q,"runs":[%s,"results":`, sarifSchema, sarifVersion, before); err != nil {
		return err
	}
	if err := s.results.copyTo(s.w); err != nil {
		return err
	}
	_, err := io.WriteString(s.w, "}]}\n")
	return err
}

func (s *sarif) run(end End) sarifRun {
	run := sarifRun{
		Tool:        sarifTool{sarifDriver{Name: "sillwright", Version: s.o.By.Version, Rules: s.rules}},
		Invocations: []sarifInvocation{{Successful: notWhole(end) == "", ExitCode: end.Code}},
		Bases:       map[string]sarifBase{sourceRoot: {plain("The folder that the run was started in.")}},
		Columns:     "unicodeCodePoints", // 3.14.27; a column of schema.Position is a character
		Newlines:    []string{"\r\n", "\n", "\r"},
		Properties:  map[string]any{},
	}
	told := func(level, why string) {
		if why != "" {
			run.Invocations[0].Notifications = append(run.Invocations[0].Notifications, sarifNotification{level, plain(why)})
		}
	}
	told("error", notWhole(end)) // there an error means that the run failed, 3.20.21
	told("warning", ambiguous(end))
	if end.Summary != nil {
		run.Properties["summary"] = end.Summary.counts(s.o.By, end.Code)
	}
	return run
}

func (s *sarif) add(e entry) error {
	p := e.print()
	kind, level := sarifKind(e)
	out := sarifResult{
		RuleID: e.rule, RuleIndex: s.rule(e), Kind: kind, Level: level, Message: plain(e.alone()), Locations: []sarifLocation{},
		Prints: sarifPrints{p.String()}, Suppressions: []sarifSuppression{}, // of none or of all, 3.27.23
		Properties: map[string]string{"outcome": e.kind},
	}
	for i, l := range sarifLocations(e) {
		if i == 0 {
			out.Locations = append(out.Locations, l)
		} else { // the first alone, unless all have to be changed, 3.27.12
			out.Related = append(out.Related, l)
		}
	}
	if e.mark != "" {
		out.Properties["mark"], out.Properties["subject"] = e.mark, e.subject
	}
	if e.accepted != nil {
		out.Suppressions = append(out.Suppressions, sarifSuppression{"external", "accepted", acceptance(e.accepted)})
	}
	return s.results.add(out, printsKey, p)
}

// sarifKind is the kind and the level of a result, 3.27.9 and 3.27.10: a level other than none goes with fail alone. What is
// not known is open by the standard, and then has no level, and GitHub reads no kinds: a door that cannot be ordered
// because of it would pass there. So it is a fail of its own weight, unless somebody accepted it, and outcome tells it apart.
// A caution asks a person to look, which is what review is for.
func sarifKind(e entry) (kind, level string) {
	switch e.kind {
	case policies.Pass:
		return "pass", "none"
	case policies.NotApplicable:
		return "notApplicable", "none"
	case isCaution:
		return "review", "none"
	case policies.Unknown:
		if e.accepted != nil {
			return "open", "none"
		}
	}
	return "fail", e.weight
}

// sarifLocations are the places of an entry. Standard input is no file: there is its name and the door's mark.
func sarifLocations(e entry) []sarifLocation {
	var logical []sarifLogical
	if e.mark != "" {
		logical = []sarifLogical{{FullName: e.mark}}
	}
	if e.file == "" || e.file == StandardInput {
		if len(logical) == 0 && e.file != "" {
			logical = []sarifLogical{{FullName: e.file}}
		}
		if len(logical) == 0 {
			return nil
		}
		return []sarifLocation{{Logical: logical}}
	}
	artifact := artifactOf(e.file)
	if len(e.places) == 0 {
		return []sarifLocation{{&sarifPhysical{artifact, nil}, logical}}
	}
	var out []sarifLocation
	for i, at := range e.places {
		region := &sarifRegion{at.Start.Line, at.Start.Column, at.End.Line, at.End.Column}
		if i > 0 {
			logical = nil
		}
		out = append(out, sarifLocation{&sarifPhysical{artifact, region}, logical})
	}
	return out
}

// artifactOf is a file as a URI: below the folder of the run relative to it, else absolute and then without a base, 3.4.4.
func artifactOf(file string) sarifArtifact {
	path := fromHere(file)
	parts := strings.Split(path, "/")
	for i := range parts {
		parts[i] = strings.ReplaceAll(url.PathEscape(parts[i]), ":", "%3A") // RFC 3986, 4.2: no colon in the first
	}
	out := strings.Join(parts, "/")
	if !filepath.IsAbs(filepath.FromSlash(path)) {
		return sarifArtifact{out, sourceRoot}
	}
	return sarifArtifact{URI: "file:///" + strings.TrimPrefix(out, "/")}
}

// plain makes a message of a text, in which braces would hold the place of an argument, 3.11.5, and a bracket followed by
// a parenthesis would be a link, 3.11.6.
func plain(text string) sarifMessage {
	return sarifMessage{strings.NewReplacer("{", "{{", "}", "}}", "](", "] (").Replace(text)}
}

// rule is the index of the rule of an entry, which is described when it comes up first.
func (s *sarif) rule(e entry) int {
	if i, ok := s.index[e.rule]; ok {
		return i
	}
	s.index[e.rule] = len(s.rules)
	s.rules = append(s.rules, s.describe(e))
	return s.index[e.rule]
}

func (s *sarif) describe(e entry) sarifRule {
	own := func(title, why, help string) sarifRule {
		return sarifRule{ID: e.rule, Short: plain(title), Full: plain(why), Help: plain(help), Default: sarifDefault{e.weight}, Properties: map[string]any{"tags": []string{e.kind}}}
	}
	switch e.rule {
	case inputID:
		return own("An input that could not be judged", "No rule has spoken of a door whose spec cannot be read: whether it can be ordered is not known.", "Do as the message says, and check again.")
	case markID:
		return own("A mark given twice", "A mark stands for one door: with two of one mark, nobody can tell which of them is meant, where it is ordered or accepted. Both were judged.", "Give one of the two doors another mark.")
	case projectID:
		return own("What was noticed beside the doors", "It stands in nobody's way, and tells that something of the project may be out of date.", "Do as the message says.")
	}
	r, ok := (*policies.Rule)(nil), false
	if s.o.Rule != nil {
		r, ok = s.o.Rule(e.rule)
	}
	if !ok {
		return own(clean(e.title), clean(e.title), clean(e.title))
	}
	b := r.Rulebook
	properties := map[string]any{
		"level": r.Level, "provenance": r.Provenance, "rulebook": b.ID, "text": b.Title, "edition": b.Edition, "publisher": b.Publisher, "clauses": clausesOf(r), "tags": []string{b.ID, r.Level},
	}
	for name, text := range map[string]string{"language": b.Language, "own_title": b.OwnTitle, "superseded": b.Superseded, "own": b.Own} {
		if text != "" {
			properties[name] = text
		}
	}
	return sarifRule{
		ID: r.ID, Short: plain(r.Title), Full: plain(r.Why), Help: plain(ruleHelp(r)), Default: sarifDefault{levelWeights[r.Level]},
		Properties: properties,
	}
}

var levelWeights = map[string]string{policies.Must: severe, policies.Should: minor, policies.Caution: note}

// ruleHelp tells a rule in lines: what it asks, by which text, how sure that is, and what helps.
func ruleHelp(r *policies.Rule) string {
	text := r.Rulebook.Title
	if clauses := clausesOf(r); len(clauses) > 0 {
		text += ", " + strings.Join(clauses, "; ")
	}
	lines := []string{"Asks: " + r.Asks, "Text: " + text + ".", "Source: " + seen(r, r.Provenance) + "."}
	if r.Level == policies.Caution {
		lines = append(lines, "Says: "+blanks.Replace(r.Messages["value"]), "Ask "+r.Ask.Whom+": "+r.Ask.What)
	}
	for _, part := range slices.Sorted(maps.Keys(r.Remedies)) {
		if do := "Do: " + blanks.Replace(r.Remedies[part]); !slices.Contains(lines, do) {
			lines = append(lines, do)
		}
	}
	return strings.Join(lines, "\n")
}

// clausesOf lists the clauses of a rule, each once.
func clausesOf(r *policies.Rule) []string {
	return slices.Compact(append([]string{}, slices.Sorted(maps.Values(r.Clauses))...))
}
