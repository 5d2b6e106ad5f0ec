package render

import (
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/schema"
)

// A mark that two doors have is told as that in every format, and never as something that could not be judged: both doors were.
func TestReportsTellAMarkGivenTwice(t *testing.T) {
	h03 := oneDoor(t, "h.yaml", steep(t))
	p := schema.Problem{File: "k2.json", Pointer: "/mark", Field: "mark", Found: `"K-2" a second time`, Allowed: "each mark once", Do: "Give one of the two doors another mark"}
	p.Span.Start.Line, p.Span.Start.Column, p.Span.End.Line, p.Span.End.Column = 3, 10, 3, 15
	for format, wanted := range map[string][]string{
		"text":     {"could not be judged: 0\n", "doors with a mark that another has: 1\n"},
		"json":     {`{"format":"sillwright/problem/1","source":{"file":"k2.json"`, `"repeated_marks":1`},
		"sarif":    {`"ruleId":"sillwright/mark"`, "Both were judged.", `"executionSuccessful":true,"exitCode":2`, "A mark is given to more than one door: see what is told of sillwright/mark."},
		"junit":    {`name="A mark given twice, k2.json:3:10 mark"`, `<error type="mark"`},
		"github":   {"::error file=k2.json,line=3,endLine=3,col=10,endColumn=14,title=A mark given twice::", "sillwright/mark"},
		"gitlab":   {`"check_name":"sillwright/mark"`, `"severity":"critical"`},
		"markdown": {"\n## Marks given twice\n\n- Mark: ", "| could not be judged | 0 |"},
	} {
		report, _ := reported(t, format, told{results: []*assess.Result{h03}, repeated: []schema.Problem{p}}, usual, false)
		if format == "sarif" {
			report = string(listed(t, format, content{doors: []*assess.Result{h03}, repeated: []schema.Problem{p}, end: End{Code: 2}}))
		}
		for _, want := range wanted {
			if !strings.Contains(report, want) {
				t.Errorf("%s does not say %q:\n%s", format, want, report)
			}
		}
		for _, wrong := range []string{"Could not be judged", "Not judged", "Not all could be judged", inputID, "No rule has spoken", "blocker", `type="input"`} {
			if strings.Contains(report, wrong) {
				t.Errorf("%s says %q:\n%s", format, wrong, report)
			}
		}
		if format != "text" && !strings.Contains(report, "a second time") {
			t.Errorf("%s does not tell what was found:\n%s", format, report)
		}
	}
}

// What could not be judged and a mark given twice are told apart where a run has both.
func TestSARIFTellsBoth(t *testing.T) {
	p := []schema.Problem{{File: "a.yaml", Found: "x"}}
	invocation := logged(t, content{problems: p, repeated: p, end: End{Code: 2}}).Runs[0].Invocations[0]
	if n := invocation.Notifications; invocation.Successful || len(n) != 2 || n[0].Level != "error" || !strings.Contains(n[0].Message.Text, inputID) || n[1].Level != "warning" || !strings.Contains(n[1].Message.Text, markID) {
		t.Errorf("%+v", invocation)
	}
}
