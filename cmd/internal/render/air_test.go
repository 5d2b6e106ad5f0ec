package render

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/schema/quantity"
)

// leaking makes an option with the likely flows of its paths in L/s; every band is from half to twice.
func leaking(id, verdict string, flows ...float64) assess.Option {
	l := &engine.Leakage{}
	band := func(v float64) doubt.Range { return doubt.Range{Low: v / 2000, Likely: v / 1000, High: v / 500} }
	sum := 0.0
	for i, v := range flows {
		l.Counted = append(l.Counted, engine.Counted{Path: fmt.Sprintf("path-%d", i+1), Pointer: fmt.Sprintf("/paths/%d", i), Range: band(v)})
		sum += v
	}
	l.Range = band(sum)
	slices.SortStableFunc(l.Counted, func(a, b engine.Counted) int { return int(math.Copysign(1, b.Likely-a.Likely)) })
	return assess.Option{Option: engine.Option{ID: id, Leakage: l}, Verdict: verdict}
}

func ids(options []assess.Option) string {
	var out []string
	for _, o := range options {
		out = append(out, o.ID)
	}
	return strings.Join(out, " ")
}

// Of many options those that comply are broken down, and the tightest of the rest.
func TestBrokenDown(t *testing.T) {
	unknown := assess.Option{Option: engine.Option{ID: "unknown"}, Verdict: assess.Unproven}
	few := []assess.Option{leaking("a", assess.Complies, 1), leaking("b", assess.Fails, 9), leaking("c", assess.Fails, 5), leaking("d", assess.Unproven, 7)}
	for _, c := range []struct {
		options        []assess.Option
		shown, leftOut string
	}{
		{nil, "", ""},
		{[]assess.Option{unknown}, "", ""},
		{append(few, unknown), "a b c d", ""},
		{append(few, unknown, leaking("e", assess.Complies, 2)), "a c e", "b d"},
		{append(few[1:], leaking("f", assess.Fails, 6), leaking("g", assess.Fails, 6)), "c", "b d f g"},
	} {
		shown, leftOut := brokenDown(c.options)
		if ids(shown) != c.shown || strings.Join(leftOut, " ") != c.leftOut {
			t.Errorf("%s: shown %s, left out %s; want %s and %s", ids(c.options), ids(shown), leftOut, c.shown, c.leftOut)
		}
	}
}

// The six largest paths of any option have lines of their own; the others are one.
func TestOtherPaths(t *testing.T) {
	a, b := leaking("a", assess.Complies, 1, 2, 3, 4, 5, 6, 7, 8), leaking("b", assess.Fails, 90, 2, 3, 4, 5, 6, 7, 8)
	large, others := breakdown{options: []assess.Option{a, b}}.ways()
	names := func(ways []way) (out string) {
		for _, w := range ways {
			out += strings.TrimPrefix(w.path, "path-")
		}
		return out
	}
	if names(large) != "876541" || names(others) != "32" {
		t.Errorf("large %s, others %s", names(large), names(others))
	}
	if large, others := (breakdown{options: []assess.Option{leaking("a", assess.Complies, 1, 2, 3, 4, 5, 6, 7)}}).ways(); len(large) != 7 || others != nil {
		t.Errorf("one path more than six is still shown: %v, %v", large, others)
	}
}

// What is the same of all options, or of all but some, is said once.
func TestLinesSayOnce(t *testing.T) {
	first := func(l *engine.Leakage) (doubt.Range, doubt.Range, bool) {
		return way{path: "path-1", pointer: "/paths/0"}.in(l)
	}
	made := func(flows ...float64) breakdown {
		b := breakdown{unit: flowUnit{"L/s", 1000}}
		for i, v := range flows {
			b.options = append(b.options, leaking(string(rune('a'+i)), assess.Complies, v, 10-v))
		}
		return b
	}
	for _, c := range []struct {
		b    breakdown
		want string
	}{
		{made(2), "a 2.0 20 %"},
		{made(2, 2), "every option 2.0 20 %"},
		{made(2, 3), "a 2.0 20 %; b 3.0 30 %"},
		{made(2, 3, 2), "b 3.0 30 %; the others 2.0 20 %"},
		{made(2, 2, 3, 3), "a 2.0 20 %; b 2.0 20 %; c 3.0 30 %; d 3.0 30 %"},
	} {
		var got []string
		for _, l := range c.b.lines(first) {
			got = append(got, l.option+" "+strings.Fields(l.leaks)[0]+" "+l.share)
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%q, want %q", strings.Join(got, "; "), c.want)
		}
	}
}

func TestShares(t *testing.T) {
	for want, parts := range map[string][]float64{
		"58 %": {0.58}, "1 to 20 %": {0.2, 0.01}, "<1 to 7 %": {0.004, 0.07}, "0 %": {0}, "100 %": {1}, "- %": {math.NaN()},
	} {
		if got := percents(parts); got != want {
			t.Errorf("%v: %q, want %q", parts, got, want)
		}
	}
	for times, want := range map[float64]string{1: "as much", 1.77: "77 % more", 0.9: "10 % less", 3.64: "3.6 times", 12.6: "13 times", math.Inf(1): ""} {
		if got := more(times); got != want {
			t.Errorf("%g times: %q, want %q", times, got, want)
		}
	}
}

// Two figures, the band rounded outwards, and no more than two decimals.
func TestBanded(t *testing.T) {
	for want, r := range map[string]doubt.Range{
		"5.6   (1.7 to 17)":    {Low: 1.79, Likely: 5.62, High: 16.1},
		"0.71  (0.08 to 2.3)":  {Low: 0.0881, Likely: 0.709, High: 2.26},
		"150   (120 to 240)":   {Low: 121, Likely: 151, High: 231},
		"<0.01 (0.00 to 0.01)": {Low: 0.0012, Likely: 0.0031, High: 0.0058},
		"0     (0 to 0.04)":    {High: 0.035},
	} {
		if got := banded(r, 1); got != want {
			t.Errorf("%v: %q, want %q", r, got, want)
		}
	}
}

// The forces of the seals on a leaf add, at each angle; the greatest is shown.
func TestDragAdds(t *testing.T) {
	contact := func(leaf string, force, wide float64) engine.Contact {
		reach := func(v float64) *doubt.Range { return &doubt.Range{Low: v / 2, Likely: v, High: 2 * v} }
		return engine.Contact{Leaf: leaf, Force: reach(force), Angles: []engine.AngleContact{
			{Angle: 45 * quantity.Degree, Force: reach(wide)}, {Angle: 90 * quantity.Degree, Force: reach(wide / 2)},
		}}
	}
	o := assess.Option{Option: engine.Option{Contact: []engine.Contact{
		contact("A", 1, 4), {Leaf: "A", Force: &doubt.Range{}}, contact("B", 3, 2), contact("A", 2, 8),
	}}}
	leaves := sums(o)
	if len(leaves) != 2 || leaves[0][0].Likely != 3 || leaves[1][0].Likely != 3 || leaves[0][1].High != 24 || leaves[0][2].Low != 3 {
		t.Errorf("%v", leaves)
	}
	if got, want := most(leaves[0][1:], 1, true), "12    (6 to 24) at 45 deg"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := most(nil, 1, true); got != "not read" {
		t.Errorf("%q", got)
	}
}
