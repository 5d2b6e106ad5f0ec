package main

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"sillwright/cmd/internal/cli"
)

// commandBlock is a console block that runs the program; what follows the command is its output.
var commandBlock = regexp.MustCompile("(?s)```console\n\\$ go run ./cmd/sillwright ([^\n]*)\n(.*?)```")

// countBlock shows how many rules there are, by level and by where their text was seen.
var countBlock = regexp.MustCompile("(?s)<!-- rulebooks -->\n.*?<!-- end -->")

var exitBlock = regexp.MustCompile("(?s)<!-- exit codes -->\n.*?<!-- end -->")

// The README shows what the program really prints, and the exit codes that it really gives.
func TestReadmeIsTrue(t *testing.T) {
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
