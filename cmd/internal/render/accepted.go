package render

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/policies"
)

// acceptance words why a finding does not stand in the way.
func acceptance(a *policies.Acceptance) string {
	text := "Accepted by " + oneLine(a.ApprovedBy)
	if a.Expires != "" {
		text += ", until " + a.Expires
	}
	return text + ": " + strings.TrimSuffix(oneLine(a.Reason), ".") + "."
}

// acceptedFindings gives what is accepted of a door, then of its options.
func acceptedFindings(r *assess.Result) []policies.Finding {
	var out []policies.Finding
	add := func(findings []policies.Finding) {
		for _, f := range findings {
			if f.Accepted != nil {
				out = append(out, f)
			}
		}
	}
	add(r.Findings)
	for _, o := range r.Options {
		add(o.Findings)
	}
	return out
}

// optionsLeft says in a few words with how many of its options a door can be ordered.
func optionsLeft(r *assess.Result) string {
	all := plural(len(r.Options), "option", "options")
	if cleared := len(r.Cleared()); complying(r) == 0 && cleared > 0 {
		return fmt.Sprintf("%d of %s, by acceptance", cleared, all)
	}
	return fmt.Sprintf("%d of %s", complying(r), all)
}

// accepted lists what is not met, or not shown to be, and accepted all the same.
func (p *page) accepted(r *assess.Result) {
	for i, f := range acceptedFindings(r) {
		if i == 0 {
			p.heading("ACCEPTED", "being accepted does not make it met")
		}
		mark := fmt.Sprintf("%2d  ", i+1)
		points := f.Points
		if len(points) == 0 {
			points = []policies.Point{f.Point}
		}
		for _, pt := range points {
			if option, ok := strings.CutPrefix(f.Subject, "option:"); ok {
				pt.Message = option + ": " + pt.Message
			}
			pt.Do = ""
			p.point(mark, pt, f, r)
			mark = "    "
		}
		state := "The rule is not met. "
		if f.Outcome == policies.Unknown {
			state = "Nothing shows that the rule is met. "
		}
		p.text("    ", state+acceptance(f.Accepted))
	}
}

// notAccepted says why an acceptance that was meant for a finding does not cover it.
func (p *page) notAccepted(f policies.Finding) {
	if f.NotAccepted != "" {
		p.text("    ", f.NotAccepted+".")
	}
}

// projectJSON is the project file that a run was judged by.
type projectJSON struct {
	File      string            `json:"file"`
	AsOf      string            `json:"as_of"`
	Rulebooks []string          `json:"rulebooks"`
	Levels    map[string]string `json:"levels"`
}

func projectOf(p *project.Project) *projectJSON {
	if p == nil {
		return nil
	}
	return &projectJSON{p.File, p.Day, append([]string{}, p.AskedOfAll()...), p.Levels}
}

// lowered names the rules that are not met, or not shown to be, and that only the project makes a should: of the door, and of the options
// that it is ordered with, or that stand in the way.
func lowered(r *assess.Result) []string {
	var out []string
	take := func(findings []policies.Finding) {
		for i := range findings {
			if f := &findings[i]; isLowered(*f) && f.Accepted == nil && !slices.Contains(out, f.Rule) {
				out = append(out, f.Rule)
			}
		}
	}
	take(r.Findings)
	for _, o := range r.Options {
		if complying(r) > 0 && o.Verdict == assess.Complies {
			take(o.Findings)
		}
	}
	for _, o := range r.InTheWay() {
		take(o.Findings)
	}
	return out
}

func isLowered(f policies.Finding) bool {
	return f.LevelWas == policies.Must && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown)
}

// project names the project file by which a door was judged, and the levels that it sets.
func (p *page) project(r *assess.Result) {
	if r.Project == nil {
		return
	}
	text := fmt.Sprintf("Project file: %s, as of %s.", r.Project.File, r.Project.Day)
	all := slices.Clone(r.Findings)
	for _, o := range r.Options {
		all = append(all, o.Findings...)
	}
	if levels := r.Project.LevelsOf(all); len(levels) > 0 {
		text += " Levels that it sets: " + strings.Join(levels, ", ") + "."
	}
	p.blank()
	p.text("", text)
}

type useJSON struct {
	Mark       string   `json:"mark,omitempty"`
	Pattern    string   `json:"pattern,omitempty"`
	Rule       string   `json:"rule"`
	Option     *string  `json:"option"`
	Outcome    string   `json:"outcome"`
	Reason     string   `json:"reason"`
	ApprovedBy string   `json:"approved_by"`
	Expires    *string  `json:"expires"`
	Found      []string `json:"found"`
	State      string   `json:"state"`
	Doors      int      `json:"doors"`
	Not        int      `json:"doors_not_covered"`
	Now        []string `json:"found_now"`
}

func usesJSON(uses []project.Use) []useJSON {
	out := []useJSON{}
	for _, u := range uses {
		j := useJSON{Mark: u.Mark, Pattern: u.Pattern, Rule: u.Rule, Outcome: u.Outcome, Reason: u.Acceptance.Reason, ApprovedBy: u.Acceptance.ApprovedBy,
			Found: append([]string{}, u.Found...), State: u.State, Doors: u.Doors, Not: u.Not, Now: append([]string{}, u.Now...)}
		if u.Option != "" {
			j.Option = &u.Option
		}
		if u.Acceptance.Expires != "" {
			j.Expires = &u.Acceptance.Expires
		}
		out = append(out, j)
	}
	return out
}

// commandSigns begin a line that whoever runs a log would read as a command; where a text is broken into lines, any word may begin one.
var commandSigns = regexp.MustCompile(`(:):+|(#)#+`)

// uses lists the deviations of a project file with what became of each, for a log.
func (p *page) uses(of *project.Project, uses []project.Use) {
	if of == nil {
		return
	}
	p.text("", fmt.Sprintf("project file: %s, as of %s", of.File, of.Day))
	if len(of.Rulebooks) > 0 {
		p.text("  ", "rulebooks asked of every door: "+strings.Join(of.AskedOfAll(), ", "))
	}
	if levels := of.LevelsSet(); len(levels) > 0 {
		p.text("  ", "levels that it sets: "+strings.Join(levels, ", "))
	}
	for i, u := range uses {
		if i == 0 {
			p.text("", "accepted deviations; being accepted does not make a rule met:")
		}
		text := fmt.Sprintf("%s %s: %s. %s", whom(u), u.Rule, state(u), acceptance(u.Acceptance))
		p.text("  ", commandSigns.ReplaceAllString(text, "$1$2"))
	}
}

func whom(u project.Use) string {
	if u.Option != "" {
		return u.Whom() + ", option " + u.Option + ","
	}
	return u.Whom()
}

// state words what became of a deviation.
func state(u project.Use) string {
	used := "used by " + plural(u.Doors, "door", "doors")
	switch u.State {
	case project.Expired:
		text := "expired on " + u.Acceptance.Expires + "; it covers nothing"
		if u.Not > 0 {
			text += ", and " + plural(u.Not, "door", "doors") + " would need it"
		}
		return text
	case project.NoLongerFits:
		text := fmt.Sprintf("no longer fits %s: found now %s; accepted %s", plural(u.Not, "door", "doors"), strings.Join(u.Now, "; "), u.Accepts())
		if u.Doors > 0 {
			text += "; " + used
		}
		return text
	case project.Unused:
		return "unused: no door needs it"
	case project.NotMet:
		return "not needed by the doors of this run"
	}
	return used
}
