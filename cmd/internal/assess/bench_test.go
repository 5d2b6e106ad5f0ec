package assess

import (
	"context"
	"os"
	"testing"

	"sillwright/schema"
)

const benchDoor = "../../../examples/fails-h-03-inner-bevel-too-steep.yaml"

// The whole way of one door, rules loaded: 0.9 ms on 2 cores, 2026-11-24, half of it the
// bands of the brush.
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
