package render

import (
	"io"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/schema"
)

// annotations writes workflow commands of GitHub Actions, a line each, as the doors come. The runner keeps about ten of a kind in a
// step, so the summary of the text report closes them. Their form is that of packages/core/src/command.ts in actions/toolkit; they
// are read by src/Runner.Common/ActionCommand.cs in actions/runner.
type annotations struct {
	w io.Writer
	o Options
}

func newAnnotations(w io.Writer, o Options) (Report, error) { return annotations{w, o}, nil }

// commands by what an entry weighs.
var commands = map[string]string{severe: "error", minor: "warning", note: "notice"}

func (a annotations) Door(r *assess.Result) error {
	var b strings.Builder
	said := false
	for _, e := range entries(r, a.o) {
		if e.kind != isCaution {
			said = said || e.weight == severe
			b.WriteString(annotation(e))
		}
	}
	whole := entry{rule: "", kind: isNotice, mark: r.Door.Mark, file: r.Door.Document.File, places: []schema.Span{markSpan(r)}}
	if s := standingOf(r, a.o); s != canBeOrdered && !said {
		whole.weight, whole.title, whole.message = severe, "Cannot be ordered", orderLine(r)
		if s == letPass {
			whole.weight = minor
		}
		b.WriteString(annotation(whole))
	}
	if names := strings.TrimPrefix(cautionNames(r), " ! "); names != "" {
		whole.weight, whole.title = note, "Cautions"
		whole.message = "Cautions: " + names + ". In full in the summary of the run; local codes and licensed practice come first."
		b.WriteString(annotation(whole))
	}
	_, err := io.WriteString(a.w, b.String()) // one write: nobody sees half a line
	return err
}

func (a annotations) Problem(p schema.Problem) error { return a.write(problem(p)) }

func (a annotations) Repeated(p schema.Problem) error { return a.write(repeated(p)) }

func (a annotations) Notice(p schema.Problem) error { return a.write(notice(p)) }

func (a annotations) write(e entry) error {
	_, err := io.WriteString(a.w, annotation(e))
	return err
}

func (a annotations) Close(end End) error {
	if end.Interrupted {
		if err := a.write(entry{weight: severe, title: "Not whole", message: cutShort}); err != nil {
			return err
		}
	}
	var b strings.Builder
	if err := end.Summary.Text(&b); err != nil {
		return err
	}
	_, err := io.WriteString(a.w, noCommand(b.String()))
	return err
}

func (a annotations) Drop() {}

// annotation is the workflow command of an entry.
func annotation(e entry) string {
	var b strings.Builder
	b.WriteString("::" + commands[e.weight] + " ")
	property := func(name, value string) { b.WriteString(name + "=" + escapeProperty(value) + ",") }
	if e.file != "" {
		file := schema.Printable(fromHere(e.file))
		if strings.HasPrefix(file, "=") {
			file = "./" + file // the runner would take the sign for the one before the value
		}
		property("file", file)
	}
	if len(e.places) > 0 {
		span := e.places[0]
		property("line", strconv.Itoa(span.Start.Line))
		property("endLine", strconv.Itoa(max(span.Start.Line, span.End.Line)))
		if span.Start.Line == span.End.Line { // else the runner drops them
			property("col", strconv.Itoa(span.Start.Column))
			property("endColumn", strconv.Itoa(max(span.Start.Column, span.End.Column-1)))
		}
	}
	title := e.title
	if e.mark != "" {
		title = "Door " + e.mark + ": " + title
	}
	b.WriteString("title=" + escapeProperty(schema.Printable(title)) + "::")
	lines := e.lines()
	if e.rule != "" {
		lines = append(lines, e.ruled())
	}
	b.WriteString(escapeData(strings.Join(lines, "\n")) + "\n")
	return b.String()
}

// Escapes of escapeData and escapeProperty in packages/core/src/command.ts of actions/toolkit.
var (
	dataEscapes     = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	propertyEscapes = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)

func escapeData(s string) string { return dataEscapes.Replace(s) }

func escapeProperty(s string) string { return propertyEscapes.Replace(s) }

// noCommand makes sure that the runner takes no line of a text for a command: one that begins with :: once it is trimmed, or one that
// has ##[ anywhere, which is the older form.
func noCommand(text string) string {
	lines := strings.Split(strings.ReplaceAll(text, "##[", "## ["), "\n")
	for i, l := range lines {
		if strings.HasPrefix(strings.TrimSpace(l), "::") {
			lines[i] = "| " + l
		}
	}
	return strings.Join(lines, "\n")
}
