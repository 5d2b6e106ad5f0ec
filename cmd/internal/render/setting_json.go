package render

import (
	"encoding/json"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

type settingJSON struct {
	Pointer string          `json:"pointer"`
	Seal    string          `json:"seal"`
	Overlap json.Number     `json:"overlap_mm"`
	Flat    *[2]json.Number `json:"flat_mm"`
	Allowed *[2]json.Number `json:"allowed_mm"`
	Clash   *clashJSON      `json:"clash"`
	Offered []offeredJSON   `json:"offered"`
}

type offeredJSON struct {
	Overlap json.Number `json:"overlap_mm"`
	Verdict string      `json:"verdict"`
	Leakage *flowJSON   `json:"leakage"`
	Against []string    `json:"against"`
}

type clashJSON struct {
	Counts bool        `json:"counts"`
	Low    *sideJSON   `json:"low"`
	High   sideJSON    `json:"high"`
	Apart  json.Number `json:"apart_mm"`
	Text   string      `json:"text"`
}

type sideJSON struct {
	Rule  string           `json:"rule"`
	From  json.Number      `json:"from_mm"`
	Other policies.Finding `json:"other"`
}

// settingsOf writes the settings that the program found, with all that were judged.
func settingsOf(o assess.Option, system quantity.System) []settingJSON {
	out := []settingJSON{}
	for _, s := range o.Settings {
		f := o.Spec.Fits[s.Fit]
		at := func(i int) json.Number { return json.Number(s.Offered[i].Overlap.MM()) }
		j := settingJSON{Pointer: f.Pointer, Seal: f.Seal.Value, Overlap: json.Number(s.Overlap.MM()), Offered: []offeredJSON{}}
		if s.Clash == nil {
			j.Flat, j.Allowed = &[2]json.Number{at(s.Flat[0]), at(s.Flat[1])}, &[2]json.Number{at(s.Allowed[0]), at(s.Allowed[1])}
		} else {
			j.Clash = clashOf(o, s, system)
		}
		for i, offer := range s.Offered {
			one := offeredJSON{Overlap: at(i), Verdict: offer.Verdict, Against: []string{}}
			if l := offer.Leakage; l != nil {
				one.Leakage = pointed(flowOf(l.Range))
			}
			for _, f := range offer.Findings {
				if f.Level != policies.Caution && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown) {
					one.Against = append(one.Against, f.Rule)
				}
			}
			j.Offered = append(j.Offered, one)
		}
		out = append(out, j)
	}
	return out
}

func clashOf(o assess.Option, s assess.Setting, system quantity.System) *clashJSON {
	c := s.Clash
	side := func(s assess.Side) sideJSON { return sideJSON{s.Rule, json.Number(s.From.MM()), s.Other} }
	out := &clashJSON{Counts: c.Counts, High: side(c.High), Apart: json.Number(c.Apart.MM()), Text: clashed(o, s, system)}
	if c.Low != nil {
		out.Low = pointed(side(*c.Low))
	}
	return out
}
