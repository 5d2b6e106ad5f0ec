package render

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// root is the folder of the repository.
const root = "../../.."

// theAssessor judges the examples, with the seals that they name.
var theAssessor = sync.OnceValues(func() (*assess.Assessor, error) {
	a, err := assess.New(context.Background())
	if err != nil {
		return nil, err
	}
	src, err := os.ReadFile(filepath.Join(root, "examples/own-seals.yaml"))
	if err != nil {
		return nil, err
	}
	for _, p := range a.Catalogue.Add("own-seals.yaml", src) {
		return nil, p
	}
	return a, nil
})

func assessor(t *testing.T) *assess.Assessor {
	t.Helper()
	a, err := theAssessor()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// judged are the doors of a file, and what is wrong with the rest of it.
func judged(t *testing.T, file, src string) ([]*assess.Result, []schema.Problem) {
	t.Helper()
	a := assessor(t)
	docs, problems := schema.Read(file, []byte(src))
	var out []*assess.Result
	for _, doc := range docs {
		d, wrong := a.Decode(doc)
		if problems = append(problems, wrong...); d == nil {
			continue
		}
		r, err := a.Assess(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	return out, problems
}

// oneDoor judges a file that holds one good door.
func oneDoor(t *testing.T, file, src string) *assess.Result {
	t.Helper()
	doors, problems := judged(t, file, src)
	if len(doors) != 1 || len(problems) > 0 {
		t.Fatalf("%s: %d doors, problems: %v", file, len(doors), problems)
	}
	return doors[0]
}

func example(t *testing.T, name string) (file, src string) {
	t.Helper()
	file = filepath.Join(root, "examples", name)
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return "examples/" + name, string(b)
}

// steep is the text of the example whose inner bevel is too steep.
func steep(t *testing.T) string {
	t.Helper()
	_, src := example(t, "fails-h-03-inner-bevel-too-steep.yaml")
	return src
}

// oneByOne leaves out, of a short run, a test that goes through all example doors or does one thing thousands of times, one after the
// other: the race detector learns nothing from it.
func oneByOne(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one door after the other")
	}
}

// listedExamples are kept, for it takes a while.
var listedExamples []*assess.Result

// exampleDoors are all example doors, judged.
func exampleDoors(t *testing.T) []*assess.Result {
	t.Helper()
	if listedExamples != nil {
		return listedExamples
	}
	var out []*assess.Result
	for _, pattern := range []string{"complies-*", "fails-*", "unproven-*"} {
		found, err := filepath.Glob(filepath.Join(root, "examples", pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range found {
			out = append(out, oneDoor(t, "examples/"+filepath.Base(path), read(t, path)))
		}
	}
	if len(out) < 20 {
		t.Fatalf("%d examples", len(out))
	}
	listedExamples = out
	return out
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// content is what a report is given.
type content struct {
	doors    []*assess.Result
	problems []schema.Problem
	repeated []schema.Problem
	notices  []schema.Problem
	end      End
	only     []string // none: what lint gives unasked
}

// listed is the report of a content in a format.
func listed(t *testing.T, format string, c content) []byte {
	t.Helper()
	o := Options{By: MadeBy{Version: "1.2.3"}, Only: c.only, Rule: assessor(t).Policies.Rule}
	if o.Only == nil {
		o.Only = []string{policies.Fail, policies.Unknown}
	}
	var out bytes.Buffer
	r, err := NewReport(format, &out, o)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Drop()
	sum := &Summary{Broken: len(c.problems), Repeated: len(c.repeated)}
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, d := range c.doors {
		sum.Add(d)
		must(r.Door(d))
	}
	for _, p := range c.problems {
		must(r.Problem(p))
	}
	for _, p := range c.repeated {
		must(r.Repeated(p))
	}
	for _, p := range c.notices {
		must(r.Notice(p))
	}
	if out.Len() > 0 {
		t.Errorf("%d bytes written before the end", out.Len())
	}
	c.end.Summary = sum
	must(r.Close(c.end))
	return out.Bytes()
}

// schemas are those of testdata that were asked for.
var schemas = map[string]*jsonschema.Schema{}

// schemaAt compiles a schema of testdata.
func schemaAt(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	if s := schemas[file]; s != nil {
		return s
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat = true
	if err := c.AddResource("mem:///"+file, strings.NewReader(read(t, filepath.Join("testdata", file)))); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("mem:///" + file)
	if err != nil {
		t.Fatal(err)
	}
	schemas[file] = s
	return s
}

// holds decodes a report into a value, and holds it to a schema.
func holds(t *testing.T, s *jsonschema.Schema, report []byte, into any) {
	t.Helper()
	var plain any
	if err := json.Unmarshal(report, &plain); err != nil {
		t.Fatalf("%v in %s", err, report)
	}
	if err := s.Validate(plain); err != nil {
		t.Fatalf("%#v", err)
	}
	if err := json.Unmarshal(report, into); err != nil {
		t.Fatal(err)
	}
}

// accepting is a result whose failures of the door are accepted.
func accepting(r *assess.Result, a policies.Acceptance) *assess.Result {
	out := *r
	out.Findings = slices.Clone(r.Findings)
	for i, f := range out.Findings {
		if f.Outcome == policies.Fail || f.Outcome == policies.Unknown {
			out.Findings[i].Accepted = &a
		}
	}
	return &out
}

const nasty = "a\"b'c\n::error::%25 %zz\x01\x1b[31m\u202etxt\u2028 #?&<b>{0}[here](http://example.invalid)\\ é漢😀"

// contents are runs of all kinds, by name; in a short run without that of all examples.
func contents(t *testing.T) map[string]content {
	t.Helper()
	quoted, err := json.Marshal(strings.ReplaceAll(nasty, "\n", "")) // a mark is on one line
	if err != nil {
		t.Fatal(err)
	}
	hostile := strings.Replace(steep(t), "mark: H-03\ntitle: Hall entrance, east side", "mark: "+string(quoted)+"\ntitle: "+string(quoted), 1)
	doors, problems := judged(t, "doors/"+nasty+"\xff.yaml", hostile+"---\nformat: sillwright/door/1\nmark: X\n"+string(quoted)+": 1\n")
	if len(doors) != 1 || doors[0].Door.Mark != strings.ReplaceAll(nasty, "\n", "") || len(problems) < 2 {
		t.Fatalf("%d doors, problems: %v", len(doors), problems)
	}
	h03 := oneDoor(t, "h.yaml", steep(t))
	missing := schema.Problem{File: "no such file.yaml", Found: "no such file", Do: "check the path"}
	out := map[string]content{
		"hostile":               {doors: doors, problems: problems, notices: problems, only: Outcomes, end: End{Code: 2}},
		"hostile, accepted":     {doors: []*assess.Result{accepting(h03, policies.Acceptance{Reason: nasty, ApprovedBy: nasty, Expires: "2027-06-30"}), h03}, only: Outcomes},
		"a file with no places": {problems: []schema.Problem{missing}, end: End{Code: 2}},
		"a mark given twice":    {doors: []*assess.Result{h03}, repeated: problems, end: End{Code: 2}},
		"a problem of no file":  {problems: []schema.Problem{{Found: "nothing"}}, end: End{Code: 2}},
		"standard input":        {doors: []*assess.Result{oneDoor(t, StandardInput, steep(t))}, problems: []schema.Problem{{File: StandardInput, Found: "nothing"}}},
		"a file of that name":   {doors: []*assess.Result{oneDoor(t, "./"+StandardInput, steep(t))}, problems: []schema.Problem{{File: "./" + StandardInput, Found: "nothing"}}},
		"outside of the folder": {doors: []*assess.Result{oneDoor(t, "/elsewhere/a b.yaml", steep(t)), oneDoor(t, "../c.yaml", steep(t))}},
		"interrupted":           {doors: []*assess.Result{h03}, end: End{Code: 1, Interrupted: true}},
		"interrupted at once":   {end: End{Code: 2, Interrupted: true}},
		"empty":                 {},
	}
	if !testing.Short() {
		out["examples"] = content{doors: exampleDoors(t)}
		out["examples, all"] = content{doors: exampleDoors(t), only: Outcomes}
	}
	return out
}
