package marks

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"reflect"
	"testing"

	"sillwright/cmd/internal/spool"
	"sillwright/schema"
)

func use(mark string, i int) Use {
	at := schema.Position{Line: i + 1, Column: 7}
	return Use{Mark: mark, File: fmt.Sprintf("doors \"%d\"\n\xff.yaml", i%3), Document: i, Span: schema.Span{Start: at, End: at}}
}

type pair struct{ use, first Use }

func repeated(t *testing.T, b *Book) []pair {
	t.Helper()
	var got []pair
	if err := b.Repeated(func(use, first Use) error { got = append(got, pair{use, first}); return nil }); err != nil {
		t.Fatal(err)
	}
	return got
}

// What is found on disk and part by part is what a plain table finds.
func TestRepeated_Identity(t *testing.T) {
	for _, most := range []int{0, 7, 100_000} {
		b := &Book{atOnce: most}
		defer b.Drop()
		r := rand.New(rand.NewPCG(1, 2))
		first, want := map[string]Use{}, map[pair]bool{}
		for i := range 40_000 {
			if most == 7 && i > 300 {
				break
			}
			u := use(fmt.Sprintf("D-%d\u202e\n", r.IntN(30_000)), i)
			if f, before := first[u.Mark]; before {
				want[pair{u, f}] = true
			} else {
				first[u.Mark] = u
			}
			if err := b.Add(u); err != nil {
				t.Fatal(err)
			}
		}
		got := repeated(t, b)
		if len(got) != len(want) || len(got) == 0 {
			t.Errorf("%d at once: %d found, want %d", most, len(got), len(want))
		}
		for i, g := range got {
			if !want[g] {
				t.Fatalf("%d at once: %v is no repeat", most, g)
			}
			if most != 7 && i > 0 && got[i-1].use.Document > g.use.Document {
				t.Errorf("%d at once: not in the order of the input", most)
			}
		}
		if again := repeated(t, b); !reflect.DeepEqual(got, again) {
			t.Errorf("%d at once: a second look finds something else", most)
		}
		if onDisk := b.uses.OnDisk(); onDisk != (most != 7) {
			t.Errorf("%d at once: on disk is %v", most, onDisk)
		}
	}
}

// Of a door that nobody asked about nothing is said at its own place.
func TestQuiet(t *testing.T) {
	quiet := func(u Use) Use { u.Quiet = true; return u }
	for name, c := range map[string]struct {
		uses []Use
		want []pair
	}{
		"both asked":  {[]Use{use("A", 0), use("A", 1)}, []pair{{use("A", 1), use("A", 0)}}},
		"first asked": {[]Use{use("A", 0), quiet(use("A", 1))}, []pair{{use("A", 0), quiet(use("A", 1))}}},
		"last asked":  {[]Use{quiet(use("A", 0)), use("A", 1)}, []pair{{use("A", 1), quiet(use("A", 0))}}},
		"none asked":  {[]Use{quiet(use("A", 0)), quiet(use("A", 1))}, nil},
		"once":        {[]Use{use("A", 0), use("a", 1)}, nil},
		"nothing":     {},
	} {
		b := &Book{}
		for _, u := range c.uses {
			if err := b.Add(u); err != nil {
				t.Fatal(err)
			}
		}
		if got := repeated(t, b); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// Two marks with one hash (FNV-1a of 64 bits) are two marks. The pair is built by giving one the key of another.
func TestOneHashTwoMarks(t *testing.T) {
	b := &Book{}
	for i, mark := range []string{"A", "A", "A"} {
		if err := b.Add(use(mark, i)); err != nil {
			t.Fatal(err)
		}
	}
	uses, err := b.uses.Reader()
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(uses)
	if err != nil {
		t.Fatal(err)
	}
	b.uses = spool.Spool{}
	lines := bytes.SplitAfter(all, []byte("\n"))
	lines[1] = bytes.Replace(lines[1], []byte(`"m":"QQ=="`), []byte(`"m":"Qg=="`), 1)
	if _, err := b.uses.Write(bytes.Join(lines, nil)); err != nil {
		t.Fatal(err)
	}
	if got := repeated(t, b); !reflect.DeepEqual(got, []pair{{use("A", 2), use("A", 0)}}) {
		t.Errorf("%v", got)
	}
}

// Nothing is left on disk, and a folder for such files that is not there is told when it is needed.
func TestDrop(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	b := &Book{}
	for i := range 20_000 {
		if err := b.Add(use("D", i)); err != nil {
			t.Fatal(err)
		}
	}
	if !b.uses.OnDisk() {
		t.Fatal("not on disk")
	}
	b.Drop()
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
	t.Setenv("TMPDIR", dir+"/nowhere")
	b = &Book{}
	var err error
	for i := 0; i < 20_000 && err == nil; i++ {
		err = b.Add(use("D", i))
	}
	if err == nil {
		t.Error("nothing told")
	}
}
