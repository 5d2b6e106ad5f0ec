package render

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/schema"
)

// command is a workflow command as the runner reads it.
type command struct {
	name       string
	properties map[string]string
	data       string
}

// parseCommand reads a line by the rules of TryParseV2 in src/Runner.Common/ActionCommand.cs of actions/runner, written anew from
// reading it: trimmed, it begins with ::; up to the next :: stand the name and, behind the first space, properties that commas part;
// a property without a value is left out, and so is an equals sign that begins one; escapes are undone in the order that is listed there.
func parseCommand(line string) (command, bool) {
	line = strings.TrimLeft(line, " \t\r\n\v\f\u0085\u00a0")
	rest, ok := strings.CutPrefix(line, "::")
	if !ok {
		return command{}, false
	}
	info, data, ok := strings.Cut(rest, "::")
	if !ok {
		return command{}, false
	}
	name, properties, _ := strings.Cut(info, " ")
	if !slices.Contains([]string{"error", "warning", "notice"}, name) {
		return command{}, false
	}
	out := command{name, map[string]string{}, data}
	for _, escape := range [][2]string{{"\r", "%0D"}, {"\n", "%0A"}, {"%", "%25"}} {
		out.data = strings.ReplaceAll(out.data, escape[1], escape[0])
	}
	for property := range strings.SplitSeq(strings.TrimSpace(properties), ",") {
		key, value, _ := strings.Cut(property, "=")
		value = strings.TrimLeft(value, "=")
		for _, escape := range [][2]string{{"\r", "%0D"}, {"\n", "%0A"}, {":", "%3A"}, {",", "%2C"}, {"%", "%25"}} {
			value = strings.ReplaceAll(value, escape[1], escape[0])
		}
		if key != "" && value != "" {
			out.properties[key] = value
		}
	}
	return out, true
}

// keepsPlaces says whether ValidateLinesAndColumns of src/Runner.Worker/ActionCommandManager.cs leaves all as it is.
func (c command) keepsPlaces() bool {
	number := func(key string) (int, bool) {
		n, err := strconv.Atoi(c.properties[key])
		return n, err == nil
	}
	line, hasLine := number("line")
	endLine, hasEndLine := number("endLine")
	col, hasCol := number("col")
	endCol, hasEndCol := number("endColumn")
	return (hasLine || !hasEndLine && !hasCol) && (hasCol || !hasEndCol) && (!hasEndLine || endLine >= line) && (!hasEndCol || endCol >= col) &&
		(!hasCol || !hasEndLine || line == endLine)
}

// readCommands parts the commands from the other lines, none of which the runner may take for one.
func readCommands(t *testing.T, text string) (commands []command, rest []string) {
	t.Helper()
	for line := range strings.SplitSeq(text, "\n") {
		if c, ok := parseCommand(line); ok {
			commands = append(commands, c)
			if !c.keepsPlaces() {
				t.Errorf("the runner would change the places of %s", line)
			}
			continue
		}
		rest = append(rest, line)
		if strings.HasPrefix(strings.TrimSpace(line), "::") || strings.Contains(line, "##[") { // TryParse finds the older form anywhere in a line
			t.Errorf("the runner may take %q for a command", line)
		}
	}
	return commands, rest
}

// What the runner reads is the entries, each with its file, place, title and message, then one notice of the cautions a door.
func TestAnnotationsGiveEntries(t *testing.T) {
	run := allTold(t)
	all := usual
	all.Only = Outcomes
	for _, o := range []Options{usual, all} {
		text, _ := reported(t, "github", run, o, false)
		commands, rest := readCommands(t, text)
		next := func() command {
			if len(commands) == 0 {
				t.Fatal("a command is missing")
			}
			c := commands[0]
			commands = commands[1:]
			return c
		}
		for _, p := range run.notices {
			same(t, next(), "warning", notice(p))
		}
		for _, r := range run.results {
			severeOnes := 0
			for _, e := range entries(r, o) {
				if e.kind == isCaution {
					continue
				}
				if e.weight == severe {
					severeOnes++
				}
				same(t, next(), map[string]string{severe: "error", minor: "warning", note: "notice"}[e.weight], e)
			}
			if !r.CanOrder && severeOnes == 0 {
				if c := next(); c.name != "error" || c.data != orderLine(r) {
					t.Errorf("%q cannot be ordered, and is told as %+v", r.Door.Mark, c)
				}
			}
			namesCautions(t, r, next)
		}
		for _, p := range run.problems {
			same(t, next(), "error", problem(p))
		}
		for _, p := range run.repeated {
			same(t, next(), "error", repeated(p))
		}
		if len(commands) > 0 {
			t.Errorf("%d commands more than entries, the first %+v", len(commands), commands[0])
		}
		if !slices.ContainsFunc(rest, func(l string) bool { return strings.HasPrefix(l, "doors: ") }) {
			t.Error("no summary")
		}
	}
}

func namesCautions(t *testing.T, r *assess.Result, next func() command) {
	t.Helper()
	if len(r.Cautions) == 0 {
		return
	}
	c := next()
	if c.name != "notice" || !strings.HasPrefix(c.data, "Cautions: ") {
		t.Errorf("%q: cautions are told as %+v", r.Door.Mark, c)
	}
	for _, one := range r.Cautions {
		if !strings.Contains(c.data, cautionName(r, one)) {
			t.Errorf("%q: %q does not name %s", r.Door.Mark, c.data, one.ID)
		}
	}
}

// same holds a command to an entry.
func same(t *testing.T, c command, name string, e entry) {
	t.Helper()
	file := schema.Printable(fromHere(e.file))
	if strings.HasPrefix(file, "=") {
		file = "./" + file
	}
	if c.name != name || c.properties["file"] != file || !strings.HasSuffix(c.properties["title"], e.title) || !strings.Contains(c.properties["title"], schema.Printable(e.mark)) {
		t.Errorf("%+v\nfor %s %+v", c, name, e)
	}
	if len(e.places) > 0 {
		at := e.places[0]
		want := map[string]string{"line": strconv.Itoa(at.Start.Line), "endLine": strconv.Itoa(at.End.Line)}
		if at.Start.Line == at.End.Line {
			want["col"], want["endColumn"] = strconv.Itoa(at.Start.Column), strconv.Itoa(max(at.Start.Column, at.End.Column-1))
		}
		for _, key := range []string{"line", "endLine", "col", "endColumn"} {
			if c.properties[key] != want[key] {
				t.Errorf("%s: %s is %q, not %q", e.title, key, c.properties[key], want[key])
			}
		}
	}
	got := strings.Split(c.data, "\n")
	message := strings.Split(e.message, "\n")
	for i, line := range message {
		if len(got) <= i || got[i] != schema.Printable(line) {
			t.Fatalf("message %q, not %q", c.data, e.message)
		}
	}
	for _, p := range e.places[min(1, len(e.places)):] {
		if also := strings.Join(got[len(message):], "\n"); !strings.Contains(also, strconv.Itoa(p.Start.Line)+":"+strconv.Itoa(p.Start.Column)) {
			t.Errorf("%q does not tell place %v", also, p)
		}
	}
	if !strings.Contains(got[len(got)-1], e.rule) {
		t.Errorf("%q does not name %s", c.data, e.rule)
	}
}

// A run that was interrupted says so as an error, and one of nothing has the summary alone.
func TestAnnotationsOfSpecialRuns(t *testing.T) {
	text, _ := reported(t, "github", told{}, usual, true)
	commands, _ := readCommands(t, text)
	if len(commands) != 1 || commands[0].name != "error" || commands[0].data != cutShort {
		t.Errorf("%+v", commands)
	}
	text, _ = reported(t, "github", told{}, usual, false)
	if commands, _ = readCommands(t, text); len(commands) != 0 || !strings.HasPrefix(text, "doors: 0") {
		t.Errorf("%q", text)
	}
}

// What is no command is not taken for one, whatever a text holds.
func TestNoCommand(t *testing.T) {
	for _, line := range []string{"::error::x", "  ::error::x", "\t::x", "a ##[error]x", "##[##[error]x", "#####[error]x"} {
		quiet := noCommand(line)
		readCommands(t, quiet)
		if back := strings.ReplaceAll(strings.TrimPrefix(quiet, "| "), "## [", "##["); back != line {
			t.Errorf("%q became %q", line, quiet)
		}
	}
}
