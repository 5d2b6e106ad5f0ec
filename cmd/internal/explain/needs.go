package explain

import (
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// Need is something to measure or to ask.
type Need struct {
	Fact, Title, How, Pointer string
	Text                      []string // what of it, such as a range of angles
	Settles                   []string // the rules that wait for it, with the option where that is one's
	Alone                     int      // how many findings that count wait for nothing else
}

// Needs are all that findings which are unknown wait for, of the door and of the options that could still comply, in the order in which
// they are found.
func Needs(r *assess.Result) []Need {
	var out []Need
	take := func(findings []policies.Finding) {
		for _, f := range findings {
			if f.Outcome != policies.Unknown || f.Level == policies.Caution || f.Accepted != nil {
				continue
			}
			for _, n := range f.Needs {
				i := slices.IndexFunc(out, func(o Need) bool { return o.Fact == n.Fact && o.Pointer == n.Pointer })
				if i < 0 {
					out = append(out, Need{Fact: n.Fact, Title: n.Title, How: n.How, Pointer: n.Pointer})
					i = len(out) - 1
				}
				out[i].add(f, n, len(f.Needs) == 1 && assess.Counts(f, r.Strict))
			}
		}
	}
	take(r.Findings)
	for _, o := range r.Options {
		if o.Standing != assess.Fails { // nothing that is found out would help the others
			take(o.Findings)
		}
	}
	return out
}

func (n *Need) add(f policies.Finding, own policies.Need, alone bool) {
	if own.Text != "" && !slices.Contains(n.Text, own.Text) {
		n.Text = append(n.Text, own.Text)
	}
	settles := f.Rule
	if OptionOf(f.Subject) != "" {
		settles += " " + f.Subject
	}
	if !slices.Contains(n.Settles, settles) {
		n.Settles = append(n.Settles, settles)
	}
	if alone {
		n.Alone++
	}
}
