package main

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// lessonRow is a row of the README's table of lessons.
var lessonRow = regexp.MustCompile("(?m)^\\| \\[([^]]+)\\]\\(([^)]+)\\) \\| ([^|]+) \\| `([^`]+)` ([a-z-]+) \\| ([^|]+) \\|$")

// The README's doors come to the verdict that it tells, and the rule that it names decides it.
func TestLessonsAreTrue(t *testing.T) {
	alone(t)
	t.Chdir("../..")
	src, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(src), "<!-- lessons -->")
	table, _, _ = strings.Cut(table, "<!-- end -->")
	rows := lessonRow.FindAllStringSubmatch(table, -1)
	if len(rows) != 17 || len(rows) != strings.Count(table, "\n| [") {
		t.Fatalf("%d rows read of %d", len(rows), strings.Count(table, "\n| ["))
	}
	type finding struct{ Rule, Outcome string }
	for _, row := range rows {
		mark, file, verdict, rule, outcome := row[1], row[2], row[3], row[4], row[5]
		var r struct {
			Mark, Verdict string
			CanOrder      bool `json:"can_be_ordered"`
			Findings      []finding
			Options       []struct{ Findings []finding }
		}
		if err := json.Unmarshal([]byte(run(t, "check", "--seals", ownSeals, "--format", "json", file).out), &r); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		got := r.Verdict
		if r.Verdict == "complies" {
			got += map[bool]string{true: ", can be ordered", false: ", cannot be ordered"}[r.CanOrder]
		}
		all := r.Findings
		for _, o := range r.Options {
			all = append(all, o.Findings...)
		}
		if r.Mark != mark || got != verdict || !slices.Contains(all, finding{rule, outcome}) {
			t.Errorf("%s: %s, %s, and no finding %s", file, r.Mark, got, fmt.Sprint(finding{rule, outcome}))
		}
	}
}
