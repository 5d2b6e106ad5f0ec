package remedy

import (
	"encoding/json"
	"fmt"
	"slices"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// piece is a segment of a threshold as a move reshapes it. of is its place in the spec, -1 for a new one.
type piece struct {
	run, rise quantity.Length
	nose      string
	of        int
}

// pieces are the segments of the threshold; why says what keeps them from being reshaped.
func (s *spec) pieces() (out []piece, why string) {
	t := s.door.Threshold
	if !t.Given {
		return nil, "the threshold is not described"
	}
	for i, g := range t.Segments {
		if !g.Run.Known || !g.Rise.Known {
			return nil, "a run or a rise of the threshold is not known"
		}
		out = append(out, piece{g.Run.Value, g.Rise.Value, g.Nose.Value, i})
	}
	return out, ""
}

// heights are those of the ends of pieces above the floor outside, the first being that floor.
func heights(pieces []piece) []quantity.Length {
	out := []quantity.Length{0}
	for _, p := range pieces {
		out = append(out, out[len(out)-1]+p.rise)
	}
	return out
}

// reheighted gives pieces the heights of their ends; their runs stay, so that nothing gets steeper that is lowered at its top.
func reheighted(pieces []piece, h []quantity.Length) []piece {
	out := slices.Clone(pieces)
	for i := range out {
		out[i].rise = h[i+1] - h[i]
	}
	return out
}

func (s *spec) isPlate() bool { return s.node(s.door.Threshold.Pointer+"/plate") != nil }

// leafHeight is the highest point of pieces under the closed leaf, on which the gap is taken to be read; where the leaf stands is
// not known, the highest of all.
func (s *spec) leafHeight(pieces []piece) quantity.Length {
	from, thick := s.door.Threshold.LeafAt, s.door.Leaf.Thickness
	h := heights(pieces)
	if !from.Known {
		return slices.Max(h)
	}
	end := from.Value
	if thick.Known {
		end += thick.Value
	}
	out, x := h[len(h)-1], quantity.Length(0) // beyond the last piece the floor goes on
	if from.Value < 0 {
		out = 0
	}
	found := false
	for i, p := range pieces {
		for _, at := range []quantity.Length{x, x + p.run, from.Value, end} {
			if at < max(x, from.Value) || at > min(x+p.run, end) {
				continue
			}
			y := h[i+1]
			if at < x+p.run {
				y = h[i] + quantity.Length(float64(p.rise)*float64(at-x)/float64(p.run))
			}
			if !found || y > out {
				out, found = y, true
			}
		}
		x += p.run
	}
	return out
}

// reshaped are the operations that give the threshold other pieces, and shift the leaf along it.
func (s *spec) reshaped(pieces []piece, shift quantity.Length) []Operation {
	t := s.door.Threshold
	var ops []Operation
	same := len(pieces) == len(t.Segments)
	for i := range pieces {
		same = same && pieces[i].of == i
	}
	switch {
	case s.isPlate():
		ops = s.replated(pieces)
	case same:
		for i, p := range pieces {
			old := t.Segments[i]
			if p.run != old.Run.Value {
				ops = append(ops, s.put(old.Pointer+"/run", s.length(old.Pointer+"/run", p.run)))
			}
			if p.rise != old.Rise.Value {
				ops = append(ops, s.put(old.Pointer+"/rise", s.length(old.Pointer+"/rise", p.rise)))
			}
			if p.nose != old.Nose.Value {
				ops = append(ops, s.put(old.Pointer+"/nose", p.nose))
			}
		}
	default:
		ops = append(ops, s.put(t.Pointer+"/segments", s.segments(pieces)))
	}
	if shift != 0 && t.LeafAt.Known {
		ops = append(ops, s.put(t.LeafAt.Pointer, s.length(t.LeafAt.Pointer, t.LeafAt.Value+shift)))
	}
	return ops
}

func (s *spec) length(pointer string, l quantity.Length) string { return l.In(s.system(pointer)) }

// segments writes pieces as a spec has them, what is unchanged as it was written.
func (s *spec) segments(pieces []piece) []any {
	out := []any{}
	for _, p := range pieces {
		if p.run == 0 && p.rise == 0 {
			continue
		}
		old := door.Segment{}
		if p.of >= 0 {
			old = s.door.Threshold.Segments[p.of]
		}
		text := func(key string, now quantity.Length, was door.Maybe[quantity.Length]) any {
			if n := s.node(old.Pointer + "/" + key); p.of >= 0 && n != nil && was.Value == now {
				return n.Plain()
			}
			return s.length(s.door.Threshold.Pointer+"/segments/0/"+key, now)
		}
		item := map[string]any{"run": text("run", p.run, old.Run), "rise": text("rise", p.rise, old.Rise)}
		if p.nose != "" {
			item["nose"] = p.nose
		}
		out = append(out, item)
	}
	return out
}

// replated writes the pieces of a plain plate back into it; a plate is its outer bevel, its top and its inner bevel.
func (s *spec) replated(pieces []piece) []Operation {
	at := s.door.Threshold.Pointer + "/plate"
	if len(pieces) != 3 || pieces[0].of != 0 || pieces[1].of != 1 || pieces[2].of != 2 || pieces[1].rise != 0 || pieces[2].rise != -pieces[0].rise || pieces[0].nose+pieces[1].nose+pieces[2].nose != "" {
		return []Operation{drop(at), {"add", s.door.Threshold.Pointer + "/segments", raw(s.segments(pieces))}}
	}
	old := s.door.Threshold.Segments
	var ops []Operation
	set := func(pointer string, was, now quantity.Length) {
		if was != now {
			ops = append(ops, s.put(pointer, s.length(pointer, now)))
		}
	}
	set(at+"/height", old[0].Rise.Value, pieces[0].rise)
	set(at+"/width", old[0].Run.Value+old[1].Run.Value+old[2].Run.Value, pieces[0].run+pieces[1].run+pieces[2].run)
	set(at+"/bevels/0", old[0].Run.Value, pieces[0].run)
	set(at+"/bevels/1", old[2].Run.Value, pieces[2].run)
	return ops
}

func raw(value any) json.RawMessage {
	text, err := json.Marshal(value)
	if err != nil {
		panic(fmt.Sprintf("remedy: %v", err)) // only words and small mappings are written
	}
	return text
}

// regapped are the operations that make every closed gap larger by a length, and with swing those of the open door too; why
// says what keeps them from it.
func (s *spec) regapped(by quantity.Length, swing bool) (ops []Operation, why string) {
	if by == 0 {
		return nil, ""
	}
	for _, l := range s.door.Leaves {
		for _, r := range l.Readings {
			if r.Gap+by < 0 {
				return nil, "the leaf would stand on the floor"
			}
			ops = append(ops, s.put(r.Pointer+"/gap", s.length(r.Pointer+"/gap", r.Gap+by)))
		}
		if !swing {
			continue
		}
		for _, w := range l.Swing {
			if w.Gap+by < 0 {
				return nil, "the leaf would stand on the floor as it opens"
			}
			if len(w.Readings) == 0 {
				ops = append(ops, s.put(w.Pointer+"/gap", s.length(w.Pointer+"/gap", w.Gap+by)))
			}
			for _, r := range w.Readings {
				ops = append(ops, s.put(r.Pointer+"/gap", s.length(r.Pointer+"/gap", r.Gap+by)))
			}
		}
	}
	return ops, ""
}

// segmentOf is the place of the segment that a pointer names; false where it names none.
func (s *spec) segmentOf(pointers []string) (int, bool) {
	for _, p := range pointers {
		for i, g := range s.door.Threshold.Segments {
			if g.Pointer == p {
				return i, true
			}
		}
	}
	return 0, false
}

// sideOf says on which side of the top a piece rises: outer where it goes up from outside.
func sideOf(p piece) string {
	if p.rise < 0 {
		return "inner"
	}
	return "outer"
}

// standsBefore says whether a piece ends before the outer face of the leaf, so that lengthening it moves the leaf along.
func (s *spec) standsBefore(pieces []piece, i int) bool {
	t := s.door.Threshold
	if !t.LeafAt.Known {
		return false
	}
	at := quantity.Length(0)
	for _, p := range pieces[:i+1] {
		at += p.run
	}
	return at <= t.LeafAt.Value
}

func absolute(l quantity.Length) quantity.Length { return max(l, -l) }
