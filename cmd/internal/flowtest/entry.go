package flowtest

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"sillwright/engine/catalogue"
	"sillwright/engine/fit"
	"sillwright/engine/regress"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Group is the tests of one seal at one overlap and floor, pooled.
type Group struct {
	Overlap quantity.Length
	Floor   string
	Tests   []*Test
	fit.Pooled
}

// Groups pools tests by overlap and floor, in rising order. Of a drop seal the overlap is of no account. The problems are those of tests
// that cannot be pooled.
func Groups(tests []*Test, drops bool) ([]Group, []schema.Problem) {
	var out []Group
	for _, t := range tests {
		i := slices.IndexFunc(out, func(g Group) bool {
			return (drops || g.Overlap == t.File.Overlap) && g.Floor == floorOf(t)
		})
		if i < 0 {
			i = len(out)
			out = append(out, Group{Overlap: t.File.Overlap, Floor: floorOf(t)})
		}
		out[i].Tests = append(out[i].Tests, t)
	}
	slices.SortStableFunc(out, func(a, b Group) int {
		return cmp.Or(cmp.Compare(a.Overlap, b.Overlap), strings.Compare(a.Floor, b.Floor))
	})
	var problems []schema.Problem
	for i := range out {
		g := &out[i]
		var pieces []fit.Piece
		for _, t := range g.Tests {
			pieces = append(pieces, fit.PieceOf(t.Result, t.Metres(), t.Conditions, t.File.FlowError.Value))
		}
		var err error
		if g.Pooled, err = fit.Pool(pieces); err != nil {
			problems = append(problems, g.Tests[0].File.Problem("overlap", -1, err.Error(), "tests that say something of another piece", "look for a test of another seal, overlap or length; test a further piece"))
		}
	}
	return out, problems
}

func floorOf(t *Test) string {
	if t.File.Floor == "smooth" {
		return ""
	}
	return t.File.Floor
}

// Entry is how a seal entry is to be called.
type Entry struct{ Name, Like, Title string }

// YAML writes a catalogue of one seal with the tests, a metre, in standard air, and loads it beside the seals that are known. The notes say
// what a reader should know of it.
func (e Entry) YAML(tests []*Test, known *catalogue.Catalogue) (out []byte, notes []string, problems []schema.Problem) {
	problems = e.complete(tests, known)
	if len(problems) > 0 {
		return nil, nil, problems
	}
	like, _ := known.Seal(e.Like)
	groups, problems := Groups(tests, like.Kind == "drop-seal")
	if len(problems) > 0 {
		return nil, nil, problems
	}
	entry := entryYAML{Title: e.Title, Like: e.Like}
	for _, g := range groups {
		entry.Tests = append(entry.Tests, g.yaml(like.Kind))
		notes = append(notes, g.Says())
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Written by sillwright fit from %s: a metre of seal, in air of 20 C at sea level.\n", schema.Printable(fileNames(tests)))
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(catalogueYAML{"sillwright/seals/1", map[string]entryYAML{e.Name: entry}}); err != nil {
		return nil, nil, []schema.Problem{{File: "seal entry", Found: err.Error()}}
	}
	if problems := known.Add("seal entry", b.Bytes()); len(problems) > 0 {
		return nil, nil, problems
	}
	return b.Bytes(), notes, nil
}

// complete fills in what the files say, and tells what is missing of an entry, or said twice over.
func (e *Entry) complete(tests []*Test, known *catalogue.Catalogue) []schema.Problem {
	var problems []schema.Problem
	first := tests[0].File
	if e.Like == "" {
		e.Like = first.Like
	}
	if e.Title == "" {
		e.Title = first.Title
	}
	if e.Title == "" {
		e.Title = e.Name + ", tested by flow"
	}
	like, ok := known.Seal(e.Like)
	if !ok {
		found := fmt.Sprintf("a seal like %q", e.Like)
		if e.Like == "" {
			found = "no word of what the seal is like"
		}
		problems = append(problems, first.Problem("like", -1, found, schema.Choices(e.Like, known.Names()), "name the known seal that is nearest: --like, or `# like:` in the file"))
	}
	for _, t := range tests {
		f := t.File
		if f.Length <= 0 {
			problems = append(problems, f.Problem("length", -1, "no length of the seal", "`# length: 1 m`", "give the length of seal that was in the test: an entry is a metre of it"))
		}
		if !f.HasOverlap && ok && like.Kind != "drop-seal" {
			problems = append(problems, f.Problem("overlap", -1, "no overlap", "`# overlap: 0 mm`, with daylight less than 0", "say how far the seal was pressed in the test"))
		}
		if f.Seal != first.Seal {
			problems = append(problems, f.Problem("seal", -1, fmt.Sprintf("seal %q beside %q of %s", f.Seal, first.Seal, schema.Printable(first.Name)), "tests of one seal", "make an entry of each"))
		}
		if f.Like != "" && first.Like != "" && f.Like != first.Like {
			problems = append(problems, f.Problem("like", -1, fmt.Sprintf("like %q beside %q of %s", f.Like, first.Like, schema.Printable(first.Name)), "one seal that it is like", "keep the right one"))
		}
	}
	return problems
}

// The entry as it is written. Numbers have six figures.
type (
	catalogueYAML struct {
		Format string               `yaml:"format"`
		Seals  map[string]entryYAML `yaml:"seals"`
	}
	entryYAML struct {
		Title string     `yaml:"title"`
		Like  string     `yaml:"like"`
		Tests []testYAML `yaml:"tests"`
	}
	testYAML struct {
		Overlap   string        `yaml:"overlap,omitempty"`
		Floor     string        `yaml:"floor,omitempty"`
		Pair      pairYAML      `yaml:"pair,flow"`
		Pressures pressuresYAML `yaml:"pressures,flow"`
		Scatter   float64       `yaml:"scatter"`
		From      string        `yaml:"from"`
	}
	pairYAML struct {
		Viscous  float64 `yaml:"viscous"`
		Inertial float64 `yaml:"inertial"`
	}
	pressuresYAML struct {
		Least string `yaml:"least"`
		Most  string `yaml:"most"`
	}
)

func (g Group) yaml(kind string) testYAML {
	out := testYAML{
		Floor: g.Floor, Pair: pairYAML{significant(g.Law.A, 6), significant(g.Law.B, 6)}, Scatter: math.Ceil(1000*g.Scatter-1e-9) / 1000, From: g.from(),
		Pressures: pressuresYAML{pascal(g.Drops[0]), pascal(g.Drops[1])},
	}
	if kind != "drop-seal" {
		out.Overlap = g.Overlap.MM() + " mm"
	}
	return out
}

func pascal(v float64) string { return strconv.FormatFloat(significant(v, 4), 'f', -1, 64) + " Pa" }

func significant(v float64, figures int) float64 {
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', figures, 64), 64)
	return out
}

// from keeps the sources of a group.
func (g Group) from() string {
	const most = 1000
	var parts []string
	for _, t := range g.Tests {
		said := t.File.Name
		if t.File.From != "" {
			said += ": " + t.File.From
		}
		least, top := t.Result.Span()
		said += fmt.Sprintf(" (%d readings, %.4g to %.4g Pa", len(t.Result.Drops), least, top)
		if t.Result.Blanks != nil {
			said += ", the rig's own leakage taken off"
		}
		if t.Conditions == nil {
			said += ", air not said"
		}
		parts = append(parts, schema.Printable(said)+")")
	}
	text := strings.Join(parts, "; ") + ". " + g.Says()
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most-1]) + "…"
	}
	return text
}

// Says is where the scatter of a group comes from, in a sentence.
func (g Group) Says() string {
	kept := fmt.Sprintf("%.0f %%", 100*g.Scatter)
	switch {
	case g.single() && g.Judged:
		return "One test: another piece is taken to differ by " + kept + " (engineering judgement, not measured)."
	case g.single():
		return "One test: another piece is taken to differ by " + kept + ", what this test may be off by."
	}
	more := ""
	if k := len(g.Tests); g.Scatter > seal.TestScatter && k < 6 {
		more = fmt.Sprintf("; with %d tests it is %.2f", k+1, regress.Student(float64(k)))
	}
	return fmt.Sprintf("%d tests, which differ by %.1f %% (standard deviation): another piece may differ by %s (Student's t %.2f, 95 of 100%s).", len(g.Tests), 100*math.Expm1(g.Spread), kept, regress.Student(float64(len(g.Tests)-1)), more)
}

func (g Group) single() bool { return len(g.Tests) == 1 }

func fileNames(tests []*Test) string {
	const most = 5
	var names []string
	for _, t := range tests {
		names = append(names, t.File.Name)
	}
	if len(names) > most {
		names = append(names[:most], fmt.Sprintf("%d more", len(tests)-most))
	}
	return strings.Join(names, ", ")
}
