package render

import (
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/spool"
	"sillwright/schema"
)

// junit writes JUnit XML: a test case a door, in one suite, whose counts stand before its cases. A suite for each file would not
// hold memory flat, for a file may be found again after others, and the class name tells the files apart anyway.
//
// JUnit XML has no standard. What is written suits junit-10.xsd of the xUnit plugin for Jenkins, and the schema for the Apache Ant
// tasks by Windy Road save for this: suites have no timestamp and no hostname, for the same doors give the same report at any
// time and on any machine, and cases have a system-out of their own, for the cautions stand with their door.
type junit struct {
	w     io.Writer
	o     Options
	cases spool.Spool
	suite junitSuite
	said  []string // beside the doors
}

type junitSuite struct {
	XMLName  xml.Name `xml:"testsuite"`
	ID       int      `xml:"id,attr"`
	Name     string   `xml:"name,attr"`
	Package  string   `xml:"package,attr"`
	Tests    int      `xml:"tests,attr"`
	Failures int      `xml:"failures,attr"`
	Errors   int      `xml:"errors,attr"`
	Skipped  int      `xml:"skipped,attr"`
	Time     int      `xml:"time,attr"`
}

type junitCase struct {
	XMLName xml.Name     `xml:"testcase"`
	Name    string       `xml:"name,attr"`
	Class   string       `xml:"classname,attr"`
	Time    int          `xml:"time,attr"`
	Skipped *junitResult `xml:"skipped"`
	Error   *junitResult `xml:"error"`
	Failure *junitResult `xml:"failure"`
	Out     *junitText   `xml:"system-out"`
}

type junitResult struct {
	Type    string `xml:"type,attr,omitempty"`
	Message string `xml:"message,attr"`
	Text    string `xml:",cdata"`
}

type junitText struct {
	Text string `xml:",cdata"`
}

type junitProperty struct {
	XMLName xml.Name `xml:"property"`
	Name    string   `xml:"name,attr"`
	Value   string   `xml:"value,attr"`
}

func newJUnit(w io.Writer, o Options) (Report, error) {
	return &junit{w: w, o: o, suite: junitSuite{Name: "sillwright lint", Package: "sillwright"}}, nil
}

func (j *junit) Door(r *assess.Result) error {
	c := junitCase{Name: schema.Printable(r.Door.Mark), Class: schema.Printable(fromHere(r.Door.Document.File))}
	var why, beside []string
	accepted := false
	told := entries(r, j.o)
	for _, e := range told {
		accepted = accepted || e.accepted != nil
		if e.bites() && !r.CanOrder {
			why = append(why, paragraph(e))
		} else {
			beside = append(beside, paragraph(e))
		}
	}
	message := schema.Printable(summed(r, j.o.Only, told))
	result := &junitResult{Message: message, Text: strings.Join(why, "\n")}
	switch s := standingOf(r, j.o); {
	case s == fails:
		c.Failure, result.Type = result, "fails"
	case s == held:
		c.Failure, result.Type = result, "held"
	case s == notProven:
		c.Error, result.Type = result, "unproven"
	case s == letPass:
		c.Skipped, result.Message = result, "not proven, which this run lets pass: "+message
	case accepted: // seen, and no failure
		c.Skipped = &junitResult{Message: "accepted: " + message}
	default:
		beside = append([]string{message + "\n"}, beside...)
	}
	if len(beside) > 0 {
		c.Out = &junitText{strings.Join(beside, "\n")}
	}
	return j.add(c)
}

// paragraph is an entry in several lines: what and where, then its message.
func paragraph(e entry) string {
	head := e.title
	switch {
	case slices.Contains(Outcomes, e.kind):
		head = e.ruled() + ": " + head
	case e.kind == isCaution && !strings.HasSuffix(head, e.rule):
		head += " (" + e.rule + ")"
	}
	lines := append([]string{schema.Printable(head) + ", at " + e.at()}, e.lines()...)
	return strings.Join(lines, "\n  ") + "\n"
}

func (j *junit) Problem(p schema.Problem) error { return j.told(problem(p), "input", p.Field) }

func (j *junit) Repeated(p schema.Problem) error { return j.told(repeated(p), "mark", p.Field) }

// told adds a case that is no door, for what an entry says of a field.
func (j *junit) told(e entry, kind, field string) error {
	name := e.title + ", " + e.at()
	if field != "" {
		name += " " + schema.Printable(field)
	}
	return j.add(junitCase{Name: name, Class: schema.Printable(fromHere(e.file)), Error: &junitResult{Type: kind, Message: e.message, Text: e.message}})
}

func (j *junit) Notice(p schema.Problem) error {
	j.said = append(j.said, paragraph(notice(p)))
	return nil
}

// add writes a case to disk and counts it.
func (j *junit) add(c junitCase) error {
	j.suite.Tests++
	switch {
	case c.Failure != nil:
		j.suite.Failures++
	case c.Error != nil:
		j.suite.Errors++
	case c.Skipped != nil:
		j.suite.Skipped++
	}
	text, err := xml.MarshalIndent(c, "    ", "  ")
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(&j.cases, "%s\n", text)
	return err
}

func (j *junit) Close(end End) error {
	defer j.Drop()
	if end.Interrupted {
		if err := j.add(junitCase{Name: "the whole run", Class: "sillwright", Error: &junitResult{Type: "interrupted", Message: cutShort}}); err != nil {
			return err
		}
	}
	head, err := xml.Marshal(j.suite)
	if err != nil {
		return err
	}
	// The counts make the start tag; what the suite holds is copied after it.
	tag, _ := strings.CutSuffix(string(head), "</testsuite>")
	properties, err := xml.MarshalIndent([]junitProperty{
		{Name: "version", Value: j.o.By.Version}, {Name: "policies", Value: j.o.By.Policies}, {Name: "catalogue", Value: j.o.By.Catalogue},
		{Name: "project", Value: j.o.By.Project}, {Name: "as_of", Value: j.o.By.AsOf},
	}, "      ", "")
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(j.w, "%s<testsuites>\n  %s\n    <properties>\n%s\n    </properties>\n", xml.Header, tag, properties); err != nil {
		return err
	}
	if err := j.cases.CopyTo(j.w); err != nil {
		return err
	}
	said := &strings.Builder{}
	for _, text := range j.said {
		said.WriteString(text)
	}
	if err := end.Summary.Text(said); err != nil {
		return err
	}
	out, err := xml.Marshal(struct {
		XMLName xml.Name `xml:"system-out"`
		junitText
	}{junitText: junitText{strings.TrimPrefix(said.String(), "\n")}})
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(j.w, "    %s\n    <system-err></system-err>\n  </testsuite>\n</testsuites>\n", out)
	return err
}

func (j *junit) Drop() { j.cases.Drop() }
