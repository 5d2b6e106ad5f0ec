package remedy

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/schema/door"
)

// hold is what keeps a change from being made, and what would free it.
type hold struct {
	why    string
	fixed  string // the pointer of the spec that may not be changed
	answer string // the caution whose answer, on evidence, frees it
}

// The cautions of rulebook safety that answer for what is held back.
const (
	fireDoor   = "safety/fire-door"
	levelWater = "safety/level-water"
)

// onFireDoors are the moves that plane, cut, re-hang or ease a door, or change what it was tested with.
var onFireDoors = []string{"trim-leaf", "rehang-leaf", "square-leaf", "ease-door", "slow-closer", "strengthen-closer", "fit-grille", "widen-opening", "smooth-face", "press-gasket"}

// withSeals are the moves that put a seal where there was none, or another.
var withSeals = []string{"change-seal", "list-option", "close-edge"}

// heldBefore is what keeps a change of the spec of a node from being made, whatever comes of it; a hold without a why is none. Fixed are
// pointers of the user's spec.
func (n *node) heldBefore(s *spec, p proposal, c change, fixed []string) []hold {
	out := []hold{fireHold(s.door, p)}
	for _, op := range c.ops {
		path := n.lasting(op.Path)
		for _, f := range fixed {
			if within(path, f) || within(f, path) && op.Op != "add" || f == "" {
				out = append(out, hold{why: fmt.Sprintf("the spec says that `%s` may not be changed", shownPointer(f)), fixed: f})
			}
		}
	}
	return out
}

func shownPointer(pointer string) string {
	if pointer == "" {
		return "the whole spec"
	}
	return pointer
}

// answered says whether the spec answers a caution with yes, on evidence.
func answered(d *door.Door, rule string) bool {
	return slices.ContainsFunc(d.Site.Answers, func(a door.Answer) bool { return a.Rule == rule && a.Value })
}

// mayBeFire is true of a fire or smoke door, and of one of which the spec does not say that it is neither.
func mayBeFire(d *door.Door) bool {
	fire, smoke := d.Leaf.FireRated, d.Leaf.SmokeControl
	return !fire.Known || !smoke.Known || fire.Value || smoke.Value
}

// fireHold holds back what may not be done to a fire or smoke door, or to one that may be one.
func fireHold(d *door.Door, p proposal) hold {
	fire, smoke := d.Leaf.FireRated, d.Leaf.SmokeControl
	if !mayBeFire(d) || answered(d, fireDoor) {
		return hold{}
	}
	is := "a fire or smoke door"
	if !fire.Value && !smoke.Value {
		is = "a door that may be a fire or smoke door, for the spec does not say that it is not"
	}
	if slices.Contains(onFireDoors, p.move) {
		return hold{why: fmt.Sprintf("on %s nothing is planed, cut, re-hung, eased or set otherwise without its maker's evidence and the authority's consent", is), answer: fireDoor}
	}
	if !fire.Value && !smoke.Value || !slices.Contains(withSeals, p.move) {
		return hold{}
	}
	if seal := p.seal(); seal != "" && !slices.ContainsFunc(d.Evidence, func(e door.Evidence) bool { return e.Seal == seal }) {
		return hold{why: fmt.Sprintf("on %s no seal is fitted that no evidence of the spec covers, and none covers %s", is, seal)}
	}
	return hold{}
}

// seal is the seal that a proposal fits, the last word of its object; "" where it fits none.
func (p proposal) seal() string {
	if !slices.Contains(withSeals, p.move) {
		return ""
	}
	return p.object[strings.LastIndex(p.object, " ")+1:]
}

// place is the object of a proposal without the seal that it fits.
func (p proposal) place() string { return strings.TrimSuffix(p.object, p.seal()) }

// waterHold holds back what makes the step to the outside lower on a door that rain is driven at.
func waterHold(s, next *spec) hold {
	d := s.door
	external, exposed := d.Leaf.Location.Value == "external", d.Site.Exposure.Value == "exposed" || !d.Site.Exposure.Known
	if !d.Leaf.Location.Known {
		external, exposed = true, d.Site.Exposure.Value == "exposed"
	}
	if !external || !exposed || answered(d, levelWater) {
		return hold{}
	}
	before, why := s.pieces()
	after, whyNot := next.pieces()
	if why != "" || whyNot != "" || slices.Max(heights(after)) >= slices.Max(heights(before)) {
		return hold{}
	}
	is := "on an exposed door"
	if !d.Site.Exposure.Known {
		is = "on an outer door that may be exposed, for the spec does not say that it is sheltered,"
	}
	return hold{why: is + " the step that keeps rain out is not made lower until somebody answers for the water", answer: levelWater}
}
