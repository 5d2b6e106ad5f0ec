package engine

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/schema/quantity"
)

// randomOptions are a field of random bands, coarse so that many overlap, touch, share doubts or are not known.
func randomOptions(r *rand.Rand) []Option {
	band := func() doubt.Range {
		low := float64(r.IntN(12))
		likely := low + float64(r.IntN(4))
		return doubt.Between(low, likely, likely+float64(r.IntN(4)))
	}
	known := func() bool { return r.IntN(5) > 0 }
	out := make([]Option, 1+r.IntN(8))
	for i := range out {
		if i > 0 && r.IntN(20) == 0 {
			out[i] = out[i-1] // a twin
		} else {
			if known() {
				out[i] = randomLeakage(r, "")
			}
			if b := band(); known() {
				out[i].Drag = &b
			}
			if b := band(); known() {
				out[i].Life = &b
			}
			if known() {
				out[i] = out[i].tolerating(quantity.Length(r.IntN(4)) * quantity.Millimetre)
			}
			out[i].NothingToSet = r.IntN(8) == 0
		}
		out[i].ID = string(rune('a' + i))
	}
	return out
}

func randomOrder(r *rand.Rand) []Criterion {
	order := UsualOrder()
	r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
	return order[:1+r.IntN(len(order))]
}

// surely is written apart from the ranking: a is better than b beyond doubt.
func surely(c Criterion, a, b Option) bool {
	x, knownX := c.Of(a)
	y, knownY := c.Of(b)
	switch {
	case !knownX || !knownY:
		return false
	case c == ByLeakage:
		return x.High < y.Low || a.Leakage.Below(b.Leakage).apart > 1e-6
	case c == ByLife || c == ByTolerance:
		return x.Low > y.High
	}
	return x.High < y.Low
}

// alone is written apart from the ranking: of two options, the criterion that puts the first ahead; empty if none does.
func alone(order []Criterion, a, b Option) Criterion {
	for _, c := range order {
		_, knownA := c.Of(a)
		_, knownB := c.Of(b)
		if surely(c, a, b) || (knownA && !knownB) {
			return c
		}
		if surely(c, b, a) || knownA != knownB {
			return ""
		}
	}
	return ""
}

// outdoes is written apart from the ranking: a is surely better than b somewhere, and nowhere worse or unknown.
func outdoes(order []Criterion, a, b Option) bool {
	better := false
	for _, c := range order {
		x, knownX := c.Of(a)
		y, knownY := c.Of(b)
		if c == ByLife || c == ByTolerance {
			x, y = y, x
		}
		worse := x.Low > y.Low || x.Likely > y.Likely || x.High > y.High
		if !knownX || !knownY || (worse && !surely(c, a, b)) {
			return false
		}
		better = better || surely(c, a, b)
	}
	return better
}

// circled says whether who is ahead of whom, alone, goes round in a circle somewhere: nobody is left that nobody is ahead of.
func circled(order []Criterion, ranked []Ranked) bool {
	left := slices.DeleteFunc(slices.Clone(ranked), func(r Ranked) bool { return r.Rank == 0 })
	for len(left) > 0 {
		first := slices.IndexFunc(left, func(r Ranked) bool {
			return !slices.ContainsFunc(left, func(o Ranked) bool { return alone(order, o.Option, r.Option) != "" })
		})
		if first < 0 {
			return true
		}
		left = slices.Delete(left, first, first+1)
	}
	return false
}

const fields = 10000

// What holds of every ranking, whatever the bands.
func TestRankHolds_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range fields {
		options, order := randomOptions(r), randomOrder(r)
		ranked := Rank(options, order)
		shuffled := slices.Clone(options)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		if again := Rank(shuffled, order); !reflect.DeepEqual(ranked, again) {
			t.Fatalf("by %v: %s, and in another order %s", order, shown(ranked), shown(again))
		}
		byID := map[string]Ranked{}
		for _, one := range ranked {
			byID[one.Option.ID] = one
		}
		for i, a := range ranked {
			for j, b := range ranked {
				if fault := faultOf(a, b, i, j, order); fault != "" {
					t.Fatalf("by %v: %s: %s and %s: %s", order, shown(ranked), a.Option.ID, b.Option.ID, fault)
				}
			}
			if other := byID[a.Reason.Other]; a.Rank > 1 && (other.Rank >= a.Rank || alone(order, other.Option, a.Option) != a.Reason.By) {
				t.Fatalf("by %v: %s: %s stands behind without a reason that holds", order, shown(ranked), a.Option.ID)
			}
		}
	}
}

func faultOf(a, b Ranked, i, j int, order []Criterion) string {
	tied := slices.Contains(a.Tied, b.Option.ID)
	level := slices.Contains(a.Level, b.Option.ID)
	both := i != j && a.Rank > 0 && b.Rank > 0
	near := both && slices.Contains(order, ByLeakage) && !surely(ByLeakage, a.Option, b.Option) && !surely(ByLeakage, b.Option, a.Option)
	parted := alone(order, a.Option, b.Option) != "" || alone(order, b.Option, a.Option) != ""
	switch {
	case tied != (both && a.Rank == b.Rank):
		return "a tie that is none, or none that is one"
	case tied && !level, level != slices.Contains(b.Level, a.Option.ID):
		return "tied and not level, or level only one way"
	case slices.Contains(a.Circled, b.Option.ID) != (level && parted):
		return "level, parted alone, and not said to be in a circle"
	case slices.Contains(a.Near, b.Option.ID) != near:
		return "near in leakage, and not said to be"
	case slices.Contains(b.DominatedBy, a.Option.ID) != (both && outdoes(order, a.Option, b.Option)):
		return "said to dominate, and does not, or the other way round"
	case both && outdoes(order, a.Option, b.Option) && a.Rank >= b.Rank:
		return "not ahead of what it dominates"
	case both && alone(order, a.Option, b.Option) == order[0] && a.Rank >= b.Rank:
		return "not ahead of what it is parted from by the first criterion"
	case (a.Rank > b.Rank && b.Rank > 0 || a.Rank == 0 && b.Rank > 0) && i < j:
		return "not in the order of ranks"
	}
	return ""
}

// Two options stand in a field as they do alone: who is ahead alone is ahead in every field that has no circle, and nobody gets the
// other's place. In one with circles the order turns round for few.
func TestRankOfTwoIsThatOfTheTwoAlone_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	circles, pairs, level, turned := 0, 0, 0, 0
	for range fields {
		order := randomOrder(r)
		ranked := Rank(randomOptions(r), order)
		circle := circled(order, ranked)
		if circle {
			circles++
		}
		for _, a := range ranked {
			for _, b := range ranked {
				if a.Rank == 0 || b.Rank == 0 || alone(order, a.Option, b.Option) == "" {
					continue
				}
				two := Rank([]Option{b.Option, a.Option}, order)
				if two[0].Option.ID != a.Option.ID || two[0].Rank != 1 || two[1].Rank != 2 {
					t.Fatalf("by %v, alone: %s", order, shown(two))
				}
				pairs++
				if same := slices.Contains(a.Level, b.Option.ID); same || a.Rank >= b.Rank {
					if !circle {
						t.Fatalf("by %v: %s; alone %s", order, shown(ranked), shown(two))
					}
					if same {
						level++
					} else {
						turned++
					}
				}
			}
		}
	}
	t.Logf("%d of %d fields hold a circle; of %d pairs %d are level for one, %d turned round", circles, fields, pairs, level, turned)
	if circles == 0 || circles > fields/10 || turned > pairs/100 {
		t.Errorf("%d circles in %d fields, %d of %d pairs turned round", circles, fields, turned, pairs)
	}
}

// Twins, the same in all but their name, always share a rank.
func TestRankOfTwins_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range fields / 4 {
		options := randomOptions(r)
		twin := options[0]
		twin.ID = "z"
		ranked := Rank(append(options, twin), randomOrder(r))
		rank := func(id string) int {
			return ranked[slices.IndexFunc(ranked, func(r Ranked) bool { return r.Option.ID == id })].Rank
		}
		if rank("a") != rank("z") {
			t.Fatalf("a and z are the same: %s", shown(ranked))
		}
	}
}

// Two options are parted only where one is better beyond doubt or known where the other is not: else all share the first place.
func TestRankPartsNobodyWithoutCause_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	level := 0
	for range fields {
		order := randomOrder(r)
		ranked := Rank(randomOptions(r), order)
		parted := false
		for _, a := range ranked {
			for _, b := range ranked {
				parted = parted || (a.Rank > 0 && b.Rank > 0 && alone(order, a.Option, b.Option) != "")
			}
		}
		if parted {
			continue
		}
		level++
		for _, a := range ranked {
			if a.Rank > 1 {
				t.Fatalf("by %v: %s", order, shown(ranked))
			}
		}
	}
	if level < 100 {
		t.Errorf("only %d level fields", level)
	}
}

// Nobody gains by silence: an option of which one figure less is known is ahead of nobody that it was not ahead of, and behind
// everybody that it was behind.
func TestRankRewardsNobodyForSilence_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	lost := 0
	for range fields {
		options, order := randomOptions(r), randomOrder(r)
		silent := options[0]
		silent.Drag = nil
		for _, b := range options[1:] {
			before, after := places(order, options[0], b), places(order, silent, b)
			if before[0] == 0 || after[0] == 0 {
				continue
			}
			if after[0]-after[1] < before[0]-before[1] {
				t.Fatalf("by %v: rank %d to %d, without its force %d to %d", order, before[0], before[1], after[0], after[1])
			}
			if after[0]-after[1] > before[0]-before[1] {
				lost++
			}
		}
	}
	if lost < 100 {
		t.Errorf("only %d lost by silence", lost)
	}
}

func places(order []Criterion, a, b Option) [2]int {
	out := [2]int{}
	for _, r := range Rank([]Option{a, b}, order) {
		switch r.Option.ID {
		case a.ID:
			out[0] = r.Rank
		case b.ID:
			out[1] = r.Rank
		default:
			panic(fmt.Sprint(r.Option.ID))
		}
	}
	return out
}
