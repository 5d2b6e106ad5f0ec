package engine

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema/quantity"
)

func leaking(id string, low, likely, high float64) Option {
	return Option{ID: id, Leakage: &Leakage{Result: seal.Result{Band: doubt.Band{Range: doubt.Between(low, likely, high)}}}}
}

func (o Option) dragging(low, high float64) Option {
	r := doubt.Between(low, (low+high)/2, high)
	o.Drag = &r
	return o
}

func (o Option) lasting(low, high float64) Option {
	r := doubt.Between(low, (low+high)/2, high)
	o.Life = &r
	return o
}

func (o Option) tolerating(l quantity.Length) Option {
	o.Tolerance = &l
	return o
}

// shown is a ranking in a few words: id, rank, = tied, ~ near, < dominated by, and why.
func shown(ranked []Ranked) string {
	var out []string
	for _, r := range ranked {
		text := fmt.Sprintf("%s %d", r.Option.ID, r.Rank)
		for i, ids := range [][]string{r.Tied, r.Near, r.DominatedBy} {
			if len(ids) > 0 {
				text += " " + "=~<"[i:i+1] + strings.Join(ids, "")
			}
		}
		if r.Reason.By != "" {
			text += fmt.Sprintf(" (%s %s%s)", r.Reason.By, r.Reason.Other, strings.TrimRight(" "+r.Reason.Third, " "))
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// Small fields, ranked by hand.
func TestRank(t *testing.T) {
	mm := quantity.Millimetre
	for name, c := range map[string]struct {
		options []Option
		order   []Criterion
		want    string
	}{
		"one alone": {[]Option{leaking("a", 1, 2, 3)}, nil, "a 1"},
		"better beyond doubt": {[]Option{leaking("b", 4, 5, 6), leaking("a", 1, 2, 3)}, nil,
			"a 1 (leakage b); b 2 (leakage a)"},
		"bands that touch are level": {[]Option{leaking("b", 3, 4, 5), leaking("a", 1, 2, 3)}, nil,
			"a 1 =b ~b; b 1 =a ~a"},
		"a tie takes up places": {[]Option{leaking("a", 1, 2, 3), leaking("b", 2, 3, 4), leaking("c", 5, 6, 7)}, nil,
			"a 1 =b ~b; b 1 =a ~a; c 3 (leakage a)"},
		"level is not transitive": {[]Option{leaking("a", 1, 2, 3), leaking("b", 2, 4, 6), leaking("c", 5, 6, 7)}, nil,
			"a 1 =b ~b; b 1 =a ~ac; c 3 ~b (leakage a)"},
		"no leakage, no rank": {[]Option{{ID: "z"}, Option{ID: "y"}.dragging(1, 2), leaking("a", 1, 2, 3)}, nil,
			"a 1; y 0; z 0"},
		"leakage does not count": {[]Option{leaking("a", 1, 2, 3).dragging(3, 4), Option{ID: "y"}.dragging(1, 2)}, []Criterion{ByForce},
			"y 1 (force a); a 2 <y (force y)"},
		"nothing that counts is known": {[]Option{leaking("a", 1, 2, 3), Option{ID: "y"}.lasting(1, 2)}, []Criterion{ByLife},
			"y 1; a 0"},
		"level in air, parted by force": {[]Option{leaking("a", 1, 2, 3).dragging(5, 9), leaking("b", 2, 3, 4).dragging(2, 3)}, nil,
			"b 1 ~a (force a); a 2 ~b (force b)"},
		"more life is better": {[]Option{leaking("a", 1, 2, 3).lasting(5, 9), leaking("b", 2, 3, 4).lasting(10, 20)}, nil,
			"b 1 ~a (life a); a 2 ~b (life b)"},
		"a tolerance is exact": {[]Option{leaking("a", 1, 2, 3).tolerating(mm), leaking("b", 2, 3, 4).tolerating(mm + 1), leaking("c", 2, 3, 5).tolerating(mm)}, nil,
			"b 1 ~ac (tolerance a); a 2 =c ~bc (tolerance b); c 2 =a ~ba (tolerance b)"},
		"the order decides": {[]Option{leaking("a", 1, 2, 3).dragging(5, 9), leaking("b", 4, 5, 6).dragging(2, 3)}, []Criterion{ByForce, ByLeakage},
			"b 1 (force a); a 2 (force b)"},
		"dominated": {[]Option{leaking("a", 1, 2, 3).dragging(2, 3), leaking("b", 4, 5, 6).dragging(2, 4), leaking("c", 7, 8, 9).dragging(1, 2)}, []Criterion{ByLeakage, ByForce},
			"a 1 (leakage b); b 2 <a (leakage a); c 3 (leakage b)"},
		"not dominated by one with a figure unknown": {[]Option{leaking("a", 1, 2, 3), leaking("b", 4, 5, 6).dragging(2, 4)}, []Criterion{ByLeakage, ByForce},
			"a 1 (leakage b); b 2 (leakage a)"},
		"not dominated by one level on all": {[]Option{leaking("a", 1, 2, 3), leaking("b", 2, 3, 4)}, []Criterion{ByLeakage},
			"a 1 =b ~b; b 1 =a ~a"},
		"unknown stands with the last": {[]Option{leaking("a", 1, 2, 3).dragging(1, 2), leaking("b", 1, 2, 3).dragging(5, 6), leaking("u", 1, 2, 3)}, []Criterion{ByLeakage, ByForce},
			"a 1 ~bu (force b); b 2 =u ~au <a (force a); u 2 =b ~ab (force a b)"},
		"unknown of all parts nobody": {[]Option{leaking("a", 1, 2, 3), leaking("b", 1, 2, 4), leaking("c", 1, 2, 5).lasting(1, 2)}, nil,
			"a 1 =bc ~bc; b 1 =ac ~ac; c 1 =ab ~ab"},
	} {
		if got := shown(Rank(c.options, c.order)); got != c.want {
			t.Errorf("%s: ranked\n%s, want\n%s", name, got, c.want)
		}
	}
}

// By hand: a and b overlap, so do b and d, and d and c; a lies below d, a and b below c, all below e. So a and b share the
// first place; c overlaps d, and yet stands behind it: b leaks less than c beyond doubt, and not so than d.
func TestRankNamesWhatIsTooCloseToCall(t *testing.T) {
	ranked := Rank([]Option{leaking("c", 6, 8, 12), leaking("b", 2, 3, 5), leaking("a", 1, 2, 4), leaking("d", 4.5, 5, 7), leaking("e", 20, 30, 40), {ID: "z"}}, nil)
	want := "a 1 =b ~b; b 1 =a ~ad; d 3 ~bc (leakage a); c 4 ~d (leakage d b); e 5 (leakage c); z 0"
	if got := shown(ranked); got != want {
		t.Errorf("ranked %s, want %s", got, want)
	}
}

// field of random bands, coarse so that many overlap, touch or are not known.
func randomOptions(r *rand.Rand) []Option {
	band := func() doubt.Range {
		low := float64(r.IntN(12))
		likely := low + float64(r.IntN(4))
		return doubt.Between(low, likely, likely+float64(r.IntN(4)))
	}
	known := func() bool { return r.IntN(5) > 0 }
	out := make([]Option, 1+r.IntN(8))
	for i := range out {
		out[i].ID = string(rune('a' + i))
		if known() {
			b := band()
			out[i] = leaking(out[i].ID, b.Low, b.Likely, b.High)
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
	if c == ByLife || c == ByTolerance {
		return knownX && knownY && x.Low > y.High
	}
	return knownX && knownY && x.High < y.Low
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
		if !knownX || !knownY || x.Low > y.Low || x.Likely > y.Likely || x.High > y.High {
			return false
		}
		better = better || surely(c, a, b)
	}
	return better
}

const fields = 20000

// What holds of every ranking, whatever the bands.
func TestRankHolds_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	thirds := 0
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
			if one.Reason.Third != "" {
				thirds++
			}
		}
		for i, a := range ranked {
			if fault := faultOf(a, i, ranked, byID, order); fault != "" {
				t.Fatalf("by %v: %s: %s", order, shown(ranked), fault)
			}
		}
	}
	if thirds < 100 {
		t.Errorf("only %d orders rest on a third", thirds)
	}
}

func faultOf(a Ranked, i int, ranked []Ranked, byID map[string]Ranked, order []Criterion) string {
	ahead := 0
	for j, b := range ranked {
		if b.Rank > 0 && b.Rank < a.Rank {
			ahead++
		}
		tied := slices.Contains(a.Tied, b.Option.ID)
		switch {
		case i != j && a.Rank > 0 && (a.Rank == b.Rank) != tied, tied != slices.Contains(b.Tied, a.Option.ID):
			return "a tie that is none, or only one way"
		case slices.Contains(a.Near, b.Option.ID) != slices.Contains(b.Near, a.Option.ID):
			return "near only one way"
		case slices.Contains(b.DominatedBy, a.Option.ID) != (a.Rank > 0 && b.Rank > 0 && outdoes(order, a.Option, b.Option)):
			return a.Option.ID + " is said to dominate " + b.Option.ID + ", and does not, or the other way round"
		case slices.Contains(b.DominatedBy, a.Option.ID) && a.Rank >= b.Rank:
			return b.Option.ID + " is not behind what dominates it"
		case tied && surely(order[0], a.Option, b.Option):
			return "tied with what it surely beats"
		case a.Rank > 0 && b.Rank > 0 && surely(order[0], a.Option, b.Option) && a.Rank >= b.Rank:
			return "not ahead of what it surely beats by the first criterion"
		case a.Rank == 0 && b.Rank > 0 && j > i:
			return "no rank, and not last"
		}
	}
	if a.Rank > 0 && a.Rank != ahead+1 {
		return fmt.Sprintf("%s has rank %d behind %d", a.Option.ID, a.Rank, ahead)
	}
	if a.Rank > 1 && !supported(a, byID) {
		return a.Option.ID + " stands behind without a reason that holds"
	}
	return ""
}

// supported checks the reason of an option against the figures: the neighbour is ahead and better beyond doubt; or level,
// and a third is better than this one beyond doubt and not so than the neighbour; or this figure is not known, and it
// stands no better than another that is, while the neighbour stands before that.
func supported(a Ranked, byID map[string]Ranked) bool {
	c, other := a.Reason.By, byID[a.Reason.Other]
	if other.Rank == 0 || other.Rank >= a.Rank {
		return false
	}
	if a.Reason.Third == "" {
		return surely(c, other.Option, a.Option)
	}
	third := byID[a.Reason.Third]
	if surely(c, other.Option, a.Option) || surely(c, a.Option, other.Option) || surely(c, third.Option, other.Option) {
		return false
	}
	if _, known := c.Of(a.Option); !known {
		_, known := c.Of(third.Option)
		return known && third.Rank > other.Rank
	}
	return surely(c, third.Option, a.Option)
}

// Two options are parted only where some option is better beyond doubt than one of a tier: where nobody surely beats
// anybody, all that are ranked share the first place.
func TestRankPartsNobodyWithoutDoubtSettled_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	level := 0
	for range fields {
		options, order := randomOptions(r), randomOrder(r)
		beaten := false
		ranked := Rank(options, order)
		for _, a := range ranked {
			for _, b := range ranked {
				for _, c := range order {
					beaten = beaten || (a.Rank > 0 && b.Rank > 0 && surely(c, a.Option, b.Option))
				}
			}
		}
		if beaten {
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

// What is not known puts no option ahead: whoever stands behind an option whose force is not known is beaten by force as
// often as anybody.
func TestRankPutsNobodyAheadForSilence_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	silent := 0
	for range fields {
		ranked := Rank(randomOptions(r), []Criterion{ByForce, ByLife})
		beaten, most := map[string]int{}, 0
		for _, b := range ranked {
			for _, a := range ranked {
				if surely(ByForce, a.Option, b.Option) {
					beaten[b.Option.ID]++
				}
			}
			most = max(most, beaten[b.Option.ID])
		}
		for _, u := range ranked {
			for _, b := range ranked {
				if u.Rank == 0 || u.Option.Drag != nil || b.Rank <= u.Rank || b.Option.Drag == nil {
					continue
				}
				silent++
				if beaten[b.Option.ID] < most {
					t.Fatalf("%s: %s stands behind %s, whose force is not known", shown(ranked), b.Option.ID, u.Option.ID)
				}
			}
		}
	}
	if silent < 100 {
		t.Errorf("only %d stand behind one whose force is not known", silent)
	}
}

func BenchmarkRank(b *testing.B) {
	options := []Option{leaking("c", 6, 8, 12), leaking("b", 2, 3, 5), leaking("a", 1, 2, 4), leaking("d", 4.5, 5, 7)}
	for b.Loop() {
		Rank(options, nil)
	}
}
