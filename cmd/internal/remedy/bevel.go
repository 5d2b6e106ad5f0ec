package remedy

import (
	"fmt"

	"sillwright/engine/catalogue"
	"sillwright/schema/quantity"
)

const swingsClear = "See that the leaf swings clear of it, and read the gap again over it."

// reshape proposes to change the piece that a finding names by a size.
func reshape(s *spec, a aim, first, most int, object string, do func(s *spec, pieces []piece, i int, by quantity.Length) (change, string)) ([]proposal, string) {
	pieces, why := s.pieces()
	if why != "" {
		return nil, why
	}
	i, ok := s.segmentOf(a.at())
	if !ok {
		return nil, ""
	}
	if pieces[i].rise == 0 {
		return nil, "the part that fails is level"
	}
	p := proposal{object: fmt.Sprintf("%s %d", object, i), first: first, most: most, at: func(s *spec, size int) (change, string) {
		pieces, why := s.pieces()
		if why != "" {
			return change{}, why
		}
		if i >= len(pieces) || pieces[i].rise == 0 {
			return change{}, "it is level by now"
		}
		return do(s, pieces, i, s.size(size))
	}}
	return []proposal{p}, ""
}

// longest is how much longer a bevel is ever made, beyond which it is no threshold any more.
const longest = 1200 * quantity.Millimetre

// lengthenBevel makes a sloping piece longer.
func lengthenBevel(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	i, ok := s.segmentOf(a.at())
	if ok && s.door.Threshold.Segments[i].Run.Value == 0 {
		return nil, "the part that fails is upright, and no bevel"
	}
	return reshape(s, a, s.steps(s.runFor(a)-s.runOf(a)), s.steps(longest), "bevel", func(s *spec, pieces []piece, i int, by quantity.Length) (change, string) {
		was := pieces[i].run
		to := quantity.Length(below(int64(was), int64(s.size(1)))) + by
		shift := quantity.Length(0)
		if s.standsBefore(pieces, i) {
			shift = to - was
		}
		pieces[i].run = to
		c := change{ops: s.reshaped(pieces, shift), do: fmt.Sprintf("Make the %s bevel %s long in place of %s, over its rise of %s.", sideOf(pieces[i]), s.say(to), s.say(was), s.say(absolute(pieces[i].rise)))}
		if !s.standsBefore(pieces, i) {
			c.after = []string{swingsClear}
		}
		return c, ""
	})
}

// bevelStep turns an upright face into a bevel, as a whole or above a step that stays.
func bevelStep(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	i, ok := s.segmentOf(a.at())
	if ok && s.door.Threshold.Segments[i].Run.Value != 0 {
		return nil, "the part that fails is a bevel, and not upright"
	}
	return reshape(s, a, s.steps(s.runFor(a)), s.steps(longest), "face", func(s *spec, pieces []piece, i int, by quantity.Length) (change, string) {
		if by < absolute(pieces[i].rise) {
			return change{}, notEnough // a face that leans is no bevel
		}
		shift := quantity.Length(0)
		if s.standsBefore(pieces, i) {
			shift = by
		}
		pieces[i].run = by
		c := change{ops: s.reshaped(pieces, shift), do: fmt.Sprintf("Put a bevel %s long before the upright face on the %s side, over its whole height of %s.", s.say(by), sideOf(pieces[i]), s.say(absolute(pieces[i].rise)))}
		if !s.standsBefore(pieces, i) {
			c.after = []string{swingsClear}
		}
		return c, ""
	})
}

// moveStepDown takes height from a bevel and puts it at its foot as an upright lip, so that the rest gets gentler; or puts an upright
// face below the bevel that it stands on.
func moveStepDown(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	i, ok := s.segmentOf(a.at())
	if !ok {
		return nil, ""
	}
	if g := s.door.Threshold.Segments[i]; g.Run.Value == 0 {
		return s.swapped(i)
	}
	return reshape(s, a, s.steps(s.lipFor(a)), s.steps(absolute(s.door.Threshold.Segments[i].Rise.Value)), "foot of bevel", func(s *spec, pieces []piece, i int, by quantity.Length) (change, string) {
		p := pieces[i]
		lip := by
		if p.rise < 0 {
			lip = -by
		}
		if by >= absolute(p.rise) {
			return change{}, "nothing of the bevel would be left"
		}
		step := piece{0, lip, "", -1}
		rest := piece{p.run, p.rise - lip, p.nose, p.of}
		out := append([]piece(nil), pieces[:i]...)
		if p.rise > 0 {
			out = append(out, step, rest)
		} else {
			out = append(out, rest, step)
		}
		out = append(out, pieces[i+1:]...)
		return change{ops: s.reshaped(out, 0), do: fmt.Sprintf("Put an upright lip of %s at the foot of the %s bevel, and let the bevel rise the other %s over its %s.", s.say(by), sideOf(p), s.say(absolute(rest.rise)), s.say(p.run))}, ""
	})
}

// swapped puts an upright face at the foot of the bevel that it stands on.
func (s *spec) swapped(i int) ([]proposal, string) {
	pieces, why := s.pieces()
	if why != "" {
		return nil, why
	}
	below := i - 1
	if pieces[i].rise < 0 {
		below = i + 1
	}
	if below < 0 || below >= len(pieces) || pieces[below].run == 0 || pieces[below].rise == 0 || (pieces[below].rise < 0) != (pieces[i].rise < 0) {
		return nil, "the upright face stands on no bevel"
	}
	return []proposal{{object: fmt.Sprintf("step %d", i), at: func(s *spec, _ int) (change, string) {
		pieces, why := s.pieces()
		if why != "" {
			return change{}, why
		}
		if max(i, below) >= len(pieces) {
			return change{}, "the bevel is there no more"
		}
		pieces[i], pieces[below] = pieces[below], pieces[i]
		return change{ops: s.reshaped(pieces, 0), do: fmt.Sprintf("Put the upright face of %s on the %s side at the floor, and the bevel of %s by %s above it.", s.say(absolute(pieces[below].rise)), sideOf(pieces[below]), s.say(pieces[i].run), s.say(absolute(pieces[i].rise)))}, ""
	}}}, ""
}

// roundNose rounds or bevels the edge of an upright face.
func roundNose(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	i, ok := s.segmentOf(a.at())
	if !ok {
		return nil, ""
	}
	if s.isPlate() {
		return nil, "a plain plate names no edges"
	}
	g := s.door.Threshold.Segments[i]
	var out []proposal
	for _, nose := range []string{"rounded", "bevelled"} {
		if g.Nose.Known && g.Nose.Value == nose {
			continue
		}
		word := map[string]string{"rounded": "Round", "bevelled": "Chamfer"}[nose]
		out = append(out, proposal{object: nose + " " + g.Pointer, at: func(s *spec, _ int) (change, string) {
			return change{ops: []Operation{s.put(g.Pointer+"/nose", nose)}, do: fmt.Sprintf("%s the edge of the upright face of %s on the %s side.", word, s.say(absolute(g.Rise.Value)), sideOf(piece{rise: g.Rise.Value}))}, ""
		}})
	}
	return out, ""
}

// runOf is how long the piece is that a finding names.
func (s *spec) runOf(a aim) quantity.Length {
	i, _ := s.segmentOf(a.at())
	return s.door.Threshold.Segments[i].Run.Value
}

// steepest is the slope that a finding allows, 1:2 where it names none, which most texts do.
func (a aim) steepest() float64 {
	if _, limit, ok := a.figures(); ok && a.point.Limit.Unit == "1" && limit.Sign() > 0 {
		out, _ := limit.Float64()
		return out
	}
	return 0.5
}

// runFor is about how long the piece that a finding names would have to be over its rise.
func (s *spec) runFor(a aim) quantity.Length {
	i, ok := s.segmentOf(a.at())
	if !ok {
		return 0
	}
	return quantity.Length(float64(absolute(s.door.Threshold.Segments[i].Rise.Value)) / a.steepest())
}

// lipFor is about how high a lip at its foot would have to be, for the rest of it to be gentle enough.
func (s *spec) lipFor(a aim) quantity.Length {
	i, ok := s.segmentOf(a.at())
	if !ok {
		return 0
	}
	g := s.door.Threshold.Segments[i]
	return absolute(g.Rise.Value) - quantity.Length(float64(g.Run.Value)*a.steepest())
}
