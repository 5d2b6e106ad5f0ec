package engine

import (
	"math"
	"slices"

	"sillwright/engine/doubt"
	"sillwright/engine/house"
	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// House is what an option means to the whole house. Every figure is indicative: see package house.
type House struct {
	At50         seal.Result  // m3/s at 50 Pa
	Part         *doubt.Range // of what the whole house may lose at 50 Pa; nil: that is not said, or is nothing
	AirChange    *doubt.Range // 1/h at 50 Pa; nil: the volume is not said
	SmallArea    doubt.Range  // opening that leaks as much at 4 Pa, Cd 1, m2
	LargerArea   doubt.Range  // the same at 10 Pa, Cd 0.611, m2
	Infiltration doubt.Range  // mean of a heating season by the laws, m3/s: see house.MeanAt
	Twentieth    doubt.Range  // mean of a year by a twentieth of At50, m3/s
	Conductance  doubt.Range  // heat that Infiltration takes, W/K
	Yearly       *doubt.Range // heat of a year, kWh; nil: the degree days are not said
	PerArea      *doubt.Range // m3/(h m2) at 100 Pa over the leaves; nil: their area is not known, or EN 12207 has no class for such a door
	PerJoint     *doubt.Range // m3/(h m) at 100 Pa over the opening joint; nil: its length is not known
	Taken        []string     // what was taken for the pressures of the weather alone
}

// Allowance is what the whole house may lose at 50 Pa, m3/s, and which part of it a door may take; false where the spec does not say
// the first. Where it is said by the volume and by the envelope, the stricter holds; where one of these is written and not known, the
// house may be allowed less than the other says, and no share of it is known.
func Allowance(d *door.Door) (whole float64, share door.Maybe[float64], ok bool) {
	t := d.Targets
	take := func(flow float64, err error) {
		if err == nil && (!ok || flow < whole) {
			whole, ok = flow, true
		}
	}
	if t.HouseVolume.Known && t.AirChange50.Known {
		take(house.ByVolume(t.HouseVolume.Value, t.AirChange50.Value))
	}
	if t.Envelope.Known && t.Permeability50.Known {
		take(house.ByEnvelope(t.Envelope.Value, t.Permeability50.Value))
	}
	share = t.Share
	share.Known = share.Known && !HalfKnown(d)
	return whole, share, ok
}

// HalfKnown says whether a measure of the house is written and not known.
func HalfKnown(d *door.Door) bool {
	return slices.ContainsFunc([]door.Maybe[float64]{d.Targets.HouseVolume, d.Targets.AirChange50, d.Targets.Envelope, d.Targets.Permeability50}, func(m door.Maybe[float64]) bool {
		return !m.Known && written(d, m.Pointer)
	})
}

func written(d *door.Door, pointer string) bool {
	if d.Document.Root == nil {
		return false
	}
	_, ok := d.Document.Root.Lookup(pointer)
	return ok
}

// Housed says whether the spec asks what the door means to the house, and the door is not an internal one.
func Housed(d *door.Door) bool {
	return (d.Targets.House || d.Site.DegreeDays.Known) && d.Leaf.Location.Value != "internal"
}

// under is what the options share at another pressure.
func (shared *scoring) under(pressure float64) *scoring {
	if pressure == shared.pressure {
		return shared
	}
	if s, ok := shared.others[pressure]; ok {
		return s
	}
	one := *shared
	one.pressure, one.paths = pressure, map[int]ownPath{}
	shared.others[pressure] = &one
	return &one
}

// house is what an option means to the house; nil where the spec does not ask, or the leakage is not known.
func (shared *scoring) house(o door.Option, known *Option) *House {
	if !Housed(shared.d) || len(known.Missing) > 0 {
		return nil
	}
	d, out := shared.d, &House{}
	at := func(pressure float64) seal.Result {
		s := shared.under(pressure).leak(o)
		for _, t := range s.out.Taken {
			if !slices.Contains(known.Taken, t) && !slices.Contains(out.Taken, t) {
				out.Taken = append(out.Taken, t)
			}
		}
		return seal.Total(s.flows...)
	}
	density := shared.air.Density
	out.At50 = at(house.TestDrop)
	out.SmallArea = house.Area(at(house.SmallDrop).Range, house.SmallDrop, density, house.SmallCd)
	out.LargerArea = house.Area(at(house.LargerDrop).Range, house.LargerDrop, density, house.LargerCd)
	out.Infiltration = house.MeanAt(at(house.MeanDrop.Low).Range, at(house.MeanDrop.Likely).Range, at(house.MeanDrop.High).Range)
	out.Twentieth = house.Mean(out.At50.Range, house.UsualDivisor)
	out.Conductance = house.Conductance(out.Infiltration, density)
	if g := d.Site.DegreeDays; g.Known {
		yearly := house.Yearly(out.Conductance, g.Value)
		out.Yearly = &yearly
	}
	if whole, _, ok := Allowance(d); ok {
		if part, ok := house.Part(out.At50.Range, whole); ok {
			out.Part = &part
		}
	}
	if v := d.Targets.HouseVolume; v.Known {
		change := house.AirChange(out.At50.Range, v.Value)
		out.AirChange = &change
	}
	sizes := fact.Set{}
	putSizes(sizes, d)
	at100 := at(classDrop).Range
	if area, ok := areaOf(sizes); ok && classed(d) {
		rate := house.PerHour(at100, area)
		out.PerArea = &rate
	}
	if joint, ok := sizes["joint_length"].Value.(int64); ok && joint > 0 {
		rate := house.PerHour(at100, float64(joint)/1e9)
		out.PerJoint = &rate
	}
	return out
}

// classed says whether EN 12207 classes such a door: roller and sectional ones are classed by EN 12426, at 50 Pa.
func classed(d *door.Door) bool {
	return !slices.Contains([]string{"roller", "sectional"}, d.Leaf.Operation.Value)
}

// classDrop is the reference pressure of the classes of EN 12207, Pa.
const classDrop = 100.0

// areaOf is the area of the leaves, m2; false where it is not known.
func areaOf(sizes fact.Set) (float64, bool) {
	size, ok := sizes["leaf_area"].Value.(map[string]any)
	if !ok {
		return 0, false
	}
	width, height := size["width"].(int64), size["height"].(int64)
	area := float64(width) / 1e9 * float64(height) / 1e9
	return area, area > 0
}

// putHouse adds the target of the house and what an option leaks at 50 Pa:
//
//	house_target  {at: 50 Pa, whole: m3/s that the house may lose, flow: the share of it that the door may take}, as far as known
//	leakage_50    {low, likely, high} m3/s at 50 Pa; where an edge is not listed, the least that it may be
func putHouse(facts fact.Set, shared *scoring, o door.Option, known Option) {
	if !shared.d.Targets.House || len(known.Missing) > 0 {
		return
	}
	var sum seal.Result
	if known.Leakage != nil && known.Leakage.Pressure == house.TestDrop {
		sum = known.Leakage.Result // predicted already
	} else {
		sum = seal.Total(shared.under(house.TestDrop).leak(o).flows...)
	}
	facts["leakage_50"] = fact.Fact{
		Value: map[string]any{"low": figures(sum.Low, math.Floor), "likely": figures(sum.Likely, math.Round), "high": figures(sum.High, math.Ceil), "at": house.TestDrop},
		At:    []string{o.Pointer}, Formula: "sum over the counted paths of the flow at 50 Pa", OrMore: !shared.d.AllListed(),
	}
}

// houseTarget is the fact of the target of the house.
func houseTarget(d *door.Door) fact.Fact {
	target := map[string]any{"at": house.TestDrop}
	if whole, share, ok := Allowance(d); ok {
		target["whole"] = whole
		if share.Known {
			target["flow"] = whole * share.Value
		}
	}
	return fact.Fact{Value: target, At: []string{"/targets/house"}, Formula: "the least of volume times air change and envelope times permeability; flow is the share of it"}
}
