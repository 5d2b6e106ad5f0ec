package catalogue

import (
	"cmp"
	"fmt"
	"slices"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

// pulls reads the pull tests of a seal: how hard a length of it drags on a floor.
func (r *reader) pulls(s *Seal) {
	group, ok := r.node.Member("pulls")
	if !ok {
		return
	}
	if s.Kind == "none" || s.Kind == "drop-seal" {
		r.problem(group.Span, "/pulls", "pull tests of a "+s.Kind, "pull tests of a seal that rubs on the floor", "take them out: it drags nothing")
		return
	}
	for i, n := range group.Items {
		s.Pulls = append(s.Pulls, r.pull(fmt.Sprintf("/pulls/%d", i), n, s.Material()))
	}
	for i, p := range s.Pulls {
		again := func(o drag.Pull) bool { return o.Overlap == p.Overlap && o.Floor == p.Floor }
		if slices.IndexFunc(s.Pulls, again) < i {
			r.problem(group.Span, "/pulls", fmt.Sprintf("two pull tests at an overlap of %s mm on %s", quantity.OfMetres(p.Overlap).MM(), p.Floor), "one an overlap and floor", "put both together, and write how far they differ as scatter")
			return
		}
	}
}

// pull reads one of them.
func (r *reader) pull(at string, n *schema.Node, of drag.Material) drag.Pull {
	p := drag.Pull{Scatter: drag.PullScatter}
	metres := 1.0
	if v, ok := n.Member("overlap"); ok {
		p.Overlap = r.length(at+"/overlap", v).Metres()
	}
	if v, ok := n.Member("length"); ok {
		if metres = r.length(at+"/length", v).Metres(); metres <= 0 {
			r.problem(v.Span, at+"/length", v.Text, "more than 0 mm", "give the length of seal that was pulled")
			metres = 1
		}
	}
	if v, ok := n.Member("force"); ok {
		force, err := quantity.ParseForce(v.Text)
		r.wrong(err, at+"/force", v, quantity.KindForce)
		p.Force = force.Newtons() / metres
	}
	if v, ok := n.Member("scatter"); ok {
		p.Scatter = r.value(at+"/scatter", v)
	}
	if v, ok := n.Member("from"); ok {
		r.from[at[1:]] = v.Text
	}
	if v, ok := n.Member("floor"); ok {
		p.Floor = v.Text
		if friction, err := drag.Friction(v.Text, of); err == nil {
			p.Friction = friction.Likely
		}
	}
	return p
}

// DragOn is what predicts the drag of the seal on a floor, with the friction there: its pull tests on that floor or, where there are
// none and a model can carry them, those on the floor that was pulled first; else its model. slides: the leaf moves along the seal, of
// which a pull across tells nothing but for bristles, which bend alike in every direction.
func (s *Seal) DragOn(floor string, slides bool) (drag.Seal, doubt.Range, error) {
	friction, err := drag.Friction(floor, s.Material())
	if err != nil {
		return nil, friction, err
	}
	if len(s.Pulls) == 0 || (slides && s.Material() != drag.Bristle) {
		if s.Drag == nil {
			return nil, friction, fmt.Errorf("the drag of %s is not predicted", s.Name)
		}
		return s.Drag, friction, nil
	}
	on := s.pulledOn(floor)
	switch {
	case len(on) == 0 && s.Drag == nil:
		return nil, friction, fmt.Errorf("%s was pulled on %s and not on this floor", s.Name, s.Pulls[0].Floor)
	case len(on) == 0:
		on = s.pulledOn(s.Pulls[0].Floor)
	case s.Drag == nil:
		friction = doubt.Exactly(1) // the tests are the drag itself
	default:
		friction = doubt.Exactly(on[0].Friction)
	}
	return drag.Pulled{Model: s.Drag, Pulls: on}, friction, nil
}

// pulledOn gives the pull tests on a floor in order of their overlaps.
func (s *Seal) pulledOn(floor string) []drag.Pull {
	on := slices.DeleteFunc(slices.Clone(s.Pulls), func(p drag.Pull) bool { return p.Floor != floor })
	slices.SortFunc(on, func(a, b drag.Pull) int { return cmp.Compare(a.Overlap, b.Overlap) })
	return on
}

// pullable says what is wrong with pull tests, floor by floor.
func (s *Seal) pullable() error {
	var errs []error
	for _, p := range s.Pulls {
		errs = append(errs, drag.Pulled{Model: s.Drag, Pulls: s.pulledOn(p.Floor)}.Check())
	}
	return doubt.First(errs...)
}
