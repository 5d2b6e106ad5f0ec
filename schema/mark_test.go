package schema

import "testing"

// A problem says of which mark its document is, wherever the two stand and whoever finds it; what is of a whole list, or of a
// document whose mark was not read, is of none.
func TestProblemsNameTheMark(t *testing.T) {
	s, err := Named("door")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		file, src string
		want      []string // marks in the order of the file
	}{
		"by the schema":    {"a.yaml", "format: sillwright/door/1\nmark: A\nbogus: 1\n---\nformat: sillwright/door/1\nbogus: 1\nmark: B\n", []string{"A", "B"}},
		"by the reader":    {"a.yaml", "mark: A\ntitle: a\ntitle: b\n", []string{"A"}},
		"lines":            {"a.ndjson", `{"mark": "A", "x": 1, "x": 2}` + "\n" + `{"x": 1, "x": 2, "mark": "B"}` + "\n", []string{"A", "B"}},
		"a list":           {"a.json", `[{"mark": "A", "x": 1, "x": 2}, {"mark": "B", "x": 1, "x": 2}]`, []string{"A", "B"}},
		"a number":         {"a.yaml", "mark: 12\ntitle: a\ntitle: b\n", []string{"12"}},
		"no mark":          {"a.yaml", "title: a\ntitle: b\n", []string{""}},
		"a mark of no use": {"a.yaml", "mark: [A]\ntitle: a\ntitle: b\n", []string{""}},
		"a list cut off":   {"a.json", `[{"mark": "A"} {"mark": "B"}]`, []string{""}},
		"no text":          {"a.yaml", "\x00", []string{""}},
	} {
		docs, problems := Read(c.file, []byte(c.src))
		for _, doc := range docs {
			found := Validate(doc, s)
			for i, p := range found {
				if p.Mark != doc.Root.mark() {
					t.Errorf("%s: %d is of %q: %v", name, i, p.Mark, p)
				}
				if p.Field == "bogus" {
					problems = append(problems, p)
				}
			}
			if p := doc.Problem("/x", "", "", ""); p.Mark != doc.Root.mark() {
				t.Errorf("%s: %q", name, p.Mark)
			}
		}
		var got []string
		for _, p := range problems {
			got = append(got, p.Mark)
		}
		if len(got) != len(c.want) {
			t.Fatalf("%s: %v", name, problems)
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: of %q, not %q: %v", name, got[i], c.want[i], problems[i])
			}
		}
	}
}
