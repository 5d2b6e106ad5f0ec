package remedy

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	jsonpatch "github.com/evanphx/json-patch/v5"

	"sillwright/cmd/internal/assess"
	"sillwright/schema"
)

var (
	drawn = flag.Int("doors", 400, "how many failing doors are drawn")
	seed  = flag.Uint64("seed", 9, "of the doors that are drawn")
)

// TestFind_DrawnDoors holds, for doors that are drawn, that a remedy applied as RFC 6902 has it (by a library) makes the door comply as
// it says; that one step less of any change does not do; that nothing is changed that is fixed; and that nothing is done to a fire or
// smoke door, or to the weather step of an exposed one, that is held back.
func TestFind_DrawnDoors(t *testing.T) {
	examples := exampleSpecs(t)
	const lots = 8
	n := *drawn
	if testing.Short() {
		n /= 20
	}
	for lot := range lots {
		t.Run(fmt.Sprint(lot), func(t *testing.T) {
			t.Parallel()
			a, err := assess.New(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			r := rand.New(rand.NewPCG(*seed, uint64(lot)))
			failing, mended, complying := 0, 0, 0
			for tries := 0; failing < n/lots && tries < 100*n; tries++ {
				text, err := json.Marshal(spoilt(r, examples[r.IntN(len(examples))]))
				if err != nil {
					t.Fatal(err)
				}
				s, ok := drawnSpec(t, a, text)
				if !ok || s.result.CanOrder {
					continue
				}
				failing++
				answer, err := Find(context.Background(), a, s.result, Scope{Most: 1})
				if err != nil {
					t.Fatalf("%v\n%s", err, text)
				}
				for _, m := range answer.Remedies {
					mended++
					if m.Complies {
						complying++
					}
					if wrong := s.wrong(a, m); wrong != "" {
						t.Errorf("%s\n%s\n%s", wrong, text, raw(m.Patch))
					}
				}
			}
			t.Logf("%d doors that cannot be ordered, %d with a remedy, %d of which comply then", failing, mended, complying)
			if failing >= 20 && complying*8 < failing {
				t.Errorf("of %d doors only %d have a remedy after which they comply", failing, complying)
			}
		})
	}
}

// drawnSpec takes a text through the house; false where it is refused.
func drawnSpec(t testing.TB, a *assess.Assessor, text []byte) (*spec, bool) {
	t.Helper()
	s, err := through(context.Background(), a, "door.json", text)
	if bad := (refused{}); errors.As(err, &bad) {
		return nil, false
	}
	if err != nil {
		t.Fatal(err)
	}
	return s, true
}

// wrong says what a remedy promises and does not keep.
func (s *spec) wrong(a *assess.Assessor, m Remedy) string {
	patch, err := jsonpatch.DecodePatch(raw(m.Patch))
	if err != nil {
		return err.Error()
	}
	text, err := patch.Apply(s.text)
	if err != nil {
		return err.Error()
	}
	changed, err := through(context.Background(), a, "changed.json", text)
	if err != nil {
		return err.Error()
	}
	after, d := changed.result, changed.door
	switch {
	case m.Complies != after.CanOrder:
		return fmt.Sprintf("it complies by the remedy: %v; by the house: %v", m.Complies, after.CanOrder)
	case after.Standing == assess.Fails:
		return "the changed door fails"
	}
	for _, op := range m.Patch {
		for _, fixed := range s.door.Fixed {
			if within(op.Path, fixed) {
				return fmt.Sprintf("it changes %s, and %s is fixed", op.Path, fixed)
			}
		}
	}
	fire := s.door.Leaf.FireRated.Value || s.door.Leaf.SmokeControl.Value || !s.door.Leaf.FireRated.Known || !s.door.Leaf.SmokeControl.Known
	for _, step := range m.Steps {
		if fire && !answered(s.door, fireDoor) && slices.Contains([]string{"trim-leaf", "rehang-leaf", "square-leaf", "ease-door", "slow-closer"}, step.Move) {
			return "on a fire door: " + step.Do
		}
		if step.Do == "" || strings.ContainsAny(step.Do, "{}") {
			return fmt.Sprintf("a step in words: %q", step.Do)
		}
	}
	if external := s.door.Leaf.Location.Value == "external" && s.door.Site.Exposure.Value != "sheltered"; external && rise(d.Threshold.Segments) < rise(s.door.Threshold.Segments) {
		return "it takes from the weather step of an exposed door"
	}
	return m.tooMuch()
}

// tooMuch says which change of a remedy would do with less.
func (m Remedy) tooMuch() string {
	for i, d := range m.by.steps {
		if d.size == 1 {
			continue
		}
		less := slices.Clone(m.by.steps)
		less[i].size--
		n, err := m.search.serves(m.by, less)
		if err != nil {
			return err.Error()
		}
		if n != nil {
			return "less would do: " + n.steps[i].do
		}
	}
	return ""
}

func exampleSpecs(t testing.TB) []map[string]any {
	t.Helper()
	files, err := filepath.Glob("../../../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]any
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		docs, problems := schema.Read(file, src)
		if len(problems) > 0 {
			t.Fatal(problems[0])
		}
		spec := docs[0].Root.Plain().(map[string]any)
		if _, isDoor := spec["mark"]; isDoor && !strings.Contains(string(src), "workshop-") {
			out = append(out, spec)
		}
	}
	if len(out) < 15 {
		t.Fatalf("%d examples", len(out))
	}
	return out
}

// exampleOf is the example with a mark.
func exampleOf(t testing.TB, mark string) map[string]any {
	t.Helper()
	for _, spec := range exampleSpecs(t) {
		if spec["mark"] == mark {
			return spec
		}
	}
	t.Fatalf("no example is marked %s", mark)
	return nil
}
