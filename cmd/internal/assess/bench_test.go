package assess

import (
	"context"
	"os"
	"regexp"
	"testing"

	"sillwright/schema"
)

const benchDoor = "../../../examples/fails-h-03-inner-bevel-too-steep.yaml"

// The whole way of one door with three options, rules loaded. 2 cores, shared:
//
//	2026-11-25, 16 rules    5.0 ms, of which judging 3.5 ms; loading 17 ms
//	2026-11-25, 65 rules   16 ms, of which judging 14 ms; loading 40 ms
func BenchmarkWhole(b *testing.B) {
	a, src := prepared(b)
	for b.Loop() {
		docs, _ := schema.Read(benchDoor, src)
		d, problems := a.Decode(docs[0])
		if len(problems) > 0 {
			b.Fatal(problems)
		}
		if _, err := a.Assess(context.Background(), d); err != nil {
			b.Fatal(err)
		}
	}
}

// Rules only, facts at hand.
func BenchmarkJudge(b *testing.B) {
	a, src := prepared(b)
	docs, _ := schema.Read(benchDoor, src)
	d, problems := a.Decode(docs[0])
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	in, _ := a.Input(d)
	for b.Loop() {
		if _, err := a.Policies.Judge(context.Background(), in); err != nil {
			b.Fatal(err)
		}
	}
}

// Start-up: reading and compiling every rulebook and question.
func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := New(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

func prepared(b *testing.B) (*Assessor, []byte) {
	b.Helper()
	a, err := New(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	src, err := os.ReadFile(benchDoor)
	if err != nil {
		b.Fatal(err)
	}
	return a, src
}

// A door whose options' seals are all to be set, against the same with the settings given.
func BenchmarkAuto(b *testing.B) {
	a, src := prepared(b)
	auto := regexp.MustCompile(`set: \{overlap: [^}]*\}`).ReplaceAll(src, []byte("set: auto"))
	for name, text := range map[string][]byte{"given": src, "auto": auto} {
		docs, _ := schema.Read(benchDoor, text)
		d, problems := a.Decode(docs[0])
		if len(problems) > 0 {
			b.Fatal(problems)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := a.Assess(context.Background(), d); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/facts", func(b *testing.B) {
			for b.Loop() {
				a.Input(d)
			}
		})
	}
}
