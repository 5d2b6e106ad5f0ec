package assess

import (
	"context"
	"os"
	"sync"
	"testing"

	"sillwright/schema"
)

// One assessor serves many doors at once; the race detector watches.
func TestAssessInParallel(t *testing.T) {
	src, err := os.ReadFile(benchDoor)
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			docs, _ := schema.Read(benchDoor, src)
			d, problems := a.Decode(docs[0])
			if len(problems) > 0 {
				t.Error(problems)
				return
			}
			if r, err := a.Assess(context.Background(), d); err != nil || r.Verdict != Fails {
				t.Errorf("%v, %v", r, err)
			}
		})
	}
	wait.Wait()
}
