package render

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/policies"
	"sillwright/schema"
)

// Summary counts many doors. It keeps counters, one a rule and a caution, and sums, so it does not grow with the doors.
type Summary struct {
	Files     int // read, standard input included
	Unchanged int // files that were not asked about: of their doors the marks were compared
	Skipped   int // documents that are no door spec
	Broken    int // documents that could not be judged
	Missing   int // files and folders that could not be read
	Repeated  int // doors whose mark another has
	Problems  int // told, of all of these

	doors, canOrder int
	accepted        int // can be ordered only because of accepted deviations
	held            int // comply, and no option does
	verdicts        map[string]int
	rules           map[string]*ruleCount
	cautions        map[string]*cautionCount
	house           houseSum
	project         *project.Project
	deviations      *project.Tracker
}

// NewSummary begins to count doors that are judged by a project file; nil: by none.
func NewSummary(p *project.Project) Summary { return Summary{project: p, deviations: p.NewTracker()} }

type ruleCount struct {
	Rule     string `json:"rule"`
	Fail     int    `json:"fail"`
	Unknown  int    `json:"unknown"`
	Accepted int    `json:"accepted"`
}

type cautionCount struct {
	ID      string `json:"id"`
	Doors   int    `json:"doors"`
	Unsaid  int    `json:"unsaid"`
	Text    string `json:"text"`
	Because string `json:"because"`
	name    string
}

type summaryJSON struct {
	Format   string          `json:"format"`
	MadeBy   MadeBy          `json:"made_by"`
	Inputs   inputsJSON      `json:"inputs"`
	Doors    int             `json:"doors"`
	Verdicts verdictsJSON    `json:"verdicts"`
	CanOrder int             `json:"can_be_ordered"`
	Rules    []*ruleCount    `json:"rules"`
	Cautions []*cautionCount `json:"cautions"`
	ByAccept int             `json:"accepted_doors"`
	Accepted []useJSON       `json:"accepted"`
	Project  *projectJSON    `json:"project"`
	House    *houseSumJSON   `json:"house"`
	Exit     int             `json:"exit"`
}

type inputsJSON struct {
	Files     int `json:"files"`
	Unchanged int `json:"unchanged"`
	Documents int `json:"documents"`
	Skipped   int `json:"skipped"`
	Repeated  int `json:"repeated_marks"`
	Problems  int `json:"problems"`
}

type verdictsJSON struct {
	Complies int `json:"complies"`
	Fails    int `json:"fails"`
	Unproven int `json:"unproven"`
}

// Add counts a door.
func (s *Summary) Add(r *assess.Result) {
	if s.verdicts == nil {
		s.verdicts, s.rules, s.cautions = map[string]int{}, map[string]*ruleCount{}, map[string]*cautionCount{}
	}
	s.doors++
	s.house.add(r)
	s.verdicts[r.Verdict]++
	if r.Held() {
		s.held++
	}
	if r.CanOrder {
		s.canOrder++
	}
	if r.ByAcceptance() {
		s.accepted++
	}
	s.deviations.Add(r.Met)
	for _, f := range withOutcome(r, policies.Fail) {
		s.rule(f).Fail++
	}
	for _, f := range withOutcome(r, policies.Unknown) {
		s.rule(f).Unknown++
	}
	for _, c := range r.Cautions {
		count := s.cautions[c.ID]
		if count == nil {
			count = &cautionCount{ID: c.ID, Text: c.Text, Because: c.Because, name: cautionName(r, c)}
			s.cautions[c.ID] = count
		}
		count.Doors++
		if len(c.Unsaid) > 0 {
			count.Unsaid++
		}
	}
}

func (s *Summary) rule(f *policies.Finding) *ruleCount {
	if s.rules[f.Rule] == nil {
		s.rules[f.Rule] = &ruleCount{Rule: f.Rule}
	}
	if f.Accepted != nil {
		s.rules[f.Rule].Accepted++
	}
	return s.rules[f.Rule]
}

// Notices gives what of the project file somebody should look at after the doors were counted.
func (s *Summary) Notices() []schema.Problem { return s.deviations.Notices() }

// Part says that not all doors of the job are counted.
func (s *Summary) Part() {
	if s.deviations != nil {
		s.deviations.Partial = true
	}
}

// sorted gives the counts by id.
func (s *Summary) sorted() ([]*ruleCount, []*cautionCount) {
	rules := slices.SortedFunc(maps.Values(s.rules), func(a, b *ruleCount) int { return cmp.Compare(a.Rule, b.Rule) })
	cautions := slices.SortedFunc(maps.Values(s.cautions), func(a, b *cautionCount) int { return cmp.Compare(a.ID, b.ID) })
	return rules, cautions
}

func (s *Summary) documents() int { return s.doors + s.Skipped + s.Broken }

// JSON writes the summary as one line, format sillwright/summary/1.
func (s *Summary) JSON(w io.Writer, by MadeBy, exit int) error { return line(w, s.counts(by, exit)) }

func (s *Summary) counts(by MadeBy, exit int) summaryJSON {
	rules, cautions := s.sorted()
	return summaryJSON{
		Format: "sillwright/summary/1", MadeBy: by, Inputs: inputsJSON{s.Files, s.Unchanged, s.documents(), s.Skipped, s.Repeated, s.Problems},
		Doors: s.doors, Verdicts: verdictsJSON{s.verdicts[assess.Complies], s.verdicts[assess.Fails], s.verdicts[assess.Unproven]},
		CanOrder: s.canOrder, Rules: append([]*ruleCount{}, rules...), Cautions: append([]*cautionCount{}, cautions...), ByAccept: s.accepted, Accepted: usesJSON(s.deviations.Uses()), Project: projectOf(s.project), House: s.house.json(), Exit: exit,
	}
}

// Text writes the summary for a person: the counts, the rules in the way, and each caution once in full.
func (s *Summary) Text(w io.Writer) error {
	var b strings.Builder
	if s.doors > 0 {
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "doors: %d; complies: %d (held, for no option does: %d), fails: %d, unproven: %d; can be ordered: %d", s.doors, s.verdicts[assess.Complies], s.held, s.verdicts[assess.Fails], s.verdicts[assess.Unproven], s.canOrder)
	if s.accepted > 0 {
		fmt.Fprintf(&b, " (by accepted deviations: %d)", s.accepted)
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "inputs: %s, %s; skipped: %d; could not be judged: %d\n", plural(s.Files, "file", "files"), plural(s.documents(), "document", "documents"), s.Skipped, s.Broken+s.Missing)
	if s.Unchanged > 0 {
		fmt.Fprintf(&b, "not asked about, for unchanged: %s\n", plural(s.Unchanged, "file", "files"))
	}
	if s.Repeated > 0 {
		fmt.Fprintf(&b, "doors with a mark that another has: %d\n", s.Repeated)
	}
	rules, cautions := s.sorted()
	for i, c := range rules {
		if i == 0 {
			b.WriteString("rules, by doors in which they fail or are unknown:\n")
		}
		fmt.Fprintf(&b, "  %s  fail: %d, unknown: %d", c.Rule, c.Fail, c.Unknown)
		if c.Accepted > 0 {
			fmt.Fprintf(&b, "; accepted: %d", c.Accepted)
		}
		b.WriteString("\n")
	}
	p := page{}
	p.uses(s.project, s.deviations.Uses())
	b.WriteString(p.b.String())
	s.house.text(&b)
	for i, c := range cautions {
		if i == 0 {
			b.WriteString("cautions; local codes and licensed practice come first:\n")
		}
		fmt.Fprintf(&b, "  ! %s (%s): %s\n", c.name, c.doorsText(), clean(c.Text))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// doorsText says of how many doors a caution is.
func (c *cautionCount) doorsText() string {
	text := plural(c.Doors, "door", "doors")
	if c.Unsaid > 0 {
		text += fmt.Sprintf(", %d not saying whether it applies", c.Unsaid)
	}
	return text
}
