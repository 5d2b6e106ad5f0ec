package remedy

import (
	"context"
	"encoding/json"
	"testing"

	"sillwright/cmd/internal/assess"
)

// BenchmarkFind looks for the remedies of a door with ten segments, six options and four rulebooks, with nothing kept from before: the
// goal is less than two seconds.
func BenchmarkFind(b *testing.B) {
	text := crowded(b)
	for b.Loop() {
		b.StopTimer()
		a, err := assess.New(context.Background())
		if err != nil {
			b.Fatal(err)
		}
		r := assessed(b, a, text)
		b.StartTimer()
		answer, err := Find(context.Background(), a, r, Scope{})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(answer.Spent), "specs/op")
		b.ReportMetric(float64(len(answer.Remedies)), "remedies/op")
	}
}

// crowded is a door against which much stands.
func crowded(t testing.TB) []byte {
	t.Helper()
	spec := exampleOf(t, "H-03")
	spec["rulebooks"] = []any{"us-ada-2010", "us-a117-2017", "us-ibc-2018", "seal-practice"}
	var segments []any
	for _, s := range [][2]string{
		{"0 mm", "5 mm"}, {"6 mm", "4 mm"}, {"10 mm", "0 mm"}, {"4 mm", "3 mm"}, {"0 mm", "2 mm"},
		{"60 mm", "0 mm"}, {"5 mm", "-4 mm"}, {"12 mm", "-2 mm"}, {"8 mm", "-5 mm"}, {"0 mm", "-3 mm"},
	} {
		segments = append(segments, map[string]any{"run": s[0], "rise": s[1]})
	}
	spec["threshold"].(map[string]any)["segments"] = segments
	spec["door"].(map[string]any)["opening_force"] = []any{map[string]any{"from": "0 deg", "to": "30 deg", "force": "24 N"}, map[string]any{"from": "30 deg", "to": "90 deg", "force": "23 N"}}
	set := map[string]any{"overlap": "-1 mm"}
	spec["options"] = []any{
		map[string]any{"id": "long-brush", "seal": "brush-fine-30", "set": set}, map[string]any{"id": "short-brush", "seal": "brush-fine-20", "set": set},
		map[string]any{"id": "blades", "seal": "blade-double-12", "set": set}, map[string]any{"id": "drop", "seal": "drop-seal-12"},
		map[string]any{"id": "tufts", "seal": "tufted-50", "set": set}, map[string]any{"id": "bare", "seal": "none"},
	}
	text, err := json.Marshal(spec)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
