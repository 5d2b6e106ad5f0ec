package render

import (
	"math"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/schema/door"
)

// allowanceJSON is what the house may lose.
type allowanceJSON struct {
	Whole      *float64 `json:"whole_lps"`
	Share      *float64 `json:"share"`
	Flow       *float64 `json:"flow_lps"`
	DegreeDays *float64 `json:"degree_days"`
}

type houseJSON struct {
	At50         flowJSON   `json:"leakage_50"`
	Part         *rangeJSON `json:"part"`
	AirChange    *rangeJSON `json:"air_change_50"`
	SmallArea    rangeJSON  `json:"area_4_pa_cm2"`
	LargerArea   rangeJSON  `json:"area_10_pa_cm2"`
	Infiltration flowJSON   `json:"infiltration"`
	Twentieth    flowJSON   `json:"infiltration_twentieth"`
	Conductance  rangeJSON  `json:"heat_w_per_k"`
	Yearly       *rangeJSON `json:"heat_kwh_a"`
	ByArea       *classJSON `json:"class_by_area"`
	ByJoint      *classJSON `json:"class_by_joint"`
	Taken        []string   `json:"taken"`
}

// classJSON holds classes of EN 12207, 0 for none.
type classJSON struct {
	Worst  int `json:"worst"`
	Likely int `json:"likely"`
	Best   int `json:"best"`
}

// allowanceOf is nil where the spec asks nothing of the house.
func allowanceOf(d *door.Door) *allowanceJSON {
	if !engine.Housed(d) {
		return nil
	}
	out := &allowanceJSON{}
	if whole, share, ok := engine.Allowance(d); ok {
		out.Whole = pointed(threeFigures(whole*1000, math.Round))
		if share.Known {
			out.Share, out.Flow = pointed(share.Value), pointed(threeFigures(whole*share.Value*1000, math.Round))
		}
	}
	if g := d.Site.DegreeDays; g.Known {
		out.DegreeDays = pointed(g.Value)
	}
	return out
}

func houseOf(o assess.Option) *houseJSON {
	h := o.House
	if h == nil {
		return nil
	}
	return &houseJSON{
		At50: flowOf(h.At50.Range), Part: perhaps(h.Part), AirChange: perhaps(h.AirChange),
		SmallArea: ranged(h.SmallArea, 1e4), LargerArea: ranged(h.LargerArea, 1e4),
		Infiltration: flowOf(h.Infiltration), Twentieth: flowOf(h.Twentieth),
		Conductance: ranged(h.Conductance, 1), Yearly: perhaps(h.Yearly),
		ByArea: classesOf(o.ByArea), ByJoint: classesOf(o.ByJoint), Taken: append([]string{}, h.Taken...),
	}
}

func classesOf(c *assess.AirClass) *classJSON {
	if c == nil {
		return nil
	}
	return &classJSON{c.Worst, c.Likely, c.Best}
}

func perhaps(r *doubt.Range) *rangeJSON {
	if r == nil {
		return nil
	}
	return pointed(ranged(*r, 1))
}

// ranged writes a range to three figures, its ends rounded outwards.
func ranged(r doubt.Range, per float64) rangeJSON {
	return rangeJSON{threeFigures(r.Low*per, math.Floor), threeFigures(r.Likely*per, math.Round), threeFigures(r.High*per, math.Ceil)}
}
