package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"sillwright/schema"
)

const annexe = "examples/project/sillwright.yaml"

// What is said of deviations keeps to the published schemas, in each of their states.
func TestProjectKeepsToItsSchemas(t *testing.T) {
	t.Chdir("../..")
	src, err := os.ReadFile(annexe)
	if err != nil {
		t.Fatal(err)
	}
	project, err := schema.Named("project")
	if err != nil {
		t.Fatal(err)
	}
	docs, problems := schema.Read(annexe, src)
	if len(docs) != 1 || len(problems)+len(schema.Validate(docs[0], project)) > 0 {
		t.Fatalf("%s: %v", annexe, problems)
	}
	other := filepath.Join(t.TempDir(), "sillwright.yaml")
	if err := os.WriteFile(other, []byte(strings.Replace(string(src), "found: 16 mm", "found: [15.5 mm, 17 mm]", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	states := map[string]bool{}
	for file, wantCode := range map[string]int{annexe: 1, other: 1} {
		lint := run(t, "lint", "--format", "json", "--project", file, "--as-of", "2026-12-01", "examples/project")
		if lint.code != wantCode {
			t.Errorf("%s: exit %d", file, lint.code)
		}
		for line := range strings.Lines(lint.out) {
			var object struct {
				Format   string
				Accepted any
			}
			if err := json.Unmarshal([]byte(line), &object); err != nil {
				t.Fatal(err)
			}
			name := strings.Split(object.Format, "/")[1]
			s, err := schema.Named(name)
			if err != nil {
				t.Fatal(err)
			}
			keeps(t, s, line)
			if uses, ok := object.Accepted.([]any); ok {
				for _, use := range uses {
					states[use.(map[string]any)["state"].(string)] = true
				}
			}
		}
	}
	if len(states) != 5 {
		t.Errorf("states %v", states)
	}
}

// A project file in which something is wrong is an input that is not valid: exit 2, with nothing reported.
func TestBrokenProjectCannotRun(t *testing.T) {
	t.Chdir("../..")
	broken := filepath.Join(t.TempDir(), "sillwright.yaml")
	if err := os.WriteFile(broken, []byte("format: sillwright/project/1\nlevel: {}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"check", "--project", broken, "examples/complies-b-01-bathroom.json"}, {"lint", "--project", broken, "examples/project"}, {"lint", "--project", "nowhere.yaml", "examples/project"},
		{"lint", "--project", "examples", "examples/project"}, {"lint", "--project", annexe, "--no-project", "examples/project"}, {"lint", "--as-of", "today", "examples/project"},
	} {
		if got := run(t, args...); got.code != 2 || got.out != "" || got.err == "" {
			t.Errorf("%q: exit %d\n%s%s", args, got.code, got.out, got.err)
		}
	}
}

// No line that tells of a project is wider than a page, whatever the project says.
func TestProjectKeepsToThePage(t *testing.T) {
	t.Chdir("../..")
	src, err := os.ReadFile(annexe)
	if err != nil {
		t.Fatal(err)
	}
	wide := filepath.Join(t.TempDir(), "sillwright.yaml")
	text := strings.ReplaceAll(string(src), "the old sill may stay", strings.Repeat("x", 150)+" ::error:: "+strings.Repeat("##[error] ", 40))
	text = strings.ReplaceAll(text, "the building control body", strings.Repeat("authority ", 30))
	if err := os.WriteFile(wide, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{annexe, wide} {
		lint := run(t, "lint", "--project", file, "--as-of", "2026-12-01", "examples/project").out
		_, section, _ := strings.Cut(lint, "\nproject file: ")
		section, _, _ = strings.Cut(section, "cautions; ")
		_, section, ok := strings.Cut(section, "\n") // the file may lie anywhere
		if !ok {
			t.Fatalf("no section in\n%s", lint)
		}
		for _, door := range []string{"fails-a-01-annexe-threshold-of-16-mm.yaml", "fails-a-02-annexe-old-sill-of-22-mm.yaml"} {
			section += run(t, "check", "--project", file, "--as-of", "2026-12-01", "examples/project/"+door).out
		}
		for line := range strings.Lines(section) {
			line = strings.TrimSuffix(line, "\n")
			if columns := utf8.RuneCountInString(line); columns > 100 {
				t.Errorf("%d columns: %s", columns, line)
			}
		}
		for line := range strings.Lines(lint) { // a log, in which a line that begins so is read as a command
			if begin := strings.TrimSpace(line); strings.HasPrefix(begin, "::") || strings.HasPrefix(begin, "##") {
				t.Errorf("%q", line)
			}
		}
	}
}
