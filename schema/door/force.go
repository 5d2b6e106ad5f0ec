package door

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sillwright/schema/quantity"
)

// ForceReadings are readings of the opening force at the latch edge.
type ForceReadings struct {
	Bands    []ForceBand     // in order of their angles
	Unplaced []UnplacedForce // readings of which an angle is not known
	Pointer  string
}

// Given says whether there is a reading at all.
func (f ForceReadings) Given() bool { return len(f.Bands)+len(f.Unplaced) > 0 }

// PressureRange is what stands on a closed leaf in use, outside less inside, from the least to the most.
type PressureRange struct {
	From, To Maybe[quantity.Pressure]
	Given    bool // either end may be unknown
	Pointer  string
}

// mostAngle is that of a leaf laid back on its wall.
const mostAngle = 180 * quantity.Degree

// readForces reads opening forces by angle.
func readForces(list cursor) ForceReadings {
	out := ForceReadings{Pointer: list.at.pointer}
	for _, b := range list.items() {
		from, to := b.child("from").angle(), b.child("to").angle()
		band := ForceBand{from.Value, to.Value, b.child("force").force(), b.at.pointer}
		switch {
		case from.Value > mostAngle: // 0 where it is not known
			b.child("from").problem(from.Value.Deg()+" deg", "up to "+mostAngle.Deg()+" deg", "check the angle: closed is 0 deg")
		case to.Value > mostAngle:
			b.child("to").problem(to.Value.Deg()+" deg", "up to "+mostAngle.Deg()+" deg", "check the angle: closed is 0 deg")
		case !from.Known || !to.Known:
			out.Unplaced = append(out.Unplaced, UnplacedForce{from, to, band.Force, b.at.pointer})
		case band.To < band.From:
			b.problem(fmt.Sprintf("from %s to %s deg", band.From.Deg(), band.To.Deg()), "from no more than to", "write the smaller angle first")
		case slices.ContainsFunc(out.Bands, band.overlaps):
			b.problem(fmt.Sprintf("%s to %s deg, which another band covers", band.From.Deg(), band.To.Deg()), "bands that do not overlap", "give each angle one force")
		default:
			out.Bands = append(out.Bands, band)
		}
	}
	slices.SortFunc(out.Bands, func(a, b ForceBand) int { return cmp.Compare(a.From, b.From) })
	return out
}

// mostPressure is far beyond wind and fans at a door.
const mostPressure = 5000 * quantity.Pascal

// readPressure reads the pressure on the closed leaf; its sign tells from which side it comes.
func readPressure(c cursor) PressureRange {
	out := PressureRange{pressureOf(c.child("from")), pressureOf(c.child("to")), c.has(), c.at.pointer}
	if out.From.Known && out.To.Known && out.From.Value > out.To.Value {
		c.problem(fmt.Sprintf("from %s to %s Pa", out.From.Value.Pa(), out.To.Value.Pa()), "from no more than to", "write the least first: the pressure outside less that inside, so that suction outside is below zero")
	}
	return out
}

// pressureOf reads a pressure to the micropascal, for a pound per square foot ends in none.
func pressureOf(c cursor) Maybe[quantity.Pressure] {
	p := c.si(quantity.KindPressure, anySign)
	out := Maybe[quantity.Pressure]{Known: p.Known, Pointer: p.Pointer}
	if most := float64(mostPressure) / float64(quantity.Pascal); p.Known && math.Abs(p.Value) > most {
		c.problem(fmt.Sprintf("%q", c.node.Text), mostPressure.Pa()+" Pa either way at most", "check the number and its unit")
		return Maybe[quantity.Pressure]{Pointer: p.Pointer}
	}
	out.Value = quantity.Pressure(math.Round(p.Value * float64(quantity.Pascal)))
	return out
}

// readCloser reads what shuts the door by itself.
func readCloser(c cursor, out *Construction) {
	out.CloserSize, out.ClosingForce = c.child("closer_size").count(), c.child("closing_force").force()
	if out.CloserSize.Known && out.Closer.Known && !out.Closer.Value {
		c.child("closer_size").problem(fmt.Sprintf("size %d, but closer: false", out.CloserSize.Value), "the size of a closer that is there", "take one of the two out")
	}
}
