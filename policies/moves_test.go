package policies

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"sillwright/schema"
)

// The form of a rulebook lists the moves that have words, and tells each in those words.
func TestMovesAreThoseOfTheForm_Identity(t *testing.T) {
	src, err := schema.Source("rulebook")
	if err != nil {
		t.Fatal(err)
	}
	var form struct {
		Definitions struct {
			Move struct {
				Description string
				Enum        []string
			}
		}
	}
	if err := json.Unmarshal(src, &form); err != nil {
		t.Fatal(err)
	}
	move := form.Definitions.Move
	if got, want := slices.Sorted(slices.Values(move.Enum)), slices.Sorted(maps.Keys(MoveWords)); !slices.Equal(got, want) {
		t.Errorf("the form has the moves %v, words have %v", got, want)
	}
	want := "What a builder can change."
	for _, name := range move.Enum {
		want += " " + name + ": " + MoveWords[name] + "."
	}
	if move.Description != want {
		t.Errorf("the form says\n%s\nwant\n%s", move.Description, want)
	}
}

// No move is in the list for nothing, and a reason is a sentence or more.
func TestRulesNameEveryMove(t *testing.T) {
	p, err := Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	unused := maps.Clone(MoveWords)
	for _, b := range p.Rulebooks {
		for _, r := range b.Rules {
			for _, name := range r.Moves {
				delete(unused, name)
			}
			if r.Immovable != "" && !strings.HasSuffix(r.Immovable, ".") {
				t.Errorf("%s: %q is no sentence", r.ID, r.Immovable)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(unused)) {
		t.Errorf("no rule names %s", name)
	}
}

// Rego gets neither moves nor reasons, so that no answer rests on them; a rule that takes either is read with it.
func TestRegoGetsNoMoves(t *testing.T) {
	with, problems := readRulebook("trial.yaml", []byte(edited(t, trialBook, "[widen-opening]", "[widen-opening, make-room]\n    immovable: Walls of stone stay.")))
	plain, others := readRulebook("trial.yaml", []byte(trialBook))
	if problems = append(problems, others...); len(problems) > 0 {
		t.Fatal(Problems(problems))
	}
	r := with.Rules[0]
	if !slices.Equal(r.Moves, []string{"widen-opening", "make-room"}) || r.Immovable != "Walls of stone stay." {
		t.Errorf("read %v and %q", r.Moves, r.Immovable)
	}
	var got []string
	for _, b := range []*Rulebook{with, plain} {
		data, err := b.Rules[0].data()
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(data)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, string(text))
	}
	if got[0] != got[1] {
		t.Errorf("Rego gets\n%s\nand without them\n%s", got[0], got[1])
	}
}
