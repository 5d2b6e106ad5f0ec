package main

import (
	"bytes"
	"context"
	"flag"
	"reflect"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/policies"
	"sillwright/schema"
)

var many = flag.Int("doors", 300, "how many drawn doors are judged with answers kept and without")

// drawnDoors draws doors and reads them.
func drawnDoors(t *testing.T, count, kinds int) []schema.Document {
	t.Helper()
	var text bytes.Buffer
	if err := doors(&text, count, kinds); err != nil {
		t.Fatal(err)
	}
	docs, problems := schema.Read("doors.ndjson", text.Bytes())
	if len(problems) > 0 || len(docs) != count {
		t.Fatalf("%d documents of %d, %v", len(docs), count, problems)
	}
	return docs
}

func assessor(t *testing.T) *assess.Assessor {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What is drawn is what the benchmark says of it: doors that can be judged, under three rulebooks and with four options that
// leak so and so much, and no two of a kind unless there are fewer kinds than doors.
func TestDrawnDoors(t *testing.T) {
	a, seen := assessor(t), map[string]bool{}
	for _, doc := range drawnDoors(t, 200, 200) {
		d, problems := a.Decode(doc)
		if len(problems) > 0 {
			t.Fatal(problems[0])
		}
		r, err := a.Assess(context.Background(), d)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Rulebooks) != 3 || len(r.Options) != 4 {
			t.Errorf("%s: %d rulebooks, %d options", d.Mark, len(d.Rulebooks), len(r.Options))
		}
		for _, o := range r.Options {
			if o.Leakage == nil || o.Leakage.Low >= o.Leakage.High {
				t.Errorf("%s, %s: leakage %+v", d.Mark, o.ID, o.Leakage)
			}
		}
		gaps := ""
		for _, reading := range d.Leaves[0].Readings {
			gaps += reading.Gap.MM() + " "
		}
		if seen[gaps+d.Leaf.FaceToStop.Value.MM()] {
			t.Errorf("%s is of a kind that came before", d.Mark)
		}
		seen[gaps+d.Leaf.FaceToStop.Value.MM()] = true
	}
	marks, kinds := map[string]bool{}, map[string]bool{}
	for _, doc := range drawnDoors(t, 200, 10) {
		mark, _ := doc.Root.Member("mark")
		width, _ := doc.Root.Lookup("/door/clear_width/face_to_stop")
		marks[mark.Text], kinds[width.Text] = true, true
	}
	if len(marks) != 200 || len(kinds) != 10 {
		t.Errorf("%d marks and %d kinds, want 200 and 10", len(marks), len(kinds))
	}
}

// A door is judged with the answers that are kept of doors before it as it is judged by itself, in one evaluation: every
// outcome, every figure, every place and every word. Half of the doors come again, in other order.
func TestKeptAnswersAreThoseJudgedAnew_Identity(t *testing.T) {
	a, count := assessor(t), *many
	if testing.Short() {
		count = min(count, 20)
	}
	for _, doc := range append(drawnDoors(t, count, count), drawnDoors(t, count/2+1, count/4+1)...) {
		d, problems := a.Decode(doc)
		if len(problems) > 0 {
			t.Fatal(problems[0])
		}
		in, _ := a.Input(d)
		kept, err := a.Policies.Judge(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		anew, err := a.Policies.JudgeAnew(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		if len(kept) != len(anew) || len(kept) == 0 {
			t.Fatalf("%s: %d findings, %d anew", d.Mark, len(kept), len(anew))
		}
		for i := range kept {
			if !reflect.DeepEqual(kept[i], anew[i]) {
				t.Fatalf("%s, %s of %s:\n%+v\nanew\n%+v", d.Mark, kept[i].Rule, kept[i].Subject, kept[i], anew[i])
			}
		}
	}
}

// A door of which others are alike is reported as it is by itself, byte for byte, with places of its own.
func TestAlikeDoorsAreReportedAsTheyAreAlone_Identity(t *testing.T) {
	for name, shown := range map[string][]string{"all": nil, "some": {policies.Fail, policies.Unknown}} {
		t.Run(name, func(t *testing.T) {
			a := assessor(t)
			a.Shown = shown
			batch := assess.Batch{Assessor: a}
			for _, doc := range drawnDoors(t, 150, 30) {
				d, together, problems, err := batch.Check(context.Background(), doc, true)
				if err != nil || len(problems) > 0 {
					t.Fatal(problems, err)
				}
				own, problems := a.Decode(doc)
				if len(problems) > 0 {
					t.Fatal(problems[0])
				}
				alone, err := a.Assess(context.Background(), own)
				if err != nil {
					t.Fatal(err)
				}
				if d.Mark != own.Mark || !reflect.DeepEqual(d, own) {
					t.Fatalf("%s is read as %s, or otherwise", own.Mark, d.Mark)
				}
				for _, write := range []func(*strings.Builder, *assess.Result) error{
					func(to *strings.Builder, r *assess.Result) error { return render.JSON(to, r, render.MadeBy{}) },
					func(to *strings.Builder, r *assess.Result) error { return render.Line(to, r, render.Outcomes, false) },
				} {
					var one, other strings.Builder
					if err := write(&one, together); err != nil {
						t.Fatal(err)
					}
					if err := write(&other, alone); err != nil {
						t.Fatal(err)
					}
					if one.String() != other.String() {
						t.Fatalf("%s:\n%s\nalone\n%s", own.Mark, one.String(), other.String())
					}
				}
			}
		})
	}
}

func TestMedian(t *testing.T) {
	for want, of := range map[float64][]float64{2: {3, 1, 2}, 2.5: {4, 1, 3, 2}, 7: {7}} {
		if got := median(of); got != want {
			t.Errorf("median of %v is %g, want %g", of, got, want)
		}
	}
}
