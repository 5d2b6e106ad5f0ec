package remedy

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// spoilt is a copy of a spec with some of it made worse, or fixed.
func spoilt(r *rand.Rand, spec map[string]any) map[string]any {
	text, err := json.Marshal(spec)
	if err != nil {
		panic(err)
	}
	var out map[string]any
	if err := json.Unmarshal(text, &out); err != nil {
		panic(err)
	}
	for range 1 + r.IntN(4) {
		spoilers[r.IntN(len(spoilers))](r, out)
	}
	return out
}

func mm(r *rand.Rand, least, most float64) string {
	return fmt.Sprintf("%.1f mm", least+r.Float64()*(most-least))
}

func one(r *rand.Rand, words ...any) any { return words[r.IntN(len(words))] }

// at is the mapping at some keys, with one made where there is none.
func at(m map[string]any, keys ...string) map[string]any {
	for _, key := range keys {
		next, ok := m[key].(map[string]any)
		if !ok {
			next = map[string]any{}
			m[key] = next
		}
		m = next
	}
	return m
}

// items are the mappings of a list.
func items(m map[string]any, key string) []map[string]any {
	list, _ := m[key].([]any)
	var out []map[string]any
	for _, item := range list {
		if of, ok := item.(map[string]any); ok {
			out = append(out, of)
		}
	}
	return out
}

var spoilers = []func(*rand.Rand, map[string]any){
	func(r *rand.Rand, s map[string]any) { // a threshold of up to five pieces
		threshold := at(s, "threshold")
		delete(threshold, "plate")
		delete(threshold, "leaf_at")
		list := []any{}
		level := 0.0
		for range 1 + r.IntN(4) {
			rise := (r.Float64() - 0.3) * 14
			if level+rise < 0 {
				rise = -level
			}
			level += rise
			list = append(list, map[string]any{"run": mm(r, 0, 40*float64(r.IntN(2))), "rise": fmt.Sprintf("%.1f mm", rise), "nose": one(r, "square", "rounded", "bevelled")})
		}
		threshold["segments"] = append(list, map[string]any{"run": "60 mm", "rise": "0 mm"}, map[string]any{"run": mm(r, 0, 30), "rise": fmt.Sprintf("%.1f mm", -level*float64(r.IntN(4))/3)})
		if r.IntN(2) == 0 {
			threshold["leaf_at"] = mm(r, 0, 40)
		}
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "threshold")["firm"] = false
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "threshold")["openings"] = []any{map[string]any{"width": mm(r, 5, 20), "runs": one(r, "along", "across")}}
	},
	func(r *rand.Rand, s map[string]any) {
		for _, band := range items(at(s, "door"), "opening_force") {
			band["force"] = fmt.Sprintf("%.1f %s", 4+r.Float64()*12, one(r, "lbf", "N"))
		}
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "door")["closing_times"] = []any{map[string]any{"from": "90 deg", "to": "12 deg", "time": fmt.Sprintf("%.1f s", 1+r.Float64()*5)}}
		at(s, "door")["closer"] = true
	},
	func(r *rand.Rand, s map[string]any) {
		width := at(s, "door", "clear_width")
		delete(width, "least")
		delete(at(s, "door"), "projections")
		width["face_to_stop"] = one(r, mm(r, 700, 900), "31 1/2 in")
	},
	func(r *rand.Rand, s map[string]any) {
		side := at(s, "approach", one(r, "outside", "inside").(string))
		side["depth"], side["beside_latch"] = mm(r, 900, 2000), mm(r, 0, 700)
	},
	func(r *rand.Rand, s map[string]any) {
		side := at(s, "approach", one(r, "outside", "inside").(string))
		side["slope"], side["step"] = fmt.Sprintf("1:%d", 20+r.IntN(60)), mm(r, 0, 20*float64(r.IntN(2)))
	},
	func(r *rand.Rand, s map[string]any) {
		for _, o := range items(s, "options") {
			if _, ok := o["set"]; ok {
				o["set"] = map[string]any{"overlap": fmt.Sprintf("%.1f mm", r.Float64()*8-4)}
			}
		}
	},
	func(r *rand.Rand, s map[string]any) {
		for _, leaf := range items(s, "leaves") {
			for _, reading := range items(at(leaf, "gap"), "readings") {
				reading["gap"] = mm(r, 6, 14)
			}
		}
	},
	func(r *rand.Rand, s map[string]any) {
		for _, p := range items(s, "paths") {
			p["gap"] = mm(r, 3, 9)
		}
	},
	func(r *rand.Rand, s map[string]any) {
		s["targets"] = map[string]any{"leakage": map[string]any{"flow": fmt.Sprintf("%.1f L/s", 1+r.Float64()*12), "at": "50 Pa"}}
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "door", "push_side")["joints"] = []any{map[string]any{"height": "150 mm", "step": mm(r, 0, 5)}}
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "door")["fire_rated"] = one(r, true, "unknown", false)
	},
	func(r *rand.Rand, s map[string]any) {
		at(s, "site")["exposure"] = one(r, "exposed", "sheltered", "unknown")
	},
	func(r *rand.Rand, s map[string]any) {
		s["fixed"] = []any{one(r, "/threshold", "/leaves", "/options/0", "/options/1", "/options/2/set", "/door/opening_force", "/threshold/segments/0/rise", "/approach/inside")}
	},
}

// rise is the highest point of a threshold above the floor outside.
func rise(segments []door.Segment) quantity.Length {
	at, out := quantity.Length(0), quantity.Length(0)
	for _, s := range segments {
		at += s.Rise.Value
		out = max(out, at)
	}
	return out
}
