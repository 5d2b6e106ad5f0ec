package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/tools"
)

// commandBlock is a console block that runs the program; what follows the command is its output.
var commandBlock = regexp.MustCompile("(?s)```console\n\\$ go run ./cmd/sillwright ([^\n]*)\n(.*?)```")

// shellBlock is one that a shell runs with the program and others on PATH, which the line above it names.
var shellBlock = regexp.MustCompile("(?s)<!-- runs ([a-z ]+) -->\n\n```console\n\\$ ([^\n]*)\n(.*?)```")

// runsByShell gives the README with what such blocks print now. One whose programs are missing stays as it is.
func runsByShell(t *testing.T, readme string) string {
	t.Helper()
	blocks := 0
	out := shellBlock.ReplaceAllStringFunc(readme, func(block string) string {
		blocks++
		part := shellBlock.FindStringSubmatch(block)
		t.Run(part[1], func(t *testing.T) {
			dir := "."
			for _, program := range strings.Fields(part[1]) {
				if program == "opa" {
					dir = besideBundle(t)
				}
				tools.Need(t, program)
			}
			t.Setenv("PARALLEL_HOME", t.TempDir())
			got := shell(t, dir, nil, "sh", "-c", part[2])
			if got.code != 0 || got.err != "" || got.out == "" {
				t.Errorf("%s: exit %d, %s", part[2], got.code, got.err)
			}
			block = fmt.Sprintf("<!-- runs %s -->\n\n```console\n$ %s\n%s```", part[1], part[2], got.out)
		})
		return block
	})
	if blocks == 0 {
		t.Fatal("the README shows nothing that a shell runs")
	}
	return out
}

// besideBundle puts stock OPA on PATH and gives a folder with the examples and the bundle, which the README has written before.
func besideBundle(t *testing.T) string {
	t.Helper()
	t.Setenv("PATH", filepath.Dir(tools.StockOPA(t))+string(os.PathListSeparator)+os.Getenv("PATH"))
	dir := t.TempDir()
	examples, err := filepath.Abs("examples")
	if err == nil {
		err = os.Symlink(examples, filepath.Join(dir, "examples"))
	}
	if err != nil {
		t.Fatal(err)
	}
	if got := run(t, "bundle", "-o", filepath.Join(dir, "sillwright-rules.tar.gz")); got.code != 0 {
		t.Fatal(got.err)
	}
	return dir
}

// countBlock shows how many rules there are, by level and by where their text was seen.
var countBlock = regexp.MustCompile("(?s)<!-- rulebooks -->\n.*?<!-- end -->")

var exitBlock = regexp.MustCompile("(?s)<!-- exit codes -->\n.*?<!-- end -->")

// settingBlock shows a seal of each kind as found and as the program sets it.
var settingBlock = regexp.MustCompile("(?s)<!-- settings -->\n.*?<!-- end -->")

// settings is that table, of the example doors.
func settings(t *testing.T) string {
	t.Helper()
	out := "<!-- settings -->\n\n| door | seal | as found | as set | on site |\n|---|---|---|---|---|\n"
	for _, row := range [][3]string{
		{"complies-c-01-floor-falling-3-mm", "touching-in-the-middle", "set-by-program"},
		{"complies-k-01-kitchen-carpet-in-inches", "two-blades", "two-blades-set-by-program"},
		{"complies-w-02-delivery-door-with-tufts", "tufts-as-found", "tufts-set-by-program"},
		{"complies-w-02-delivery-door-with-tufts", "tufts-with-a-blade-as-found", "tufts-with-a-blade-set-by-program"},
		{"complies-y-01-sectional-yard-door", "gasket-as-found", "gasket-set-by-program"},
		{"complies-b-02-bathroom-with-a-drop-seal", "drop-seal", "drop-seal-set-by-program"},
	} {
		file := "examples/" + row[0] + ".yaml"
		var r struct {
			Mark    string
			Options []struct {
				ID, Verdict string
				Leakage     struct {
					Flow float64 `json:"flow_lps"`
					High float64 `json:"high_lps"`
					At   float64 `json:"at_pa"`
				}
				Site     []string `json:"on_site"`
				Settings []struct {
					Seal    string
					Overlap json.Number `json:"overlap_mm"`
				}
			}
		}
		if err := json.Unmarshal([]byte(run(t, "check", "--seals", ownSeals, "--format", "json", file).out), &r); err != nil {
			t.Fatal(err)
		}
		line, seal := fmt.Sprintf("| [%s](%s) ", r.Mark, file), "drop-seal-12"
		cells := map[string]string{}
		for _, o := range r.Options {
			cells[o.ID] = fmt.Sprintf("%.2g L/s, high end %.2g, at %g Pa: %s", o.Leakage.Flow, o.Leakage.High, o.Leakage.At, o.Verdict)
			if o.ID == row[2] {
				for _, s := range o.Settings {
					seal = s.Seal
					cells[o.ID] = s.Overlap.String() + " mm: " + cells[o.ID]
				}
				cells["site"] = strings.Join(o.Site, " ")
			}
		}
		if cells[row[1]] == "" || cells[row[2]] == "" || cells["site"] == "" {
			t.Fatalf("%s: %v", file, cells)
		}
		out += line + "| " + seal + " | " + cells[row[1]] + " | " + cells[row[2]] + " | " + cells["site"] + " |\n"
	}
	return out + "\n<!-- end -->"
}

// The README shows what the program really prints, and the exit codes that it really gives.
func TestReadmeIsTrue(t *testing.T) {
	alone(t)
	t.Chdir("../..")
	t.Setenv("NO_COLOR", "1")
	src, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := 0
	want := commandBlock.ReplaceAllStringFunc(string(src), func(block string) string {
		blocks++
		args := commandBlock.FindStringSubmatch(block)[1]
		return "```console\n$ go run ./cmd/sillwright " + args + "\n" + run(t, strings.Fields(args)...).out + "```"
	})
	if blocks == 0 {
		t.Fatal("the README runs no command")
	}
	want = runsByShell(t, want)
	codes := "<!-- exit codes -->\n\n| code | when |\n|---|---|\n"
	for _, c := range cli.ExitCodes {
		codes += fmt.Sprintf("| %d | %s |\n", c.Code, c.When)
	}
	_, counts, ok := strings.Cut(run(t, "rules").out, "\nrulebook ")
	if !ok || !countBlock.MatchString(want) {
		t.Fatal("no counts of rules, in the output of rules or in the README")
	}
	want = countBlock.ReplaceAllString(want, "<!-- rulebooks -->\n\n```text\nrulebook "+counts+"```\n\n<!-- end -->")
	want = exitBlock.ReplaceAllString(want, codes+"\n<!-- end -->")
	if !settingBlock.MatchString(want) {
		t.Fatal("no settings in the README")
	}
	want = settingBlock.ReplaceAllLiteralString(want, settings(t))
	if string(src) == want {
		return
	}
	if !*update {
		t.Fatal("the README is out of date: go test ./cmd/sillwright -update")
	}
	if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}
