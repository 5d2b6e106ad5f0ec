package render

import (
	"encoding/json"
	"io"
	"maps"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// prints are the fingerprints of a report by file, mark, rule and subject, and the nth of these that are the same.
func prints(t *testing.T, doors ...*assess.Result) map[string]string {
	t.Helper()
	out := map[string]string{}
	results := logged(t, content{doors: doors}).Runs[0].Results
	list := quality(t, content{doors: doors})
	if len(results) == 0 || len(list) != len(results) {
		t.Fatalf("%d results and %d entries", len(results), len(list))
	}
	for i, r := range results {
		if list[i].Print != r.Prints.DoorRule {
			t.Errorf("%s: two formats differ", r.RuleID)
		}
		key := strings.Join([]string{r.Locations[0].Physical.Artifact.URI, r.Properties["mark"], r.RuleID, r.Properties["subject"]}, " ")
		for out[key] != "" {
			key += " again"
		}
		out[key] = r.Prints.DoorRule
	}
	return out
}

// A fingerprint stays what it is when anything else changes, and when the value does (3.27.16: resistant to changes that do
// not affect the identity, such as the line).
func TestFingerprintsStay(t *testing.T) {
	oneByOne(t)
	other := strings.Replace(steep(t), "mark: H-03", "mark: H-04", 1)
	alone := prints(t, oneDoor(t, "h.yaml", steep(t)))
	for name, src := range map[string]string{
		"a door before":    other + "\n---\n" + steep(t),
		"a door behind":    steep(t) + "\n---\n" + other,
		"lines before":     "\n\n# moved\n" + steep(t),
		"the same in JSON": inJSON(t, steep(t)),
		"another value":    strings.Replace(steep(t), "{run: 18 mm, rise: -12 mm}", "{run: 17 mm, rise: -12 mm}", 1),
		"another title":    strings.Replace(steep(t), "title: Hall entrance, east side", "title: Hall", 1),
	} {
		doors, problems := judged(t, "h.yaml", src)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		with := prints(t, append([]*assess.Result{oneDoor(t, "elsewhere.yaml", steep(t))}, doors...)...)
		for key, p := range alone {
			if with[key] != p {
				t.Errorf("%s: %s is %q, was %q", name, key, with[key], p)
			}
		}
	}
}

// inJSON writes a door spec in YAML as JSON, which is YAML too.
func inJSON(t *testing.T, src string) string {
	t.Helper()
	docs, problems := schema.Read("h.yaml", []byte(src))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var b strings.Builder
	if err := line(&b, docs[0].Root.Plain()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Another file, mark, rule or subject is another fingerprint, and no two parts run into each other.
func TestFingerprintsDiffer(t *testing.T) {
	entries := []entry{
		{file: "a.yaml", rule: "r/s", identity: []string{"M", "door", "r/s"}},
		{file: "b.yaml", rule: "r/s", identity: []string{"M", "door", "r/s"}},
		{file: StandardInput, rule: "r/s", identity: []string{"M", "door", "r/s"}},
		{file: "a.yaml", rule: "r/s", identity: []string{"N", "door", "r/s"}},
		{file: "a.yaml", rule: "r/s", identity: []string{"M", "option:x", "r/s"}},
		{file: "a.yaml", rule: "r/t", identity: []string{"M", "door", "r/t"}},
		{file: "a.yaml", rule: "r/s", identity: []string{"Md", "oor", "r/s"}},
		{file: "a.yaml", rule: "r/s", identity: []string{"M", "door", "", "r/s"}},
		problem(schema.Problem{File: "a.yaml", Found: "x"}),
		notice(schema.Problem{File: "a.yaml", Found: "x"}),
		repeated(schema.Problem{File: "a.yaml", Found: "x"}),
		problem(schema.Problem{File: "a.yaml", Allowed: "x"}),
		problem(schema.Problem{File: "a.yaml", Mark: "x", Pointer: "/y", Field: "z"}),
		problem(schema.Problem{File: "a.yaml", Mark: "y", Pointer: "/y", Field: "z"}),
		problem(schema.Problem{File: "a.yaml", Pointer: "x", Found: "/y", Allowed: "z"}),
	}
	seen := map[fingerprint]int{}
	for i, e := range entries {
		for nth := uint32(1); nth < 4; nth++ {
			p := e.print()
			if nth > 1 {
				p = p.again(nth)
			}
			if j, ok := seen[p]; ok {
				t.Errorf("%+v as %+v", e, entries[j])
			}
			seen[p] = i
		}
	}
	same := entries[0]
	same.places, same.message, same.kind = []schema.Span{{}}, "other words", policies.Unknown
	if same.print() != entries[0].print() {
		t.Error("changes with the place, the words or the outcome")
	}
}

// What is wrong with a door is told by its mark, and stays what it is when another door of the file is mended or taken out, when
// the doors change places, and when what was found is another value.
func TestFingerprintsOfProblemsStay(t *testing.T) {
	door := func(mark, wrong string) string {
		return `{"format": "sillwright/door/1", "mark": "` + mark + `", ` + wrong + "}\n"
	}
	for name, wrong := range map[string][2]string{
		"an unknown key":    {`"bogus": 1`, `"bogus": 2`},
		"a key twice":       {`"title": "a", "title": "b"`, `"title": "a", "title": "c"`},
		"a wrong value":     {`"leaf": 7`, `"leaf": "wide"`},
		"a wrong quantity":  {`"leaf": {"width": "7 kg"}`, `"leaf": {"width": "8 kg"}`},
		"two wrong at once": {`"bogus": 1, "leaf": 7`, `"bogus": 1, "leaf": 8`},
	} {
		t.Run(name, func(t *testing.T) {
			p, q, r := door("P", wrong[0]), door("Q", wrong[0]), door("R", wrong[0])
			all := problemPrints(t, p+q+r)
			if len(all) != 3 || len(all["Q"]) == 0 {
				t.Fatalf("%v", all)
			}
			for change, src := range map[string]string{
				"P taken out": q + r, "P mended": steepInJSON(t) + q + r, "P with no mark": strings.Replace(p, `"mark": "P", `, "", 1) + q + r,
				"other places": r + p + q, "other values": door("Q", wrong[1]) + door("R", wrong[1]),
			} {
				now := problemPrints(t, src)
				for _, mark := range []string{"Q", "R"} {
					if !slices.Equal(now[mark], all[mark]) {
						t.Errorf("%s: of %s they are %v, were %v", change, mark, now[mark], all[mark])
					}
				}
			}
		})
	}
}

// steepInJSON is the door of steep on one line.
func steepInJSON(t *testing.T) string { return strings.TrimSpace(inJSON(t, steep(t))) + "\n" }

// problemPrints are the fingerprints of what is wrong with the doors of NDJSON, by mark; both formats have the same.
func problemPrints(t *testing.T, src string) map[string][]string {
	t.Helper()
	_, problems := judged(t, "h.ndjson", src)
	c := content{problems: problems, end: End{Code: 2}}
	results, list := logged(t, c).Runs[0].Results, quality(t, c)
	if len(results) != len(problems) || len(list) != len(problems) {
		t.Fatalf("%d problems, %d results, %d entries", len(problems), len(results), len(list))
	}
	out := map[string][]string{}
	for i, p := range problems {
		if results[i].Prints.DoorRule != list[i].Print {
			t.Errorf("%s: two formats differ", p.Error())
		}
		out[p.Mark] = append(out[p.Mark], list[i].Print)
	}
	return out
}

// A mark that is given twice makes no two that are equal, and the first stays as it was.
func TestFingerprintsOfAMarkGivenTwice(t *testing.T) {
	once := prints(t, oneDoor(t, "h.yaml", steep(t)))
	thrice, _ := judged(t, "h.yaml", steep(t)+"\n---\n"+steep(t)+"\n---\n"+steep(t))
	all := prints(t, thrice...)
	if len(all) != 3*len(once) {
		t.Fatalf("%d of one, %d of three", len(once), len(all))
	}
	for key, p := range once {
		if all[key] != p {
			t.Errorf("%s is %q, was %q", key, all[key], p)
		}
	}
	if values := slices.Compact(slices.Sorted(maps.Values(all))); len(values) != len(all) {
		t.Errorf("%d fingerprints of %d", len(values), len(all))
	}
}

// It makes no difference how many fingerprints are held in memory at a time.
func TestFingerprintsToldApartInPasses(t *testing.T) {
	report := func(most int) string {
		var l entryList
		defer l.Drop()
		for i := range 500 {
			e := entry{file: "a.yaml", rule: "r/s", identity: []string{strings.Repeat("x", i%100)}}
			told := map[string]string{"text": `"fingerprint":"` + e.print().String(), "fingerprint": e.print().String(), "z": e.print().String()}
			if err := l.add(told, "fingerprint", e.print()); err != nil {
				t.Fatal(err)
			}
		}
		if err := l.tellApart(most); err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := l.items.CopyTo(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	want := report(1000)
	if got := report(7); got != want {
		t.Error("in many passes it is another report")
	}
	var list []struct{ Text, Fingerprint, Z string }
	if err := json.Unmarshal([]byte("["+want+"]"), &list); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for i, e := range list {
		if seen[e.Fingerprint] || (i >= 100) == strings.Contains(e.Text, e.Fingerprint) || !strings.Contains(e.Text, e.Z) {
			t.Errorf("entry %d: %+v", i, e)
		}
		seen[e.Fingerprint] = true
	}
}

// What is held in memory does not grow with the doors.
func TestListsWaitOnDisk(t *testing.T) {
	oneByOne(t)
	door := oneDoor(t, "h.yaml", steep(t))
	for _, format := range []string{"sarif", "gitlab"} {
		var out counter
		r, err := NewReport(format, &out, Options{Only: Outcomes, Rule: assessor(t).Policies.Rule})
		if err != nil {
			t.Fatal(err)
		}
		defer r.Drop()
		held := func() uint64 {
			var m runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&m)
			return m.HeapAlloc
		}
		add := func(n int) {
			for range n {
				if err := r.Door(door); err != nil {
					t.Fatal(err)
				}
			}
		}
		for range 1 << 16 { // more than is kept in memory
			if err := r.Problem(schema.Problem{File: "a.yaml", Found: "nothing"}); err != nil {
				t.Fatal(err)
			}
		}
		add(1)
		before := held()
		add(300)
		after := held()
		if out != 0 {
			t.Errorf("%s: %d bytes written before the end", format, out)
		}
		if err := r.Close(End{}); err != nil {
			t.Fatal(err)
		}
		if grown := int64(after) - int64(before); grown > 100_000 { // 300 doors are some 4 MB
			t.Errorf("%s: %d bytes more are held", format, grown)
		}
	}
}

// counter counts what is written.
type counter int

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

// Nothing is left on disk, whether a report is finished or given up.
func TestListsLeaveNothing(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	for _, format := range []string{"sarif", "gitlab"} {
		for _, finished := range []bool{true, false} {
			r, err := NewReport(format, io.Discard, Options{Only: Outcomes})
			if err != nil {
				t.Fatal(err)
			}
			if err := r.Problem(schema.Problem{File: "a.yaml", Found: "nothing"}); err != nil {
				t.Fatal(err)
			}
			if finished {
				if err := r.Close(End{}); err != nil {
					t.Fatal(err)
				}
			}
			r.Drop()
			if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
				t.Errorf("%s, finished: %v: %v, %v", format, finished, left, err)
			}
		}
	}
}

// What cannot be written is told.
func TestListsTellAFullDisk(t *testing.T) {
	for _, format := range []string{"sarif", "gitlab"} {
		for room := range 60 {
			r, err := NewReport(format, &small{room}, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if err := r.Problem(schema.Problem{File: "a.yaml", Found: "nothing"}); err != nil {
				t.Fatal(err)
			}
			if err := r.Close(End{}); err == nil {
				t.Errorf("%s: all of it in %d bytes", format, room)
			}
			r.Drop()
		}
	}
}

// small takes so many bytes.
type small struct{ room int }

func (s *small) Write(p []byte) (int, error) {
	if s.room -= len(p); s.room < 0 {
		return 0, io.ErrShortWrite
	}
	return len(p), nil
}
