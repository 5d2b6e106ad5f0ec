package engine

import (
	"fmt"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema/quantity"
)

// leaking is an option with one doubt of its own, which moves its leakage from low to high.
func leaking(id string, low, likely, high float64) Option {
	return doubted(id, likely, doubt.Effect{Doubt: doubt.Own("seal", "test it"), Of: id, Low: low, High: high})
}

func doubted(id string, likely float64, effects ...doubt.Effect) Option {
	return Option{ID: id, Leakage: &Leakage{Result: seal.Result{Band: doubt.BandOf(likely, effects), Effects: effects}}}
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

func (o Option) withNothingToSet() Option {
	o.NothingToSet = true
	return o
}

// shown is a ranking in a few words: id, rank, = tied, ~ near, o circled, < dominated by, and why.
func shown(ranked []Ranked) string {
	var out []string
	for _, r := range ranked {
		text := fmt.Sprintf("%s %d", r.Option.ID, r.Rank)
		for i, ids := range [][]string{r.Tied, r.Near, r.Circled, r.DominatedBy} {
			if len(ids) > 0 {
				text += " " + "=~o<"[i:i+1] + strings.Join(ids, "")
			}
		}
		if r.Reason.By != "" {
			text += fmt.Sprintf(" (%s %s)", r.Reason.By, r.Reason.Other)
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
		"a difference of 1 with 1.4 in doubt": {[]Option{leaking("b", 2, 3, 4), leaking("a", 1, 2, 3)}, nil,
			"a 1 =b ~b; b 1 =a ~a"},
		"behind both of a tie": {[]Option{leaking("a", 1, 2, 3), leaking("b", 2, 3, 4), leaking("c", 5, 6, 7)}, []Criterion{ByLeakage},
			"a 1 =b ~b; b 1 =a ~a; c 3 <ab (leakage b)"},
		"level is not transitive": {[]Option{leaking("a", 1, 2, 3), leaking("b", 1, 4, 7), leaking("c", 5, 6, 7)}, nil,
			"a 1 =b ~b; b 1 =a ~ac; c 2 ~b (leakage a)"},
		"no leakage, no rank": {[]Option{{ID: "z"}, Option{ID: "y"}.dragging(1, 2), leaking("a", 1, 2, 3)}, nil,
			"a 1; y 0; z 0"},
		"leakage does not count": {[]Option{leaking("a", 1, 2, 3).dragging(3, 4), Option{ID: "y"}.dragging(1, 2)}, []Criterion{ByForce},
			"y 1 (force a); a 2 <y (force y)"},
		"nothing that counts is known": {[]Option{leaking("a", 1, 2, 3), Option{ID: "y"}.lasting(1, 2)}, []Criterion{ByLife},
			"y 1; a 0"},
		"level in air, parted by force": {[]Option{leaking("a", 1, 2, 3).dragging(5, 9), leaking("b", 2, 3, 4).dragging(2, 3)}, nil,
			"b 1 ~a (force a); a 2 ~b (force b)"},
		"no force is less than some": {[]Option{leaking("a", 1, 2, 3).dragging(0.1, 9), leaking("b", 2, 3, 4).dragging(0, 0)}, nil,
			"b 1 ~a (force a); a 2 ~b (force b)"},
		"no force is level with perhaps none": {[]Option{leaking("a", 1, 2, 3).dragging(0, 11), leaking("b", 2, 3, 4).dragging(0, 0)}, nil,
			"a 1 =b ~b; b 1 =a ~a"},
		"more life is better": {[]Option{leaking("a", 1, 2, 3).lasting(5, 9), leaking("b", 2, 3, 4).lasting(10, 20)}, nil,
			"b 1 ~a (life a); a 2 ~b (life b)"},
		"a tolerance is exact": {[]Option{leaking("a", 1, 2, 3).tolerating(mm), leaking("b", 2, 3, 4).tolerating(mm + 1), leaking("c", 2, 3, 5).tolerating(mm)}, nil,
			"b 1 ~ac (tolerance a); a 2 =c ~bc (tolerance b); c 2 =a ~ba (tolerance b)"},
		"nothing to set cannot be set wrong": {[]Option{leaking("a", 1, 2, 3).tolerating(mm), leaking("b", 2, 3, 4).withNothingToSet(), leaking("c", 2, 3, 5).withNothingToSet()}, nil,
			"b 1 =c ~ca; c 1 =b ~ba; a 3 ~bc (tolerance c)"},
		"the order decides": {[]Option{leaking("a", 1, 2, 3).dragging(5, 9), leaking("b", 4, 5, 6).dragging(2, 3)}, []Criterion{ByForce, ByLeakage},
			"b 1 (force a); a 2 (force b)"},
		"dominated": {[]Option{leaking("a", 1, 2, 3).dragging(2, 3), leaking("b", 4, 5, 6).dragging(2, 4), leaking("c", 7, 8, 9).dragging(1, 2)}, []Criterion{ByLeakage, ByForce},
			"a 1 (leakage b); b 2 <a (leakage a); c 3 (leakage b)"},
		"not dominated by one with a figure unknown": {[]Option{leaking("a", 1, 2, 3), leaking("b", 4, 5, 6).dragging(2, 4)}, []Criterion{ByLeakage, ByForce},
			"a 1 (leakage b); b 2 (leakage a)"},
		"not dominated by one level on all": {[]Option{leaking("a", 1, 2, 3), leaking("b", 2, 3, 4)}, []Criterion{ByLeakage},
			"a 1 =b ~b; b 1 =a ~a"},
		"unknown stands behind known": {[]Option{leaking("a", 1, 2, 3).dragging(1, 2), leaking("b", 1, 2, 3).dragging(5, 6), leaking("u", 1, 2, 3)}, []Criterion{ByLeakage, ByForce},
			"a 1 ~bu (force b); b 2 ~au <a (force a); u 3 ~ab (force b)"},
		"unknown of both parts nobody": {[]Option{leaking("a", 1, 2, 3).lasting(1, 2), leaking("b", 1, 2, 4).lasting(3, 4)}, nil,
			"b 1 ~a (life a); a 2 ~b (life b)"},
		// a leaks less than b; c is level with both, and drags less than a and more than b.
		"in a circle the first criterion holds": {[]Option{leaking("a", 1, 2, 3).dragging(5, 6), leaking("b", 5, 6, 7).dragging(1, 2), leaking("c", 1.5, 4, 6.5).dragging(3, 4)}, nil,
			"a 1 =c ~c oc; c 1 =a ~ab oab; b 2 ~c oc (leakage a)"},
	} {
		if got := shown(Rank(c.options, c.order)); got != c.want {
			t.Errorf("%s: ranked\n%s, want\n%s", name, got, c.want)
		}
	}
}

// By hand: 80 L/s go through the same open edges in both, and reach from 50 to 110. The bands overlap, and the blades leak less all the
// same; that the bare gap drags nothing does not put it first.
func TestRankPartsWhatOnlySharesItsDoubt(t *testing.T) {
	edges := func(more float64) doubt.Effect { return crackLaw(50+more, 110+more) }
	options := []Option{
		doubted("bare", 120, edges(40), ownDoubt("gap", 115, 125)).dragging(0, 0),
		doubted("blades", 82, edges(2), ownDoubt("blade", 81, 83)).dragging(2, 3),
	}
	want := "blades 1 (leakage bare); bare 2 (leakage blades)"
	if got := shown(Rank(options, nil)); got != want {
		t.Errorf("ranked %s, want %s", got, want)
	}
}

// The rank of two that are level may differ, by a third; of two of which one is ahead it never turns round.
func TestRankKeepsTwoWhenAThirdComes(t *testing.T) {
	tight := leaking("tight", 4, 5, 6).dragging(8, 9)
	light := leaking("light", 5, 6, 7).dragging(1, 2)
	for _, third := range []Option{
		leaking("x", 1, 2, 5).dragging(1, 2), leaking("x", 0.1, 0.2, 0.3), leaking("x", 6.3, 8, 9).dragging(3, 4), leaking("x", 20, 30, 40),
	} {
		places := map[string]int{}
		ranked := Rank([]Option{tight, light, third}, nil)
		for _, r := range ranked {
			places[r.Option.ID] = r.Rank
		}
		if places["light"] >= places["tight"] {
			t.Errorf("with a third: %s", shown(ranked))
		}
	}
}

func BenchmarkRank(b *testing.B) {
	options := []Option{leaking("c", 6, 8, 12), leaking("b", 2, 3, 5), leaking("a", 1, 2, 4), leaking("d", 4.5, 5, 7)}
	for b.Loop() {
		Rank(options, nil)
	}
}
