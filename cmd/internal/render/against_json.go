package render

import (
	"encoding/json"
	"io"
	"math"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/engine"
	"sillwright/engine/wear"
	"sillwright/policies"
)

type comparisonJSON struct {
	headJSON
	Ahead      *string           `json:"ahead"`
	By         *engine.Criterion `json:"by"`
	Conclusion string            `json:"conclusion"`
	Settle     *string           `json:"settle"`
	A          comparedJSON      `json:"a"`
	B          comparedJSON      `json:"b"`
	Rules      []rulePairJSON    `json:"rules"`
	Alike      []string          `json:"rules_alike"`
	Difference *moreJSON         `json:"leakage_difference"`
	Paths      []pathPairJSON    `json:"paths"`
	Cautions   []oneCautionJSON  `json:"cautions_of_one"`
	Lacks      []lackJSON        `json:"known_of_one"`
}

// comparedJSON is what is compared of one option.
type comparedJSON struct {
	ID           string        `json:"id"`
	Verdict      string        `json:"verdict"`
	Accepted     bool          `json:"by_acceptance"`
	Leakage      *flowAtJSON   `json:"leakage"`
	Drag         *forceJSON    `json:"drag"`
	Openings     []openingJSON `json:"opening_force"`
	Latching     *latchingJSON `json:"latching"`
	NothingToSet bool          `json:"nothing_to_set"`
	Tolerance    *json.Number  `json:"tolerance_mm"`
	Life         *float64      `json:"life_cycles"`
	Years        *float64      `json:"life_years"`
	End          *flowJSON     `json:"leakage_in_the_end"`
	Site         []string      `json:"on_site"`
}

type flowAtJSON struct {
	flowJSON
	At float64 `json:"at_pa"`
}

type rulePairJSON struct {
	Rule   string         `json:"rule"`
	Title  string         `json:"title"`
	Level  string         `json:"level"`
	Counts bool           `json:"counts"`
	A      *ruledPairJSON `json:"a"`
	B      *ruledPairJSON `json:"b"`
}

type ruledPairJSON struct {
	Outcome  string          `json:"outcome"`
	Accepted bool            `json:"accepted"`
	Clause   string          `json:"clause"`
	Message  string          `json:"message"`
	Found    *string         `json:"found"`
	Allowed  *string         `json:"allowed"`
	Needs    []policies.Need `json:"needs"`
}

type moreJSON struct {
	More string `json:"more"`
	Less string `json:"less"`
	flowJSON
	Surely bool       `json:"beyond_doubt"`
	Doubt  *doubtJSON `json:"doubt"`
}

type pathPairJSON struct {
	Path       string    `json:"path"`
	Pointer    string    `json:"pointer"`
	A          *flowJSON `json:"a"`
	B          *flowJSON `json:"b"`
	Difference *moreJSON `json:"difference"`
}

type oneCautionJSON struct {
	ID   string  `json:"id"`
	Of   string  `json:"of"`
	Text string  `json:"text"`
	Ask  askJSON `json:"ask"`
}

type lackJSON struct {
	Point   string        `json:"point"`
	Of      string        `json:"not_of"`
	Missing []missingJSON `json:"missing"`
}

// AgainstJSON writes a comparison of two options as one line, format sillwright/comparison/1.
func AgainstJSON(w io.Writer, c *explain.Comparison, by MadeBy) error {
	out := comparisonJSON{
		headJSON:   headOf("sillwright/comparison/1", c.Result, by),
		Conclusion: ahead(c), A: comparedOf(c, c.A), B: comparedOf(c, c.B),
		Rules: []rulePairJSON{}, Alike: []string{}, Difference: differenceOf(c.Leakage), Paths: []pathPairJSON{}, Cautions: []oneCautionJSON{}, Lacks: []lackJSON{},
	}
	if c.Lead.Ahead != "" {
		out.Ahead, out.By = &c.Lead.Ahead, &c.Lead.By
	}
	if how := settling(c); how != "" {
		out.Settle = &how
	}
	for _, p := range c.Rules {
		out.Rules = append(out.Rules, rulePairJSON{p.Rule, titleOf(p), p.Level(), p.Counts, ruledOf(p.A), ruledOf(p.B)})
	}
	for _, p := range c.Alike {
		out.Alike = append(out.Alike, p.Rule)
	}
	flow := func(w *engine.Counted) *flowJSON {
		if w == nil {
			return nil
		}
		return pointed(flowOf(w.Range))
	}
	for _, p := range c.Paths {
		out.Paths = append(out.Paths, pathPairJSON{p.Path, p.Pointer, flow(p.A), flow(p.B), differenceOf(p.More)})
	}
	for _, one := range c.Cautions {
		out.Cautions = append(out.Cautions, oneCautionJSON{one.ID, one.Of, one.Text, askJSON{one.Ask.Whom, one.Ask.What}})
	}
	for _, lack := range c.Lacks {
		out.Lacks = append(out.Lacks, lackJSON{lack.Point, lack.Of, missingOf(lack.Why)})
	}
	return line(w, out)
}

func comparedOf(c *explain.Comparison, o assess.Option) comparedJSON {
	out := comparedJSON{
		ID: o.ID, Verdict: o.Verdict, Accepted: o.ByAcceptance(), Drag: forceOf(o.Drag), Openings: openingsOf(o.Openings), Latching: latchingOf(o.Latching),
		NothingToSet: o.NothingToSet, Site: onSite(c.Result, o),
	}
	if o.Leakage != nil {
		out.Leakage = &flowAtJSON{flowOf(o.Leakage.Range), o.Leakage.Pressure}
	}
	if o.Tolerance != nil {
		out.Tolerance = millimetres(*o.Tolerance)
	}
	if o.Life != nil {
		out.Life = pointed(o.Life.Likely)
		if perDay := c.Result.Door.Duty.CyclesPerDay; perDay.Known && perDay.Value > 0 {
			out.Years = pointed(threeFigures(wear.Years(o.Life.Likely, perDay.Value), math.Floor))
		}
	}
	if w := o.Worn(); w != nil && w.Leakage != nil {
		out.End = pointed(flowOf(w.Leakage.Range))
	}
	return out
}

func ruledOf(f *policies.Finding) *ruledPairJSON {
	if f == nil {
		return nil
	}
	one := heaviest(*f)
	out := &ruledPairJSON{Outcome: f.Outcome, Accepted: f.Accepted != nil, Clause: one.Clause, Message: one.Message, Needs: append([]policies.Need{}, f.Needs...)}
	if one.Found != "" {
		out.Found = &one.Found
	}
	if one.Allowed != "" {
		out.Allowed = &one.Allowed
	}
	return out
}

func differenceOf(m *explain.More) *moreJSON {
	if m == nil {
		return nil
	}
	out := &moreJSON{More: m.Of, Less: m.Than, flowJSON: flowOf(m.Range), Surely: m.Surely}
	if m.Largest.Name != "" {
		out.Doubt = doubtOf(m.Largest, m.Share)
	}
	return out
}
