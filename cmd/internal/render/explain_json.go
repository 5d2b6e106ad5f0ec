package render

import (
	"io"

	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
	"sillwright/policies"
	"sillwright/schema"
)

type explanationJSON struct {
	headJSON
	verdictJSON
	Asked    askedJSON     `json:"asked"`
	Groups   []groupJSON   `json:"groups"`
	Others   []namedJSON   `json:"others"`
	Remedies *answerJSON   `json:"remedies"`
	Needs    []neededJSON  `json:"needs"`
	Cautions []cautionJSON `json:"cautions"`
}

type askedJSON struct {
	Option *string `json:"option"`
	Rule   *string `json:"rule"`
}

type groupJSON struct {
	Kind  explain.Kind `json:"kind"`
	Rules []ruleJSON   `json:"rules"`
}

type ruleJSON struct {
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	Asks     string        `json:"asks"`
	Why      string        `json:"why"`
	Source   string        `json:"source"`
	Known    []string      `json:"known_problems"`
	Drawing  *drawingJSON  `json:"drawing"`
	Findings []findingJSON `json:"findings"`
}

type drawingJSON struct {
	Lines   []string `json:"lines"`
	Marked  []string `json:"marked"`
	Caption string   `json:"caption"`
}

type findingJSON struct {
	Finding   policies.Finding `json:"finding"`
	Margins   []*marginJSON    `json:"margins"`
	Decisions []string         `json:"decisions"`
	Facts     []toldFactJSON   `json:"facts"`
}

type marginJSON struct {
	Exact string `json:"exact"`
	Unit  string `json:"unit"`
	Met   bool   `json:"met"`
	Words string `json:"words"`
}

type toldFactJSON struct {
	Name    string     `json:"name"`
	Title   string     `json:"title"`
	Known   bool       `json:"known"`
	Value   any        `json:"value"`
	Unit    string     `json:"unit"`
	Words   string     `json:"words"`
	From    []fromJSON `json:"from"`
	Formula string     `json:"formula"`
	Seals   []sealJSON `json:"seals"`
}

type fromJSON struct {
	Pointer string  `json:"pointer"`
	Field   string  `json:"field"`
	Span    *[4]int `json:"span"`
	Text    *string `json:"text"`
}

type sealJSON struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	From  string `json:"from"`
}

type namedJSON struct {
	ID      string `json:"id"`
	Verdict string `json:"verdict"`
}

type neededJSON struct {
	Fact    string   `json:"fact"`
	Title   string   `json:"title"`
	How     string   `json:"how"`
	Pointer string   `json:"pointer"`
	Text    []string `json:"text"`
	Settles []string `json:"settles"`
	Alone   int      `json:"alone"`
}

// ExplanationJSON writes an explanation as one line, format sillwright/explanation/1.
func ExplanationJSON(w io.Writer, e *explain.Explanation, a *remedy.Answer, by MadeBy) error {
	r := e.Result
	out := explanationJSON{
		headJSON: headOf("sillwright/explanation/1", r, by), verdictJSON: verdictOf(r),
		Asked: askedJSON{orNull(e.Scope.Option), orNull(e.Scope.Rule)}, Groups: []groupJSON{}, Others: []namedJSON{}, Remedies: answerOf(a), Needs: []neededJSON{}, Cautions: cautionsJSON(r),
	}
	for _, g := range e.Groups {
		group := groupJSON{Kind: g.Kind, Rules: []ruleJSON{}}
		for _, s := range g.Sections {
			group.Rules = append(group.Rules, ruleOf(e, s))
		}
		out.Groups = append(out.Groups, group)
	}
	for _, o := range e.Others {
		out.Others = append(out.Others, namedJSON{o.ID, o.Verdict})
	}
	for _, n := range e.Needs {
		out.Needs = append(out.Needs, neededJSON{n.Fact, n.Title, n.How, n.Pointer, append([]string{}, n.Text...), append([]string{}, n.Settles...), n.Alone})
	}
	return line(w, out)
}

func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

func ruleOf(e *explain.Explanation, s explain.Section) ruleJSON {
	out := ruleJSON{ID: s.Rule.ID, Title: s.Rule.Title, Asks: s.Rule.Asks, Why: s.Rule.Why, Source: sourceOf(s), Known: append([]string{}, s.Rule.KnownProblems...), Findings: []findingJSON{}}
	if d, marked := drawingOf(e.Result, s); d.caption != "" {
		out.Drawing = &drawingJSON{append([]string{}, d.lines...), append([]string{}, marked...), d.caption}
	}
	for _, f := range s.Findings {
		told := findingJSON{Finding: placed(e.Result, []policies.Finding{f.Finding})[0], Margins: []*marginJSON{}, Decisions: append([]string{}, f.Decisions...), Facts: []toldFactJSON{}}
		for _, pt := range f.Told {
			told.Margins = append(told.Margins, (*marginJSON)(pt.Margin))
		}
		for _, own := range f.Facts {
			told.Facts = append(told.Facts, toldFact(own))
		}
		out.Findings = append(out.Findings, told)
	}
	return out
}

func toldFact(f explain.Fact) toldFactJSON {
	out := toldFactJSON{Name: f.Name, Title: f.Title, Known: f.Known, Words: f.Words, Formula: f.Formula, From: []fromJSON{}, Seals: []sealJSON{}}
	if f.Known {
		value := factOf(f.Name, f.Raw)
		out.Value, out.Unit = value.Value, value.Unit
	}
	for _, s := range f.From {
		out.From = append(out.From, fromJSON{s.Pointer, s.Field, fourOf(s.Span), orNull(s.Text)})
	}
	for _, s := range f.Seals {
		out.Seals = append(out.Seals, sealJSON(s))
	}
	return out
}

// fourOf is a span as line, column, end line, end column.
func fourOf(s schema.Span) *[4]int {
	return &[4]int{s.Start.Line, s.Start.Column, s.End.Line, s.End.Column}
}
