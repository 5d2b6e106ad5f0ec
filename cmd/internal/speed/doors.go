package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
)

// doors writes so many specs, one a line: each of a kind of its own, or, if there are fewer kinds, of one drawn by chance. Every figure that is measured on site is drawn for itself, in tenths of a millimetre and of a newton, so
// that no two kinds share a profile, a gap, a force or a flow; words are drawn from those that the spec knows. The doors
// are of no building: the scenario of the examples gives the shape, and the draw the figures.
func doors(to io.Writer, count, kinds int) error {
	enc, among := json.NewEncoder(to), rand.New(rand.NewPCG(2026, 0))
	for i := range count {
		kind := i
		if count > kinds {
			kind = among.IntN(kinds)
		}
		d := newDraw(uint64(kind))
		if err := enc.Encode(d.door(fmt.Sprintf("D-%07d", i+1))); err != nil {
			return err
		}
	}
	return nil
}

type draw struct{ *rand.Rand }

func newDraw(kind uint64) draw { return draw{rand.New(rand.NewPCG(2026, kind))} }

type object = map[string]any

func (d draw) one(words ...string) string { return words[d.IntN(len(words))] }

func (d draw) often(likely string, others ...string) string {
	if d.IntN(5) > 0 {
		return likely
	}
	return d.one(others...)
}

// tenths draws from a range in tenths of a unit.
func (d draw) tenths(from, to float64, unit string) string {
	return fmt.Sprintf("%.1f %s", from+float64(d.IntN(int((to-from)*10)+1))/10, unit)
}

func (d draw) mm(from, to float64) string { return d.tenths(from, to, "mm") }

func (d draw) newtons(from, to float64) string { return d.tenths(from, to, "N") }

func (d draw) truth() bool { return d.IntN(2) == 0 }

func (d draw) door(mark string) object {
	width, height := d.IntN(1200)+8900, d.IntN(2000)+19500 // in tenths of a millimetre
	w, h := fmt.Sprintf("%.1f mm", float64(width)/10), fmt.Sprintf("%.1f mm", float64(height)/10)
	middle := fmt.Sprintf("%.1f mm", float64(width/2)/10)
	seat := d.IntN(60) + 120            // the gap at its widest, in tenths
	clear := d.IntN(300) + width - 1000 // face to stop, in tenths
	least := fmt.Sprintf("%.1f mm", float64(clear-d.IntN(250))/10)
	gap := func(off int) string { return fmt.Sprintf("%.1f mm", float64(seat-d.IntN(off))/10) }
	edge := func(path, length string) object {
		return object{"path": path, "length": length, "gap": d.mm(4, 6), "seal": d.often("gasket-bulb-8", "gasket-v-8")}
	}
	return object{
		"format": "sillwright/door/1", "mark": mark, "title": d.one("Entrance", "Hall", "Workroom", "Stair", "Yard"),
		"rulebooks": []string{"us-ada-2010", "us-ibc-2018", "seal-practice"}, "stage": "as-built",
		"site": object{
			"serves": d.often("public", "workplace", "common-area"), "work": d.often("new", "alteration", "existing"),
			"exposure": d.one("sheltered", "exposed"), "floor_finish": "fitted", "open_flue": d.IntN(8) == 0,
		},
		"door": object{
			"operation": "hinged", "location": d.one("external", "internal"), "opens": d.one("in", "out"), "powered": "none",
			"fire_rated": false, "smoke_control": false, "escape_route": d.truth(), "height": h, "thickness": d.mm(40, 54),
			"clear_width":   object{"face_to_stop": fmt.Sprintf("%.1f mm", float64(clear)/10), "least": least},
			"opening_depth": d.mm(80, 300),
			"opening_force": []object{
				{"from": "0 deg", "to": "30 deg", "force": d.newtons(12, 24)},
				{"from": "30 deg", "to": "90 deg", "force": d.newtons(8, 20)},
			},
			"unlatching_force": d.newtons(20, 60), "starting_force": d.newtons(30, 120),
			"closer": true, "spring_hinges": false, "latch": true,
			"closing_times": []object{{"from": "90 deg", "to": "12 deg", "time": d.tenths(4.9, 8, "s")}},
			"projections":   []object{{"part": "hardware", "from": d.mm(900, 1050), "leaves": least}},
			"push_side":     object{"joints": []object{}, "cavities_capped": true},
		},
		"approach": object{
			"outside": d.side(), "inside": d.side(),
		},
		"leaves": []object{{"id": "A", "width": w, "gap": object{
			"readings":      []object{{"at": "0 mm", "gap": gap(20)}, {"at": middle, "gap": gap(20)}, {"at": w, "gap": gap(20)}},
			"swing":         []object{{"angle": "45 deg", "gap": gap(15)}, {"angle": "90 deg", "gap": gap(15)}},
			"reading_error": "0.5 mm",
		}}},
		"threshold": object{
			"plate": object{"height": d.mm(6, 12.6), "width": d.mm(90, 130), "bevels": []string{d.mm(18, 36), d.mm(18, 36)}},
			"firm":  true, "leaf_at": d.mm(35, 50), "openings": []object{},
		},
		"floor": object{"under_seal": d.one("metal", "tile", "timber"), "swept": d.one("tile", "timber", "vinyl")},
		"paths": []object{edge("head", w), edge("hinge", h), edge("latch", h)},
		"duty":  object{"use": d.one("light", "heavy"), "cycles_per_day": d.IntN(190) + 10, "life": "10 years"},
		"options": []object{
			{"id": "brush", "seal": "brush-fine-20", "mount": object{"on": "underside"}, "set": object{"overlap": d.mm(0, 2)}},
			{"id": "blades", "seal": d.one("blade-double-12", "blade-triple-12"), "mount": object{"on": "underside"}, "set": object{"overlap": d.mm(0.5, 3)}},
			{"id": "drop-seal", "seal": "drop-seal-12", "mount": object{"on": "inside"}, "set": object{"overlap": d.mm(0, 2)}},
			{"id": "bare", "seal": "none"},
		},
		"targets": object{"leakage": object{"flow": d.tenths(10, 40, "L/s"), "at": "50 Pa"}},
	}
}

func (d draw) side() object {
	return object{
		"from": d.often("front", "latch", "hinge"), "depth": d.mm(1450, 2400), "beside_latch": d.mm(440, 800), "recess": object{"depth": d.mm(0, 220)},
		"slope": fmt.Sprintf("1:%d", d.IntN(80)+46), "step": "0 mm", "firm": true,
	}
}
