// Package render writes results: one file a format.
package render

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// MadeBy says what a result was made with.
type MadeBy struct {
	Version   string `json:"version"`
	Policies  string `json:"policies"`
	Catalogue string `json:"catalogue"`
	Project   string `json:"project"` // empty, as the day: there is none
	AsOf      string `json:"as_of"`
}

type source struct {
	File     string  `json:"file"`
	Document int     `json:"document"`
	Cell     *string `json:"cell"`
}

// headJSON says what a document about a door is, and of which door.
type headJSON struct {
	Format string `json:"format"`
	MadeBy MadeBy `json:"made_by"`
	Mark   string `json:"mark"`
	Title  string `json:"title,omitempty"`
	Source source `json:"source"`
}

func headOf(format string, r *assess.Result, by MadeBy) headJSON {
	return headJSON{format, by, r.Door.Mark, r.Door.Title, sourceJSON(r)}
}

// verdictJSON says how a door stands.
type verdictJSON struct {
	Verdict  string `json:"verdict"`
	CanOrder bool   `json:"can_be_ordered"`
	Accepted bool   `json:"by_acceptance"`
}

func verdictOf(r *assess.Result) verdictJSON {
	return verdictJSON{r.Verdict, r.CanOrder, r.ByAcceptance()}
}

type resultJSON struct {
	headJSON
	verdictJSON
	Rulebooks []bookJSON          `json:"rulebooks"`
	Findings  []policies.Finding  `json:"findings"`
	RankedBy  []engine.Criterion  `json:"ranked_by"`
	Options   []optionJSON        `json:"options"`
	Duty      *dutyJSON           `json:"duty"`
	House     *allowanceJSON      `json:"house"`
	Facts     map[string]factJSON `json:"facts"`
	Conflicts []conflictJSON      `json:"conflicts"`
	Cautions  []cautionJSON       `json:"cautions"`
	Unused    []string            `json:"answers_not_used"`
}

type bookJSON struct {
	ID        string   `json:"id"`
	Verdict   string   `json:"verdict"`
	NotJudged []string `json:"not_judged"`

	Superseded *string `json:"superseded"`
	Own        *string `json:"own"`
}

func bookOf(b assess.BookVerdict) bookJSON {
	return bookJSON{b.ID, b.Verdict, append([]string{}, b.NotJudged...), orNull(b.Superseded), orNull(b.Own)}
}

type factJSON struct {
	Value   any      `json:"value"`
	Unit    string   `json:"unit"`
	From    []string `json:"from"`
	Formula string   `json:"formula,omitempty"`
}

type cautionJSON struct {
	ID       string   `json:"id"`
	Text     string   `json:"text"`
	Because  string   `json:"because"`
	Ask      askJSON  `json:"ask"`
	Unsaid   []string `json:"unsaid"`
	Answered string   `json:"answered,omitempty"`
}

type askJSON struct {
	Whom string `json:"whom"`
	What string `json:"what"`
}

// JSON writes a result as one line, format sillwright/result/1.
func JSON(w io.Writer, r *assess.Result, by MadeBy) error {
	out := resultJSON{
		headJSON: headOf("sillwright/result/1", r, by), verdictJSON: verdictOf(r), Findings: placed(r, ordered(r.Findings)), Unused: append([]string{}, r.Unused...),
		RankedBy: r.Order, Rulebooks: []bookJSON{}, Options: []optionJSON{}, Conflicts: []conflictJSON{}, Cautions: cautionsJSON(r), Facts: map[string]factJSON{},
		Duty: dutyOf(r.Door), House: allowanceOf(r.Door),
	}
	for _, b := range r.Rulebooks {
		out.Rulebooks = append(out.Rulebooks, bookOf(b))
	}
	words := wordingOf(r)
	for _, o := range r.Options {
		out.Options = append(out.Options, optionOf(r, o, words))
	}
	for name, f := range r.Facts {
		out.Facts[name] = factOf(name, f)
	}
	for _, c := range r.Conflicts {
		out.Conflicts = append(out.Conflicts, conflictOf(c, r.System))
	}
	return line(w, out)
}

func sourceJSON(r *assess.Result) source {
	return source{File: r.Door.Document.File, Document: r.Door.Document.Index}
}

func cautionsJSON(r *assess.Result) []cautionJSON {
	out := []cautionJSON{}
	for _, c := range r.Cautions {
		unsaid := []string{}
		for _, n := range c.Unsaid {
			unsaid = append(unsaid, n.Pointer)
		}
		out = append(out, cautionJSON{c.ID, c.Text, c.Because, askJSON(c.Ask), unsaid, c.Answered})
	}
	return out
}

// ordered puts findings by rule, then subject.
func ordered(findings []policies.Finding) []policies.Finding {
	out := append([]policies.Finding{}, findings...)
	slices.SortStableFunc(out, func(a, b policies.Finding) int {
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Subject, b.Subject))
	})
	return out
}

func factOf(name string, f fact.Fact) factJSON {
	out := factJSON{Value: f.Value, From: f.At, Formula: f.Formula}
	d, _ := fact.Describe(name)
	n, whole := f.Value.(int64)
	switch {
	case d.Kind == fact.Structure:
		out.Unit = "lengths nm, forces fN, angles millionths of a degree"
	case !whole:
	case d.Kind == fact.Length:
		out.Value, out.Unit = json.Number(quantity.Length(n).MM()), "mm"
	case d.Kind == fact.Force:
		out.Value, out.Unit = json.Number(quantity.Force(n).N()), "N"
	case d.Kind == fact.Angle:
		out.Value, out.Unit = json.Number(quantity.Angle(n).Deg()), "deg"
	case d.Kind == fact.Date:
		out.Value = quantity.Date(n).Day()
	case d.Kind == fact.Area:
		out.Value, out.Unit = json.Number(quantity.Area(n).CM2()), "cm2"
	}
	return out
}

type problemJSON struct {
	Format  string  `json:"format"`
	Source  source  `json:"source"`
	Pointer string  `json:"pointer"`
	Span    *[4]int `json:"span"`
	Field   string  `json:"field"`
	Found   string  `json:"found"`
	Allowed string  `json:"allowed"`
	Do      string  `json:"do"`
	Message string  `json:"message"`
}

// ProblemJSON writes what is wrong with an input as one line, format sillwright/problem/1.
func ProblemJSON(w io.Writer, p schema.Problem) error {
	out := problemJSON{Format: "sillwright/problem/1", Source: source{File: p.File, Document: p.Document}, Pointer: p.Pointer, Field: p.Field, Found: p.Found, Allowed: p.Allowed, Do: p.Do, Message: p.Error()}
	if p.Span.Start.Line > 0 {
		out.Span = &[4]int{p.Span.Start.Line, p.Span.Start.Column, p.Span.End.Line, p.Span.End.Column}
	}
	return line(w, out)
}

// line writes one value and a newline in one go, so that a reader never sees half a line.
func line(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return fmt.Errorf("writing a result: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}
