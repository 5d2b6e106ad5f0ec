package engine

import (
	"math"
	"slices"
	"testing"

	"sillwright/engine/house"
	"sillwright/schema/door"
)

const hall = `
site: {degree_days: 2900 K d}
air: {temperature: 10 C}
door: {operation: hinged, location: external, thickness: 44 mm, height: 2 m}
leaves: [{id: A, width: 1 m, gap: {readings: [{at: 0 mm, gap: 18 mm}, {at: 500 mm, gap: 18.5 mm}, {at: 1 m, gap: 18.5 mm}], reading_error: 0.5 mm}}]
floor: {under_seal: tile, swept: tile}
options: [{id: brush, seal: brush-fine-20, set: {overlap: 0 mm}}, {id: bare, seal: none}, {id: unset, seal: brush-fine-20}]
targets: {leakage: {flow: 16 L/s, at: 75 Pa}, house: {volume: 360 m3, air_change_50: 1 1/h, share: 10 %}}
`

func hallWith(t testing.TB, change ...func(*door.Door)) *door.Door {
	t.Helper()
	d := read(t, hall)
	for _, c := range change {
		c(d)
	}
	return d
}

func optionsOf(t testing.TB, d *door.Door) []Option {
	t.Helper()
	return Measure(d, generic(t)).Options
}

// What a door means to its house follows from its flows: at 50 Pa that of a target at 50 Pa, 3600 Q/V by n50 of ISO 9972, rho c Q by the
// heat balance, and its mean from those at 0.5, 2 and 4 Pa, inwards half to all of the time.
func TestHouse_Identity(t *testing.T) {
	d := hallWith(t)
	shared := newScoring(d, generic(t))
	for i, o := range optionsOf(t, d)[:2] {
		h := o.House
		at := func(pa float64) (low, likely, high float64) {
			other := *d
			other.Targets.LeakagePressure.Value = pa
			l := optionsOf(t, &other)[i].Leakage
			return l.Low, l.Likely, l.High
		}
		low50, q50, high50 := at(50)
		low, _, _ := at(0.5)
		_, q2, _ := at(2)
		_, q4, high4 := at(4)
		_, q10, _ := at(10)
		_, q100, _ := at(100)
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"at 50 Pa", h.At50.Likely, q50}, {"at 50 Pa, low", h.At50.Low, low50}, {"at 50 Pa, high", h.At50.High, high50},
			{"part of 0.1 m3/s", h.Part.Likely, q50 / 0.1}, {"air change", h.AirChange.High, 3600 * high50 / 360},
			{"a twentieth", h.Twentieth.Low, low50 / 20}, {"mean, low", h.Infiltration.Low, low / 2}, {"mean", h.Infiltration.Likely, 0.75 * q2}, {"mean, high", h.Infiltration.High, high4},
			{"W/K", h.Conductance.Likely, shared.air.Density * 1006 * 0.75 * q2}, {"kWh", h.Yearly.Likely, shared.air.Density * 1006 * 0.75 * q2 * 24 * 2.9},
			{"area at 4 Pa", h.SmallArea.Likely, q4 * math.Sqrt(shared.air.Density/8)}, {"area at 10 Pa", h.LargerArea.Likely, q10 * math.Sqrt(shared.air.Density/20) / 0.611},
			{"over 2 m2", h.PerArea.Likely, 3600 * q100 / 2}, {"over a joint of 6 m", h.PerJoint.Likely, 3600 * q100 / 6},
		} {
			if !(math.Abs(c.got-c.want) <= 1e-9*c.want) {
				t.Errorf("%s: %s is %g, not %g", o.ID, c.what, c.got, c.want)
			}
		}
		if !(h.Infiltration.Low < h.Infiltration.Likely && h.Infiltration.Likely < h.Infiltration.High) {
			t.Errorf("%s: mean %v", o.ID, h.Infiltration)
		}
	}
}

// What is not known of the house or of the door leaves out what rests on it, and nothing else.
func TestHouseOfLittleKnown(t *testing.T) {
	if o := optionsOf(t, hallWith(t))[2]; o.House != nil || o.Leakage != nil {
		t.Errorf("of a seal that is not set: %v", o.House)
	}
	bare := func(change ...func(*door.Door)) *House { return optionsOf(t, hallWith(t, change...))[1].House }
	noTarget := func(d *door.Door) { d.Targets = door.Targets{} }
	if h := bare(noTarget); h == nil || h.Part != nil || h.AirChange != nil || h.Yearly == nil {
		t.Errorf("degree days alone: %+v", h)
	}
	noDays := func(d *door.Door) { d.Site.DegreeDays.Known = false }
	if h := bare(noDays); h == nil || h.Yearly != nil || h.Part == nil {
		t.Errorf("a target alone: %+v", h)
	}
	if h := bare(noDays, noTarget); h != nil {
		t.Errorf("nothing asked: %+v", h)
	}
	if h := bare(func(d *door.Door) { d.Leaf.Location.Value = "internal" }); h != nil {
		t.Errorf("an internal door: %+v", h)
	}
	if h := bare(func(d *door.Door) { d.Leaf.Height.Known = false }); h.PerArea != nil || h.PerJoint != nil || h.Part == nil {
		t.Errorf("no height: %+v", h)
	}
	if h := bare(func(d *door.Door) { d.Leaf.Operation.Value = "roller" }); h.PerArea != nil || h.PerJoint != nil {
		t.Errorf("a roller door: %+v", h)
	}
	if h := bare(func(d *door.Door) { d.Leaf.Operation.Value = "sliding" }); h.PerArea == nil || h.PerJoint != nil {
		t.Errorf("a sliding door: %+v", h)
	}
	if h := bare(func(d *door.Door) { d.Targets.AirChange50.Value = 0 }); h.Part != nil {
		t.Errorf("part of nothing: %+v", h)
	}
}

// Of two targets of a house the stricter holds (a decision of this project), and neither is taken by halves.
func TestAllowance(t *testing.T) {
	known := func(v float64) door.Maybe[float64] { return door.Maybe[float64]{Value: v, Known: true} }
	for _, c := range []struct {
		volume, change, area, rate door.Maybe[float64]
		want                       float64
	}{
		{known(360), known(1), known(600), known(0.3), 0.05},
		{known(360), known(0.5), known(600), known(0.6), 0.05},
		{known(360), known(1), known(600), door.Maybe[float64]{}, 0.1},
		{door.Maybe[float64]{}, known(1), known(600), known(0.6), 0.1},
		{door.Maybe[float64]{}, known(1), door.Maybe[float64]{}, known(0.6), -1},
	} {
		d := &door.Door{Targets: door.Targets{House: true, HouseVolume: c.volume, AirChange50: c.change, Envelope: c.area, Permeability50: c.rate}}
		whole, _, ok := Allowance(d)
		if ok != (c.want >= 0) || (ok && math.Abs(whole-c.want) > 1e-15) {
			t.Errorf("%+v: %g, %v", c, whole, ok)
		}
		value := houseTarget(d).Value.(map[string]any)
		if _, said := value["whole"]; said != ok || value["flow"] != nil || value["at"] != house.TestDrop {
			t.Errorf("%+v: %v", c, value)
		}
	}
}

// A seal whose tests reach only far from the pressures of the weather says so with these figures, and not with the leakage.
func TestHouseSaysWhatIsCarried(t *testing.T) {
	d := hallWith(t)
	seals := owned(t, "tested: {title: a, like: brush-fine-20, tests: [{overlap: 0 mm, floor: tile, length: 1 m, readings: [{pressure: 40 Pa, flow: 3 L/s}, {pressure: 80 Pa, flow: 5 L/s}], from: a rig}]}")
	d.Options = d.Options[:1]
	d.Options[0].Fits = slices.Clone(d.Options[0].Fits)
	d.Options[0].Fits[0].Seal.Value = "tested"
	d.Targets.LeakagePressure.Value = 50
	o := Measure(d, seals).Options[0]
	if o.House == nil || len(o.House.Taken) == 0 {
		t.Fatalf("%+v, missing %v", o.House, o.Missing)
	}
	for _, taken := range o.House.Taken {
		if slices.Contains(o.Taken, taken) {
			t.Errorf("said twice: %s", taken)
		}
	}
}

func BenchmarkHouse(b *testing.B) {
	d := hallWith(b)
	c := generic(b)
	o := newScoring(d, c).set(d.Options[0])
	for b.Loop() {
		newScoring(d, c).house(d.Options[0], &o)
	}
}
