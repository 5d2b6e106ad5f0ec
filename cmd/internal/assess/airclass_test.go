package assess

import (
	"testing"

	"sillwright/engine/doubt"
)

// EN 12207 at 100 Pa, classes 1 to 4: 50, 27, 9, 3 m3/(h m2) and 12.5, 6.75, 2.25, 0.75 m3/(h m), as the pages of two test houses and
// of an energy adviser print them.
func TestAirClasses_Published(t *testing.T) {
	a := assessor(t)
	for i, limit := range [][2]float64{{50, 12.5}, {27, 6.75}, {9, 2.25}, {3, 0.75}} {
		class := i + 1
		at := func(over float64) (AirClass, AirClass) {
			area, joint := doubt.Between(0, limit[0]*over, 1000), doubt.Between(0, limit[1]*over, 1000)
			byArea, byJoint, err := AirClasses(a.Policies, &area, &joint)
			if err != nil {
				t.Fatal(err)
			}
			return *byArea, *byJoint
		}
		if area, joint := at(1); area != (AirClass{0, class, 4}) || joint != area {
			t.Errorf("at the limits of class %d: %v, %v", class, area, joint)
		}
		if area, joint := at(1 + 1e-9); area != (AirClass{0, class - 1, 4}) || joint != area {
			t.Errorf("just over the limits of class %d: %v, %v", class, area, joint)
		}
	}
	if area, joint, err := AirClasses(a.Policies, nil, nil); area != nil || joint != nil || err != nil {
		t.Errorf("of nothing known: %v, %v, %v", area, joint, err)
	}
}

// A frame may add a third to the area, as the rule of the class has it: 66.6 m3/(h m2) over the leaves may be 50 with it, class 1.
func TestAirClassWithFrame_Published(t *testing.T) {
	a := assessor(t)
	for flow, want := range map[float64]AirClass{66.6: {0, 0, 1}, 66.7: {0, 0, 0}} {
		at := doubt.Exactly(flow)
		if area, _, err := AirClasses(a.Policies, &at, nil); err != nil || *area != want {
			t.Errorf("%g: %v, %v; want %v", flow, area, err, want)
		}
	}
}
