package policies

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"sillwright/schema/fact"
)

// A question reads no fact by its name that it does not declare: what is kept rests on what is declared.
func TestQuestionsDeclareWhatTheyRead(t *testing.T) {
	modules, compiler := compiled(t)
	declared, err := questions(compiler)
	if err != nil {
		t.Fatal(err)
	}
	reads := func(of ...question) map[string]bool {
		out := map[string]bool{}
		for _, q := range of {
			for _, name := range slices.Concat(q.Fact, q.Target, q.Reads, slices.Sorted(maps.Keys(q.Rows))) {
				out[name] = true
			}
		}
		return out
	}
	all, seen := reads(slices.Collect(maps.Values(declared))...), 0
	for name, m := range compiler.Modules {
		own := all
		for _, r := range m.Rules { // of a module with a question, what that reads
			if r.Head.Name != "answer" || len(r.Head.Args) == 0 {
				continue
			}
			if asked, ok := r.Head.Args[0].Value.(ast.String); ok {
				own = reads(declared[string(asked)])
				break
			}
		}
		parsed, err := ast.ParseModuleWithOpts(name, modules[name], ast.ParserOptions{RegoVersion: ast.RegoV1})
		if err != nil {
			t.Fatal(err)
		}
		ast.WalkRefs(parsed, func(ref ast.Ref) bool {
			if head, ok := ref[0].Value.(ast.Var); !ok || head != "facts" || len(ref) < 2 {
				return false
			}
			if read, ok := ref[1].Value.(ast.String); ok {
				seen++
				if !own[string(read)] {
					t.Errorf("%s reads facts.%s, which it does not declare", name, string(read))
				}
			}
			return false
		})
	}
	if seen < 20 {
		t.Errorf("only %d facts read by name: the test looks at the wrong thing", seen)
	}
}

// widths gives the trial door a clear width.
func widths(value int64, at string) fact.Set {
	return fact.Set{"clear_width": {Value: value, At: []string{at}}}
}

// One answer serves every number at the same place, with that number, its distance and its place in the spec; at the limit
// and beside it there are others. What was judged without anything kept says the same.
func TestOneAnswerForAPlace(t *testing.T) {
	p, err := trial(t, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	asked := func() int { return len(p.kept.young) }
	for i, c := range []struct {
		width int64
		at    string
		kept  int // answers in all after it
	}{
		{width800 - 50_000_000, "/a", 1}, {width800 - 1, "/a", 1}, {width800 - 700_000_000, "/a", 1},
		{width800, "/a", 2}, {width800 + 1, "/a", 3}, {width800 * 2, "/a", 3}, {width800 * 2, "/b", 4}, {width800 * 3, "/b", 4},
		{width800, "/a", 4}, {1, "/a", 4}, {0, "/a", 5}, {-5, "/a", 6}, {1 << 61, "/a", 7}, {1<<61 + 1, "/a", 8},
	} {
		in := trialInput(widths(c.width, c.at))
		got, err := p.Judge(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		want, err := p.JudgeAnew(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d: %+v, want %+v", c.width, got, want)
		}
		if asked() != c.kept {
			t.Errorf("step %d, %d: %d answers are kept, want %d", i, c.width, asked(), c.kept)
		}
	}
}

// A question that says that it only compares, and tells more of a number than itself or a distance, is found out: its answer
// then serves its own numbers only.
func TestAnswerThatDoesNotFollow(t *testing.T) {
	p, err := trial(t, map[string]string{"at-least": "thrice"}, map[string]string{"thrice.rego": `# METADATA
# custom:
#   fact: [length]
#   limits: {value: at_least}
#   parts: {value: [measured]}
#   by_place: [value]
answer("thrice", rule, facts) := [{"part": "value", "state": "pass", "at": [], "measured": {"length": facts[rule.fact].value * 3}, "limit": rule.limits.value, "comparator": ">=", "values": {}}]`})
	if err != nil {
		t.Fatal(err)
	}
	for n := range int64(20) {
		in := trialInput(widths(width800+5+n*n, "/a"))
		got, err := p.Judge(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		want, err := p.JudgeAnew(context.Background(), in)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Fatalf("%d: %+v, want %+v, %v", n, got, want, err)
		}
	}
}

// Answers that nobody asks for again make room.
func TestKeptIsBounded(t *testing.T) {
	k := &kept{}
	for i := range 5 * generation {
		k.put(fmt.Appendf(nil, "%d", i), &answered{})
	}
	if n := len(k.young) + len(k.old); n > 2*generation || n < generation {
		t.Errorf("%d answers are kept, of at most %d", n, 2*generation)
	}
	if k.get([]byte("0")) != nil || k.get(fmt.Appendf(nil, "%d", 5*generation-1)) == nil {
		t.Error("the oldest is kept, or the newest is not")
	}
}

// Another answer, another variant and another evidence are other questions.
func TestKeptTellsAnswersApart(t *testing.T) {
	p, err := trial(t, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, answers := range []map[string]Answer{nil, {"trial/width": {Value: true, Evidence: "a"}}, {"trial/width": {Value: true, Evidence: "b"}}, {"trial/width": {Value: false, Evidence: "a"}}} {
		for range 2 {
			in := trialInput(fact.Set{})
			in.Answers = answers
			got, err := p.Judge(context.Background(), in)
			if err != nil {
				t.Fatal(err)
			}
			want, err := p.JudgeAnew(context.Background(), in)
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("%v: %+v, want %+v, %v", answers, got, want, err)
			}
		}
	}
	if len(p.kept.young) != 4 {
		t.Errorf("%d answers are kept, want 4", len(p.kept.young))
	}
}
