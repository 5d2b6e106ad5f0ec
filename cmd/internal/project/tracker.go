package project

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/schema"
)

// The states of a deviation after a run.
const (
	Used         = "used"           // some door needs it, and it covers all that met it
	Expired      = "expired"        // it covers nothing
	Unused       = "unused"         // no door needs it
	NotMet       = "not-met"        // no door of the run needs it, and the run did not go through all doors of the job
	NoLongerFits = "no-longer-fits" // of some door something else was found
)

// mostFound is how many different things that were found are kept for a deviation.
const mostFound = 3

// Tracker counts what became of each deviation. It keeps counters, one for each, whatever the number of doors, and is fed by one
// at a time. A nil one, of no project, counts nothing.
type Tracker struct {
	Partial bool // not all doors of the job are counted: what none of them needs, another may
	project *Project
	count   []counter
}

type counter struct {
	doors, not int
	found      []string
}

// Use is what became of a deviation.
type Use struct {
	Deviation
	State string
	Doors int      // that it covers
	Not   int      // that met it, and that it does not cover
	Now   []string // what was found of these, the first few
}

// NewTracker begins to count.
func (p *Project) NewTracker() *Tracker {
	if p == nil {
		return nil
	}
	return &Tracker{project: p, count: make([]counter, len(p.Deviations))}
}

// Add counts a door by the deviations that its findings met. One that covers some of them and not others does not cover the door.
func (t *Tracker) Add(met []Met) {
	if t == nil {
		return
	}
	covers := map[int]bool{}
	for _, m := range met {
		before, seen := covers[m.Deviation]
		covers[m.Deviation] = m.Covers && (before || !seen)
		c := &t.count[m.Deviation]
		for _, found := range m.Found {
			if len(c.found) < mostFound && !slices.Contains(c.found, found) {
				c.found = append(c.found, found)
			}
		}
	}
	for i, all := range covers {
		if all {
			t.count[i].doors++
		} else {
			t.count[i].not++
		}
	}
}

// Uses tells of each deviation what became of it, in the order of the file.
func (t *Tracker) Uses() []Use {
	if t == nil {
		return nil
	}
	var out []Use
	for i, d := range t.project.Deviations {
		c := t.count[i]
		u := Use{Deviation: d, State: Used, Doors: c.doors, Not: c.not, Now: c.found}
		switch {
		case d.ended(t.project.Day):
			u.State = Expired
		case c.not > 0:
			u.State = NoLongerFits
		case c.doors == 0 && t.Partial:
			u.State = NotMet
		case c.doors == 0:
			u.State = Unused
		}
		out = append(out, u)
	}
	return out
}

// Notices gives what somebody should look at, each at its place in the project file: of a part of the doors only what these need.
func (t *Tracker) Notices() []schema.Problem {
	var out []schema.Problem
	for _, u := range t.Uses() {
		if t.Partial && u.Not == 0 {
			continue
		}
		allowed := ""
		found, do := fmt.Sprintf("a deviation from %s for %s", u.Rule, u.Whom()), ""
		switch {
		case u.State == Expired && u.Not > 0:
			found, do = found+" that ended on "+u.Acceptance.Expires, "change the door, or ask "+u.Acceptance.ApprovedBy+" to accept it again"
		case u.State == Expired:
			found, do = found+" that ended on "+u.Acceptance.Expires, "take it out: no door of this run needs it"
		case u.State == NoLongerFits:
			allowed = u.Accepts()
			found, do = found+" where now "+strings.Join(u.Now, "; ")+" is found", "change the door back, or ask "+u.Acceptance.ApprovedBy+" to accept what is found now"
		case u.State == Unused:
			found, do = found+" that no door needs", "take it out"
		default:
			continue
		}
		out = append(out, t.project.doc.Problem(u.pointer, found, allowed, do))
	}
	return out
}
