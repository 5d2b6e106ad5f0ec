package explain

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

const root = "../../../examples/"

func assessor(t *testing.T) *assess.Assessor {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(root + "own-seals.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if problems := a.Catalogue.Add("own-seals.yaml", src); len(problems) > 0 {
		t.Fatal(problems)
	}
	return a
}

// judged gives what is said of a door; ok is false where its spec is none.
func judged(t *testing.T, a *assess.Assessor, doc schema.Document) (r *assess.Result, ok bool) {
	t.Helper()
	d, problems := a.Decode(doc)
	if len(problems) > 0 {
		return nil, false
	}
	r, err := a.Assess(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return r, true
}

func read(t *testing.T, name, text string) schema.Document {
	t.Helper()
	docs, problems := schema.Read(name, []byte(text))
	if len(docs) != 1 || len(problems) > 0 {
		t.Fatalf("%s: %v", name, problems)
	}
	return docs[0]
}

func ofText(t *testing.T, a *assess.Assessor, text string) *assess.Result {
	t.Helper()
	r, ok := judged(t, a, read(t, "door.yaml", text))
	if !ok {
		t.Fatalf("no door: %s", text)
	}
	return r
}

// examples are the texts of the example doors of a pattern, by name.
func examples(t *testing.T, pattern string) map[string]string {
	t.Helper()
	files, err := filepath.Glob(root + pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %d files, %v", pattern, len(files), err)
	}
	out := map[string]string{}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(file)] = string(src)
	}
	return out
}

// waits are the findings that wait for something, each with its option.
func waits(r *assess.Result) map[*policies.Finding]string {
	out := map[*policies.Finding]string{}
	add := func(findings []policies.Finding, option string) {
		for i := range findings {
			if f := &findings[i]; f.Outcome == policies.Unknown && f.Level != policies.Caution && f.Accepted == nil {
				out[f] = f.Rule + option
			}
		}
	}
	add(r.Findings, "")
	for _, o := range r.Options {
		if o.Standing != assess.Fails {
			add(o.Findings, " (option "+o.ID+")")
		}
	}
	return out
}

// Every finding that is unknown waits for something that is named, and nothing else is waited for; each thing is named once, and in
// order.
func TestNeedsNameWhatEveryUnknownWaitsFor(t *testing.T) {
	a := assessor(t)
	asked := 0
	for name, text := range examples(t, "*-*-0*") {
		r := ofText(t, a, text)
		held := map[string]bool{}
		for _, rule := range waits(r) {
			held[rule] = true
		}
		named := map[string]bool{}
		seen := map[[4]string]bool{}
		last := 1 << 30
		for _, n := range Needs(r) {
			asked++
			if n.Title == "" || n.How == "" || n.Pointer == "" || len(n.Settles) == 0 || strings.HasSuffix(n.How, ".") {
				t.Errorf("%s: half a need: %+v", name, n)
			}
			if key := [4]string{n.Fact, n.Pointer, n.Title, n.How}; seen[key] && n.Fact != "" {
				t.Errorf("%s: twice: %v", name, key)
			} else {
				seen[key] = true
			}
			if n.Alone > last {
				t.Errorf("%s: %s settles more alone than what stands before it", name, n.Title)
			}
			last = n.Alone
			for _, rule := range n.Settles {
				named[rule] = true
				if !held[rule] {
					t.Errorf("%s: %s does not wait for %s", name, rule, n.Title)
				}
			}
		}
		for rule := range held {
			if !named[rule] {
				t.Errorf("%s: nothing is named that %s waits for", name, rule)
			}
		}
	}
	if asked < 20 {
		t.Errorf("only %d needs", asked)
	}
}

// What the text leaves to the authority is asked of it, with every point that it is about, and answering settles it.
func TestNeedsAskTheAuthority(t *testing.T) {
	a := assessor(t)
	text := examples(t, "unproven-s-01-*")["unproven-s-01-plate-of-12.9-mm.yaml"]
	needs := Needs(ofText(t, a, text))
	first := needs[0]
	const pointer = "/site/answers/us-ada-2010~1threshold-profile"
	if first.Fact != "" || first.Pointer != pointer || first.Alone != 1 || !slices.Equal(first.Settles, []string{"us-ada-2010/threshold-profile"}) {
		t.Errorf("%+v", first)
	}
	for _, want := range []string{"the authority", "outer side", "inner side", "12.9 mm against 1/2 in"} {
		if !strings.Contains(first.Title, want) {
			t.Errorf("no %q in %s", want, first.Title)
		}
	}
	if !strings.HasPrefix(first.How, "ask the authority") || !strings.Contains(first.How, "left to the authority") {
		t.Error(first.How)
	}
	for value, left := range map[string]string{"true": policies.Pass, "false": policies.Fail} {
		r := ofText(t, a, strings.Replace(text, "open_flue: false}", "open_flue: false, answers: {us-ada-2010/threshold-profile: {value: "+value+", evidence: letter of 4 May}}}", 1))
		if slices.ContainsFunc(Needs(r), func(n Need) bool { return n.Pointer == pointer }) {
			t.Errorf("asked again, answered %s", value)
		}
		if i := slices.IndexFunc(r.Findings, func(f policies.Finding) bool { return f.Rule == first.Settles[0] }); r.Findings[i].Outcome != left {
			t.Errorf("%s: %s", value, r.Findings[i].Outcome)
		}
	}
}

// keys are the places of all keys below a node.
func keys(n *schema.Node, at []any) (out [][]any) {
	for _, m := range n.Members {
		own := append(slices.Clone(at), m.Key)
		out = append(append(out, own), keys(m.Value, own)...)
	}
	for i, item := range n.Items {
		out = append(out, keys(item, append(slices.Clone(at), i))...)
	}
	return out
}

// without is a node without what stands at a place below it.
func without(n *schema.Node, at []any) *schema.Node {
	out := *n
	if i, ok := at[0].(int); ok {
		out.Items = slices.Clone(n.Items)
		out.Items[i] = without(n.Items[i], at[1:])
		return &out
	}
	i := slices.IndexFunc(n.Members, func(m schema.Member) bool { return m.Key == at[0] })
	out.Members = slices.Clone(n.Members)
	if len(at) == 1 {
		out.Members = slices.Delete(out.Members, i, i+1)
		return &out
	}
	out.Members[i].Value = without(n.Members[i].Value, at[1:])
	return &out
}

// related is true of the places of which one is, or is in, the other.
func related(a, b string) bool {
	return strings.HasPrefix(a+"/", b+"/") || strings.HasPrefix(b+"/", a+"/")
}

// Who leaves a key out of the spec of a door that complies, so that something is no longer known, is asked for it, and for nothing that
// is given; whoever gives it is no longer asked.
func TestNeedsNameWhatIsLeftOut(t *testing.T) {
	if testing.Short() {
		t.Skip("hundreds of doors")
	}
	a := assessor(t)
	told := 0
	for name, text := range examples(t, "complies-*") {
		doc := read(t, name, text)
		whole, _ := judged(t, a, doc)
		rules := map[string]bool{}
		for i := range whole.Options {
			whole.Options[i].Standing = assess.Unproven // what one that fails waits for is nothing new either
		}
		for _, rule := range waits(whole) {
			rules[rule] = true
		}
		asked := Needs(whole)
		for _, at := range keys(doc.Root, nil) {
			pointer, left := schema.Pointer(at...), doc
			left.Root = without(doc.Root, at)
			r, ok := judged(t, a, left)
			if !ok {
				continue
			}
			needs, lost := Needs(r), []string{}
			for f, rule := range waits(r) {
				if rules[rule] || f.Reason == tooClose {
					continue
				}
				lost = append(lost, rule)
				if !slices.ContainsFunc(needs, func(n Need) bool { return slices.Contains(n.Settles, rule) }) {
					t.Errorf("%s without %s: nothing is named that %s waits for", name, pointer, rule)
				}
				if slices.ContainsFunc(asked, func(n Need) bool { return slices.Contains(n.Settles, rule) }) {
					t.Errorf("%s: asked for by %s, and it is given", name, rule)
				}
			}
			if len(lost) == 0 {
				continue
			}
			told++
			named := func(n Need) bool {
				key, _ := at[len(at)-1].(string)
				settles := slices.ContainsFunc(lost, func(rule string) bool { return slices.Contains(n.Settles, rule) })
				return settles && (related(n.Pointer, pointer) || strings.Contains(n.How, key)) // what is derived of several is asked for at one of them
			}
			if !slices.ContainsFunc(needs, named) {
				t.Errorf("%s without %s: not asked for, and %s wait for it", name, pointer, lost)
			}
		}
	}
	if told < 100 {
		t.Errorf("only %d unknown", told)
	}
}

// asking is a finding of a rule that waits for facts.
func asking(rule, level, subject string, facts ...string) policies.Finding {
	f := policies.Finding{Rule: rule, Level: level, Subject: subject, Outcome: policies.Unknown}
	for _, name := range facts {
		fact, text, _ := strings.Cut(name, "@")
		f.Needs = append(f.Needs, policies.Need{Fact: fact, Pointer: "/" + fact, Title: fact, How: "look", Text: text})
	}
	return f
}

// What alone settles most stands first; among the rest what most that counts waits for, then the others, then as found. What is
// accepted, a caution, or of an option that fails anyway is not asked for.
func TestNeedsOrder(t *testing.T) {
	accepted := asking("r/accepted", policies.Must, "door", "accepted")
	accepted.Accepted = &policies.Acceptance{}
	met := asking("r/met", policies.Must, "door", "met")
	met.Outcome = policies.Pass
	r := &assess.Result{
		Findings: []policies.Finding{
			asking("r/should", policies.Should, "door", "only-should"), asking("r/should-2", policies.Should, "door", "only-should", "both"),
			asking("r/1", policies.Must, "door", "both", "other"), asking("r/2", policies.Must, "door", "both@from 30 deg on", "both@from 60 deg on"),
			accepted, met, asking("r/caution", policies.Caution, "door", "caution"), asking("r/3", policies.Must, "door", "other", "third"),
		},
		Options: []assess.Option{
			{Standing: assess.Fails, Findings: []policies.Finding{asking("r/4", policies.Must, "option:x", "failing")}},
			{Standing: assess.Unproven, Findings: []policies.Finding{asking("r/4", policies.Must, "option:y", "last"), asking("r/5", policies.Must, "option:y", "last")}},
		},
	}
	r.Options[1].ID = "y"
	say := func() (out []string) {
		for _, n := range Needs(r) {
			out = append(out, n.Fact+" settles "+strings.Join(n.Settles, ", ")+strings.Join(n.Text, ""))
		}
		return out
	}
	want := []string{
		"last settles r/4 (option y), r/5 (option y)",
		"both settles r/should-2, r/1, r/2from 30 deg onfrom 60 deg on",
		"other settles r/1, r/3",
		"third settles r/3",
		"only-should settles r/should, r/should-2",
	}
	if got := say(); !slices.Equal(got, want) {
		t.Errorf("%s\nwant %s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	r.Strict = true
	if got := say(); !strings.HasPrefix(got[0], "last") || !strings.HasPrefix(got[1], "both") || !strings.HasPrefix(got[2], "only-should") {
		t.Errorf("strictly: %s", strings.Join(got, "\n"))
	}
}
