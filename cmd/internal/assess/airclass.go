package assess

import (
	"fmt"
	"math/big"
	"strconv"

	"sillwright/engine/doubt"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

// classRule holds the limits of the classes of EN 12207.
const (
	classRule  = "air-leakage/en-12207-class"
	areaLimits = "area_" // and the class
)

// AirClass is the class of EN 12207 that a predicted flow stands for; 0 is none. A test decides.
type AirClass struct {
	Worst, Likely, Best int // of the high end, the likely flow and the low end, which a frame spreads over more area
}

// none takes away what the class is at worst.
func (c *AirClass) none() {
	if c != nil {
		c.Worst = 0
	}
}

// AirClasses are the classes of a flow at 100 Pa by the area of the leaves, m3/(h m2), and by the opening joint, m3/(h m); nil where
// the flow is not known. The limits are those of the rule that judges the class.
func AirClasses(p *policies.Policies, perArea, perJoint *doubt.Range) (area, joint *AirClass, err error) {
	rule, ok := p.Rule(classRule)
	if !ok {
		return nil, nil, fmt.Errorf("no rule %s", classRule)
	}
	area, err = classOf(rule, areaLimits, perArea, func(text string) (float64, error) {
		v, err := quantity.ParseFlowPerArea(text)
		return v.PerHour(), err
	})
	if err != nil {
		return nil, nil, err
	}
	joint, err = classOf(rule, "joint_", perJoint, func(text string) (float64, error) {
		v, err := quantity.ParseFlowPerLength(text)
		return v.PerHour(), err
	})
	return area, joint, err
}

// airClasses gives every option whose flow at 100 Pa is known its classes. An edge that is not listed may leak anything.
func (r *Result) airClasses(p *policies.Policies) error {
	for i, o := range r.Options {
		if o.House == nil {
			continue
		}
		area, joint, err := AirClasses(p, o.House.PerArea, o.House.PerJoint)
		if err != nil {
			return err
		}
		if !r.Door.AllListed() {
			area.none()
			joint.none()
		}
		r.Options[i].ByArea, r.Options[i].ByJoint = area, joint
	}
	return nil
}

func classOf(rule *policies.Rule, name string, flow *doubt.Range, parse func(string) (float64, error)) (*AirClass, error) {
	if flow == nil {
		return nil, nil
	}
	frame, err := partOf(rule.Limits["frame"].Part)
	if err != nil {
		return nil, err
	}
	out := &AirClass{}
	for class := 1; ; class++ {
		limit, ok := rule.Limits[name+strconv.Itoa(class)]
		if !ok {
			return out, nil
		}
		most, err := parse(limit.AtMost)
		if err != nil {
			return nil, err
		}
		low := flow.Low
		if name == areaLimits {
			low /= 1 + frame
		}
		for _, at := range []struct {
			flow  float64
			class *int
		}{{flow.High, &out.Worst}, {flow.Likely, &out.Likely}, {low, &out.Best}} {
			if at.flow <= most {
				*at.class = class
			}
		}
	}
}

// partOf reads a part such as 1/3.
func partOf(text string) (float64, error) {
	part, ok := new(big.Rat).SetString(text)
	if !ok {
		return 0, fmt.Errorf("%s: part %q of the frame", classRule, text)
	}
	f, _ := part.Float64()
	return f, nil
}
