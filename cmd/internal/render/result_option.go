package render

import (
	"encoding/json"
	"math"
	"strconv"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

type optionJSON struct {
	ID        string             `json:"id"`
	Verdict   string             `json:"verdict"`
	Rank      *int               `json:"rank"`
	Near      []string           `json:"too_close_to_call_with"`
	Dominated []string           `json:"dominated_by"`
	Reason    *string            `json:"reason"`
	Accepted  bool               `json:"by_acceptance"`
	Findings  []policies.Finding `json:"findings"`
	Leakage   *leakageJSON       `json:"leakage"`
	Drag      *forceJSON         `json:"drag"`
	Undragged []missingJSON      `json:"drag_missing"`
	Openings  []openingJSON      `json:"opening_force"`
	Pressure  *pressureJSON      `json:"pressure"`
	Unpressed []missingJSON      `json:"pressure_missing"`
	Latching  *latchingJSON      `json:"latching"`
	Tolerance *json.Number       `json:"tolerance_mm"`
	Life      *float64           `json:"life_cycles"`
	End       *lifeJSON          `json:"life_end"`
	House     *houseJSON         `json:"house"`
	Missing   []missingJSON      `json:"missing"`
	Taken     []string           `json:"taken"`
	Contact   []contactJSON      `json:"contact"`
	Settings  []settingJSON      `json:"settings"`
	Site      []string           `json:"on_site"`
}

type flowJSON struct {
	Flow float64 `json:"flow_lps"`
	Low  float64 `json:"low_lps"`
	High float64 `json:"high_lps"`
}

type leakageJSON struct {
	flowJSON
	At       float64    `json:"at_pa"`
	Exponent float64    `json:"exponent"`
	Basis    string     `json:"basis"`
	Largest  *string    `json:"largest_path"`
	Raised   *flowJSON  `json:"raised_1mm"`
	Doubt    *doubtJSON `json:"doubt"`
	Paths    []pathJSON `json:"paths"`
}

type doubtJSON struct {
	Name   string  `json:"name"`
	Of     *string `json:"of"`
	Share  float64 `json:"share"`
	Settle string  `json:"settle"`
}

type pathJSON struct {
	Path    string `json:"path"`
	Pointer string `json:"pointer"`
	flowJSON
	Feet  *flowJSON `json:"feet"`
	Basis string    `json:"basis"`
}

type forceJSON struct {
	Low    float64 `json:"low_n"`
	Likely float64 `json:"likely_n"`
	High   float64 `json:"high_n"`
}

type missingJSON struct {
	Pointer string `json:"pointer"`
	What    string `json:"what"`
}

type contactJSON struct {
	Leaf   string      `json:"leaf"`
	Seal   string      `json:"seal"`
	Force  *forceJSON  `json:"force"`
	Places []placeJSON `json:"places"`
	Angles []angleJSON `json:"angles"`
}

type angleJSON struct {
	Deg    json.Number `json:"deg"`
	Whole  bool        `json:"whole"`
	Force  *forceJSON  `json:"force"`
	Places []placeJSON `json:"places"`
}

type placeJSON struct {
	At      *json.Number `json:"at_mm"`
	Gap     json.Number  `json:"gap_mm"`
	Overlap json.Number  `json:"overlap_mm"`
	Drag    *rangeJSON   `json:"drag_n_per_m"`
}

type rangeJSON struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

func optionOf(r *assess.Result, o assess.Option, w wording) optionJSON {
	out := optionJSON{
		ID: o.ID, Verdict: o.Verdict, Accepted: o.ByAcceptance(), Near: append([]string{}, o.Near...), Dominated: append([]string{}, o.DominatedBy...),
		Findings: placed(r, ordered(o.Findings)), Leakage: leakageOf(o.Leakage), Drag: forceOf(o.Drag), Missing: missingOf(o.Missing), Undragged: missingOf(o.Undragged),
		Taken: append([]string{}, o.Taken...), Contact: []contactJSON{},
		Settings: settingsOf(o, w.system), Site: onSite(r, o),
		Openings: openingsOf(o.Openings), Pressure: pressureOf(o.Pressure), Unpressed: missingOf(o.Unpressed), Latching: latchingOf(o.Latching),
	}
	if o.Rank > 0 {
		out.Rank = &o.Rank
	}
	if o.Verdict == assess.Complies {
		out.Reason = pointed(w.why(o, false))
	}
	if o.Tolerance != nil {
		out.Tolerance = millimetres(*o.Tolerance)
	}
	if o.Life != nil {
		out.Life = pointed(o.Life.Likely)
	}
	out.End, out.House = lifeOf(o.Worn()), houseOf(o)
	for _, c := range o.Contact {
		out.Contact = append(out.Contact, contactOf(c))
	}
	return out
}

func missingOf(list []engine.Missing) []missingJSON {
	out := []missingJSON{}
	for _, m := range list {
		out = append(out, missingJSON{m.Pointer, m.What})
	}
	return out
}

func pointed[T any](v T) *T { return &v }

func millimetres(l quantity.Length) *json.Number { return pointed(json.Number(l.MM())) }

func contactOf(c engine.Contact) contactJSON {
	out := contactJSON{Leaf: c.Leaf, Seal: c.Seal, Force: forceOf(c.Force), Places: placesOf(c.Places, c.Force, true), Angles: []angleJSON{}}
	for _, a := range c.Angles {
		out.Angles = append(out.Angles, angleJSON{json.Number(a.Angle.Deg()), a.Whole, forceOf(a.Force), placesOf(a.Places, a.Force, a.Whole)})
	}
	return out
}

// placesOf writes what a seal meets; where stands where its places along the width are known.
func placesOf(places []engine.Touch, force *doubt.Range, where bool) []placeJSON {
	out := []placeJSON{}
	for _, t := range places {
		j := placeJSON{Gap: json.Number(t.Gap.MM()), Overlap: json.Number(t.Overlap.MM())}
		if where {
			j.At = millimetres(t.At)
		}
		if force != nil {
			j.Drag = pointed(ranged(t.Drag, 1))
		}
		out = append(out, j)
	}
	return out
}

func forceOf(r *doubt.Range) *forceJSON {
	if r == nil {
		return nil
	}
	return &forceJSON{threeFigures(r.Low, math.Floor), threeFigures(r.Likely, math.Round), threeFigures(r.High, math.Ceil)}
}

func leakageOf(l *engine.Leakage) *leakageJSON {
	if l == nil {
		return nil
	}
	out := &leakageJSON{flowJSON: flowOf(l.Range), At: l.Pressure, Exponent: math.Round(l.Exponent*100) / 100, Basis: l.Basis, Paths: []pathJSON{}}
	if raised, ok := l.Higher(quantity.Millimetre); ok {
		out.Raised = pointed(flowOf(raised.Range))
	}
	if d := l.Largest; d.Name != "" {
		out.Doubt = doubtOf(d, l.Share)
	}
	for _, c := range l.Counted {
		path := pathJSON{Path: c.Path, Pointer: c.Pointer, flowJSON: flowOf(c.Range), Basis: c.Basis}
		if c.Feet.High > 0 {
			path.Feet = pointed(flowOf(c.Feet))
		}
		out.Paths = append(out.Paths, path)
	}
	if len(l.Counted) > 0 {
		out.Largest = pointed(l.Counted[0].Path)
	}
	return out
}

func doubtOf(e doubt.Effect, share float64) *doubtJSON {
	out := &doubtJSON{Name: e.Name, Share: math.Round(share*100) / 100, Settle: e.Settle}
	if e.Of != "" {
		out.Of = pointed(e.Of)
	}
	return out
}

// flowOf writes a flow in L/s.
func flowOf(b doubt.Range) flowJSON {
	return flowJSON{threeFigures(b.Likely*1000, math.Round), threeFigures(b.Low*1000, math.Floor), threeFigures(b.High*1000, math.Ceil)}
}

// threeFigures rounds to three significant figures, for more would feign knowledge: the ends of a band outwards.
func threeFigures(v float64, round func(float64) float64) float64 {
	out, err := strconv.ParseFloat(policies.Figures(v, 3, round), 64)
	if err != nil {
		return v
	}
	return out
}
