package confined

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/cases"
	"sillwright/cmd/internal/starter"
	"sillwright/policies"
)

// started writes the files that a rulebook begins with, with a question of its own, and loads them.
func started(t *testing.T, id, question string) *policies.Policies {
	t.Helper()
	dir := t.TempDir()
	files, err := starter.Files(id, question, "2026")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p, err := load(dir, Usual)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// What a rulebook begins with is whole: every rule has the outcomes that its cases say, with a question of its own and without.
func TestStarterHolds(t *testing.T) {
	unraced(t)
	for _, question := range []string{"", "own-sum-at-most"} {
		p := started(t, "own-house", question)
		book, _ := p.Rulebook("own-house")
		file, problems := p.Own().Cases("own-house")
		if len(problems) > 0 || len(book.Rules) == 0 {
			t.Fatal(problems)
		}
		all, err := cases.Of(p, file, "own-house.cases.yaml")
		if err != nil || len(all) < 4 {
			t.Fatal(len(all), err)
		}
		for _, c := range all {
			if err := c.Check(context.Background(), p); err != nil {
				t.Errorf("%s: %v", c.Name, err)
			}
		}
		for _, r := range book.Rules {
			if lacking := cases.Lacking(r, file); len(lacking) > 0 {
				t.Errorf("%s has no case of %v", r.ID, lacking)
			}
		}
	}
}

// Every committed case of every built-in rulebook comes out the same, to the last word, with a user's rulebooks asked beside it.
func TestBuiltInFindingsAreTheSame_Identity(t *testing.T) {
	unraced(t)
	plain, all, err := cases.All(context.Background())
	if err != nil || len(all) < 500 {
		t.Fatal(len(all), err)
	}
	own := started(t, "own-house", "own-sum-at-most")
	if !strings.HasPrefix(own.Digest, plain.Digest+"+") {
		t.Errorf("digest %s beside %s", own.Digest, plain.Digest)
	}
	for i, c := range all {
		if testing.Short() && i%10 > 0 {
			continue
		}
		want, err := plain.Judge(context.Background(), c.Input)
		if err != nil {
			t.Fatal(err)
		}
		in := c.Input
		in.Rulebooks = append([]policies.Ref{{ID: "own-house"}}, in.Rulebooks...)
		got, err := own.Judge(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		if n := 2; len(got) != len(want)+n || got[0].Rulebook != "own-house" {
			t.Fatalf("%s: %d findings beside %d", c.Name, len(got), len(want))
		}
		got = slices.DeleteFunc(got, func(f policies.Finding) bool { return f.Rulebook == "own-house" })
		a, errA := json.Marshal(got)
		b, errB := json.Marshal(want)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Fatalf("%s:\ngot  %s\nwant %s", c.Name, a, b)
		}
	}
}
