package catalogue

import (
	"fmt"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/engine/wear"
	"sillwright/schema"
)

// Wear is what an entry says of its life beyond the cycles that it was tested for; nil is not said.
type Wear struct {
	Recovery *doubt.Range // part of a squash that it springs back from
	Rate     *doubt.Range // specific wear rate on the floor that it is made for, m2/N
	Test     *wear.Test   // what it lost in a life test
}

// wear reads the life of a seal: cycles or class, recovery, wear rate and what it lost in a test.
func (r *reader) wear(s *Seal) {
	if n, ok := r.node.Member("life"); ok {
		r.life(s, n)
	}
	if n, ok := r.node.Member("recovery"); ok {
		part := r.numbers("recovery")
		r.fits(n, "/recovery", part.Check("recovery", 0, 1), "a part of the squash, 0 to 1", "write 0.9 for 90 per cent")
		s.Wear.Recovery = &part
	}
	if n, ok := r.node.Member("wear_rate"); ok {
		rate := r.numbers("wear_rate")
		r.fits(n, "/wear_rate", rate.Check("wear rate (mm3/(N m))", 0, 1), "0 to 1 mm3/(N m)", "give the volume worn off over force and distance, some 1e-6 to 1e-2")
		rate = doubt.Between(rate.Low*wear.CubicMillimetre, rate.Likely*wear.CubicMillimetre, rate.High*wear.CubicMillimetre)
		s.Wear.Rate = &rate
	}
	if n, ok := r.node.Member("worn"); ok {
		r.worn(s, n)
	}
}

func (r *reader) fits(n *schema.Node, key string, err error, allowed, do string) {
	if err != nil {
		r.problem(n.Span, key, err.Error(), allowed, do)
	}
}

// life reads cycles, or those of a class of EN 12400.
func (r *reader) life(s *Seal, group *schema.Node) {
	if from, ok := group.Member("from"); ok {
		r.from["life"] = from.Text
	}
	cycles, counted := group.Member("cycles")
	if counted {
		s.Life = r.value("/life/cycles", cycles)
	}
	n, ok := group.Member("class")
	if !ok {
		return
	}
	class := int(r.value("/life/class", n))
	least, ok := wear.Cycles(class)
	switch {
	case !ok: // the schema says so
	case !counted:
		s.Life = least
	case s.Life < least:
		r.problem(cycles.Span, "/life/cycles", cycles.Text, fmt.Sprintf("%g or more, which class %d of EN 12400 is tested for", least, class), "check class and cycles against the report")
	}
}

// worn reads what a life test took off.
func (r *reader) worn(s *Seal, group *schema.Node) {
	if s.Kind == "none" {
		r.problem(group.Span, "/worn", "a life test of a bare gap", "a life test of a seal", "give the seal its kind, or take it out")
		return
	}
	t := &wear.Test{}
	for key, into := range map[string]*float64{"loss": &t.Loss, "overlap": &t.Overlap, "width": &t.Width} {
		if n, ok := group.Member(key); ok {
			*into = r.length("/worn/"+key, n).Metres()
		}
	}
	if n, ok := group.Member("cycles"); ok {
		t.Cycles = r.value("/worn/cycles", n)
	}
	if n, ok := group.Member("floor"); ok {
		t.Floor = n.Text
	}
	if n, ok := group.Member("from"); ok {
		r.from["worn"] = n.Text
	}
	if t.Cycles > 0 { // else the schema says so
		r.fits(group, "/worn", t.Check(), "a loss less than the overlap, and the width of a leaf", "give the height that was lost at the latch edge, the overlap that the seal was set to over a level floor, and the width of the leaf")
	}
	if s.Life == 0 {
		s.Life = t.Cycles
	}
	s.Wear.Test = t
}

// Wearing is the seal as it wears on a floor, pressed by up to an overlap of most (m) with a friction; calibrated says that a life
// test of it, or its own wear rate, stands behind it. still is a door under which no seal rubs: there it sets only.
//
// Error: how hard it presses is not predicted, an overlap beyond half its height, a life test that no wear explains.
func (s *Seal) Wearing(floor string, friction, most float64, still bool) (out wear.Seal, calibrated bool, err error) {
	out = wear.Seal{Recovery: wear.Recovery(s.Material())}
	if s.Wear.Recovery != nil {
		out.Recovery = *s.Wear.Recovery
	}
	if still || isStill(s) {
		return s.calibrated(out, floor, doubt.Range{})
	}
	if s.Drag == nil {
		return out, false, fmt.Errorf("how hard %s presses on the floor is not predicted", s.Name)
	}
	force, factor, err := wear.Press(s.Drag, friction, max(most, s.tested()))
	if err != nil {
		return out, false, err
	}
	rate, err := wear.Rate(floor, s.Material())
	if err != nil {
		return out, false, err
	}
	out.Area, out.Force, out.Factor, out.Rate = solid(s.Drag), &force, factor, rate
	return s.calibrated(out, floor, rate)
}

// isStill says whether a seal never rubs: a gasket is pressed at the end of the way, a drop seal falls then.
func isStill(s *Seal) bool { return s.Kind == "gasket" || s.Kind == "drop-seal" }

func (s *Seal) tested() float64 {
	if s.Wear.Test == nil {
		return 0
	}
	return s.Wear.Test.Overlap
}

// calibrated puts what was measured in the place of what is judged: a life test before a wear rate.
func (s *Seal) calibrated(out wear.Seal, floor string, rate doubt.Range) (wear.Seal, bool, error) {
	switch t := s.Wear.Test; {
	case t != nil:
		changes := 1.0
		if then, err := wear.Rate(t.Floor, s.Material()); err == nil && rate.Likely > 0 {
			changes = rate.Likely / then.Likely
		}
		fitted, err := out.Calibrated(*t, changes, t.Floor == floor)
		return fitted, err == nil, err
	case s.Wear.Rate != nil && out.Force != nil:
		out.Rate = *s.Wear.Rate
		return out, true, out.Check()
	}
	return out, false, nil
}

// solid is the solid area on the floor a metre, m2/m.
func solid(of drag.Seal) float64 {
	switch d := of.(type) {
	case drag.Brush:
		return d.Solid.Likely * d.Thickness.Likely
	case drag.Blade:
		return float64(d.Lips) * d.Thickness.Likely
	}
	return 0
}
