package render

import (
	"sillwright/cmd/internal/remedy"
)

type answerJSON struct {
	Found       []remedyJSON     `json:"found"`
	Tried       []triedJSON      `json:"tried"`
	Relaxations []relaxationJSON `json:"relaxations"`
	Judged      int              `json:"specs_judged"`
	Cut         bool             `json:"cut"`
}

type remedyJSON struct {
	Complies  bool               `json:"complies"`
	Steps     []stepJSON         `json:"steps"`
	Patch     []remedy.Operation `json:"patch"`
	Option    *string            `json:"option"`
	Verdict   *string            `json:"verdict"`
	Rulebooks []bookJSON         `json:"rulebooks"`
	Proof     string             `json:"proof"`
}

type stepJSON struct {
	Move     string   `json:"move"`
	Do       string   `json:"do"`
	Before   []string `json:"before"`
	After    []string `json:"after"`
	Pointers []string `json:"pointers"`
}

type triedJSON struct {
	Rule    string  `json:"rule"`
	Subject string  `json:"subject"`
	Move    *string `json:"move"`
	Why     string  `json:"why"`
}

type relaxationJSON struct {
	Gives  string     `json:"gives"`
	Rule   *string    `json:"rule"`
	Fixed  *string    `json:"fixed"`
	Answer *string    `json:"answer"`
	Remedy remedyJSON `json:"remedy"`
}

func answerOf(a *remedy.Answer) *answerJSON {
	if a == nil {
		return nil
	}
	out := answerJSON{Found: []remedyJSON{}, Tried: []triedJSON{}, Relaxations: []relaxationJSON{}, Judged: a.Spent, Cut: a.Cut}
	for _, m := range a.Remedies {
		out.Found = append(out.Found, remedyOf(m))
	}
	for _, t := range a.Tried {
		out.Tried = append(out.Tried, triedJSON{t.Rule, t.Subject, orNull(t.Move), t.Why})
	}
	for _, x := range a.Relaxations {
		out.Relaxations = append(out.Relaxations, relaxationJSON{x.Gives, orNull(x.Rule), orNull(x.Fixed), orNull(x.Answer), remedyOf(x.Remedy)})
	}
	return &out
}

func remedyOf(m remedy.Remedy) remedyJSON {
	out := remedyJSON{Complies: m.Complies, Steps: []stepJSON{}, Patch: append([]remedy.Operation{}, m.Patch...), Option: orNull(m.Option), Rulebooks: []bookJSON{}, Proof: proof(m)}
	for _, s := range m.Steps {
		out.Steps = append(out.Steps, stepJSON{s.Move, s.Do, append([]string{}, s.Before...), append([]string{}, s.After...), append([]string{}, s.Pointers...)})
	}
	if m.Result != nil {
		out.Verdict = &m.Result.Verdict
		for _, b := range m.Result.Rulebooks {
			out.Rulebooks = append(out.Rulebooks, bookOf(b))
		}
	}
	return out
}
