package remedy

import (
	"context"
	"testing"

	"sillwright/cmd/internal/assess"
)

// A value whose mapping is not written is added with it.
func TestPut_MakesWhatItLiesIn(t *testing.T) {
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	text := []byte(`{"format": "sillwright/door/1", "mark": "D-01", "rulebooks": ["us-ada-2010"], "door": {"operation": "hinged"}}`)
	s, err := through(context.Background(), a, "door.json", text)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		pointer string
		want    Operation
	}{
		{"/door/operation", Operation{"replace", "/door/operation", raw("x")}},
		{"/door/closer", Operation{"add", "/door/closer", raw("x")}},
		{"/floor/carpet/pile", Operation{"add", "/floor", raw(map[string]any{"carpet": map[string]any{"pile": "x"}})}},
	} {
		got := s.put(c.pointer, "x")
		if got.Op != c.want.Op || got.Path != c.want.Path || string(got.Value) != string(c.want.Value) {
			t.Errorf("%s: %s %s %s", c.pointer, got.Op, got.Path, got.Value)
		}
		if _, err := patched(s.text, []Operation{got}); err != nil {
			t.Errorf("%s: %v", c.pointer, err)
		}
	}
}
