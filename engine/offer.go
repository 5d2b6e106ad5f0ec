package engine

import (
	"fmt"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Offer is an option with one of the settings that a bottom seal may have. Rules judge each, and the ranking picks.
type Offer struct {
	Option
	Spec    door.Option     // with the overlap that is offered
	Overlap quantity.Length // at the widest reading
	Subject string          // its id among the subjects

	shared *scoring
}

// Whole is the option of the offer with all that there is to know of it: what is left after its life and what it means to the
// house too, which no rule reads and which take longer than all else.
func (o Offer) Whole() Option { return o.shared.whole(o.Spec, o.Option) }

// Steps of a setting: what a hand with a screwdriver and a rule can tell apart. Common practice, no published source.
const (
	metricStep   = quantity.Millimetre / 4
	imperialStep = quantity.Inch / 64
)

// mostSteps is how many settings are offered along the range; with a wider one the steps double.
const mostSteps = 18

// overlaps gives the settings to choose from for a bottom seal: overlaps at the widest reading, smallest first.
//
//	from   the least of 0, least, most - varies and most - swings, less two steps
//	to     the greatest of 0, least and most - varies, and two steps more
//	and between them every step, 0, least, most, most - varies and most - swings
//
// least, most: overlap that the seal is made for (nm). varies: widest less tightest gap of the leaf with the most; swings: widest
// closed gap less the smallest while the door opens. So both ends of what the seal can follow are among them, and a little beyond
// each: what a rule says there tells which of them are in the way. Where the catalogue has no range it is taken as 0 to an eighth
// of the free length, past which a brush is not predicted; of a seal of which only tests are known, as what was tested. It is nil
// where the range, a width or a gap is not known. A setting that presses the seal by its whole length anywhere is left out.
func (shared *scoring) overlaps(f door.Fit, entry *catalogue.Seal) []quantity.Length {
	least, most, ok := madeFor(entry)
	if !ok || len(shared.leaves) == 0 {
		return nil
	}
	var varies, swings quantity.Length
	for _, l := range shared.leaves {
		if f.Leaf != "" && f.Leaf != l.ID {
			continue
		}
		if len(l.Readings) == 0 {
			return nil
		}
		widest := slices.MaxFunc(l.Readings, byGap).Gap
		varies = max(varies, widest-tightest(l.Readings).Gap)
		for _, s := range l.Swing {
			swings = max(swings, widest-smallest(s).Gap)
		}
	}
	step := quantity.Length(metricStep)
	if shared.d.System() == quantity.Imperial {
		step = imperialStep
	}
	marks := []quantity.Length{0, least, most, most - varies, most - swings}
	from, to := slices.Min(marks)-2*step, max(0, least, most-varies)+2*step
	for (to-from)/step > mostSteps {
		step *= 2
	}
	out := slices.DeleteFunc(marks, func(m quantity.Length) bool { return m < from || m > to })
	for at := ceil(from, step); at <= to; at += step {
		out = append(out, at)
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(at quantity.Length) bool { return entry.Length > 0 && at+varies >= entry.Length })
}

// madeFor is the overlap that a seal is made for.
func madeFor(entry *catalogue.Seal) (least, most quantity.Length, ok bool) {
	tested, only := entry.Model.(seal.Measured)
	switch {
	case entry.Most > 0:
		return entry.Least, entry.Most, true
	case only:
		from, to := tested.Reaches()
		return quantity.OfMetres(from), quantity.OfMetres(to), true
	default:
		return 0, entry.Length / 8, entry.Length > 0
	}
}

// ceil is the first multiple of a step that is not below a length.
func ceil(l, step quantity.Length) quantity.Length {
	down := l / step * step
	if down < l {
		down += step
	}
	return down
}

// Unset gives the place among the fits of an option of the first bottom seal that the program is to set, -1 if there is none. A drop
// seal finds the floor by itself.
func Unset(o door.Option, c *catalogue.Catalogue) int {
	return slices.IndexFunc(o.Fits, func(f door.Fit) bool {
		entry, known := c.Seal(f.Seal.Value)
		return f.Auto && !f.Overlap.Known && f.Edge == "bottom" && known && entry.Kind != "none" && !isDrop(entry)
	})
}

// offers gives an option with each setting of its first bottom seal that the program is to set. Others that it is to set just touch
// meanwhile, or are pressed as little as they are made for. nil: nothing is to be set, or what is needed for it is not known.
func (shared *scoring) offers(o door.Option, n int) []Offer {
	i := Unset(o, shared.c)
	if i < 0 {
		return nil
	}
	entry, _ := shared.c.Seal(o.Fits[i].Seal.Value)
	var out []Offer
	for k, at := range shared.overlaps(o.Fits[i], entry) {
		spec := set(o, i, at)
		for j := Unset(spec, shared.c); j >= 0; j = Unset(spec, shared.c) {
			other, _ := shared.c.Seal(spec.Fits[j].Seal.Value)
			least, _, _ := madeFor(other)
			spec = set(spec, j, max(0, least))
		}
		out = append(out, Offer{Option: shared.set(spec), Spec: spec, Overlap: at, Subject: fmt.Sprintf("setting:%d.%d:%s", n+1, k+1, o.ID), shared: shared})
	}
	return out
}

// set is an option with one of its seals set.
func set(o door.Option, fit int, overlap quantity.Length) door.Option {
	o.Fits = slices.Clone(o.Fits)
	f := &o.Fits[fit]
	f.Overlap = door.Maybe[quantity.Length]{Value: overlap, Known: true, Pointer: f.Pointer + "/set"}
	return o
}

// Set is a door with one of the seals of an option set: what the next seal of the option is set beside.
func Set(d *door.Door, option, fit int, overlap quantity.Length) *door.Door {
	out := *d
	out.Options = slices.Clone(d.Options)
	out.Options[option] = set(d.Options[option], fit, overlap)
	return &out
}

// falls finds how far the drop seals must come down that the program is to set.
func falls(leaves []door.Leaf, o door.Option, c *catalogue.Catalogue) []Fall {
	var out []Fall
	for _, l := range leaves {
		for _, f := range fitsOf(o, "bottom", l.ID) {
			if entry, ok := c.Seal(f.Seal.Value); ok && f.Auto && isDrop(entry) && len(l.Readings) > 0 {
				widest := slices.MaxFunc(l.Readings, byGap)
				out = append(out, Fall{l.ID, entry.Name, Touch{At: widest.At, Gap: widest.Gap}, entry.Length})
			}
		}
	}
	return out
}

// subject is an option as rules read it.
func (shared *scoring) subject(id string, o door.Option, m Option, pressures []*scoring) fact.Subject {
	facts := optionFacts(shared, o, m)
	if pressures != nil {
		putRates(facts, pressures, o)
	}
	return fact.Subject{ID: id, Kind: "option", Facts: facts}
}
