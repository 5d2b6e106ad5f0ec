package render

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema/quantity"
)

// made makes an option of its id and its figures: leakage in L/s with a doubt of its own, and one of which much is shared, likely and
// then by how much either way; force in N, life in cycles, tolerance in mm, below 0: there is nothing to set. What is left out is not
// known.
func made(t *testing.T, text string) engine.Option {
	t.Helper()
	words := strings.Fields(text)
	o := engine.Option{ID: words[0]}
	number := func(word string) float64 {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, figure := range slices.Collect(slices.Chunk(words[1:], 3)) {
		low, high := number(figure[1]), number(figure[2])
		reach := &doubt.Range{Low: low, Likely: (low + high) / 2, High: high}
		switch figure[0] {
		case "leakage":
			o.Leakage = flowing(reach.Likely, ofSeal(o.ID, low, high))
		case "shared":
			crack := doubt.Effect{Doubt: doubt.Common("crack law", "test the door"), Low: low - high, High: low + high}
			o.Leakage = flowing(low, crack, ofSeal(o.ID, low-1, low+2))
		case "force":
			o.Drag = reach
		case "life":
			o.Life = reach
		case "tolerance":
			l := quantity.Length(low) * quantity.Millimetre
			o.Tolerance, o.NothingToSet = &l, low < 0
		default:
			t.Fatalf("no figure %s", figure[0])
		}
	}
	return o
}

// flowing and ofSeal take L/s.
func flowing(likely float64, effects ...doubt.Effect) *engine.Leakage {
	for i := range effects {
		effects[i].Low, effects[i].High = effects[i].Low/1000, effects[i].High/1000
	}
	return &engine.Leakage{Result: seal.Result{Band: doubt.BandOf(likely/1000, effects), Effects: effects}}
}

func ofSeal(id string, low, high float64) doubt.Effect {
	return doubt.Effect{Doubt: doubt.Own("residual gap", "test a sample of the seal"), Of: "seal-" + id, Low: low, High: high}
}

func worded(t *testing.T, order []engine.Criterion, options ...string) wording {
	t.Helper()
	w := wording{order: order, unit: flowUnit{"L/s", 1000}, system: quantity.Metric}
	var all []engine.Option
	for _, text := range options {
		all = append(all, made(t, text))
	}
	for _, r := range engine.Rank(all, order) {
		w.options = append(w.options, assess.Option{Option: r.Option, Place: r.Place, Verdict: assess.Complies})
	}
	return w
}

// One sentence an option, best first: figures and bands by hand.
func TestWhy(t *testing.T) {
	usual, air := engine.UsualOrder(), []engine.Criterion{engine.ByLeakage}
	dominated := "; dominated by "
	no := ", which is no worse on anything that counts."
	for name, c := range map[string]struct {
		w    wording
		want []string
	}{
		"one": {worded(t, usual, "a leakage 1 2"), []string{"Only complying option."}},
		"one that can be ranked": {worded(t, usual, "a leakage 1 2", "b"),
			[]string{"Only complying option that can be ranked.", "Not ranked: leakage is not known."}},
		"nothing that counts": {worded(t, []engine.Criterion{engine.ByLife}, "a leakage 1 2"),
			[]string{"Not ranked: nothing that counts is known."}},
		"leakage, dominated": {worded(t, air, "a leakage 9 17", "b leakage 20 40"), []string{
			"First, ahead of b: it leaks at most 17 L/s, b at least 20 L/s.",
			"Behind a: it leaks at least 20 L/s, a at most 17 L/s" + dominated + "a" + no}},
		"figures as fine as it takes": {worded(t, air, "a leakage 9 17.1", "b leakage 17.16 40"), []string{
			"First, ahead of b: it leaks at most 17.10 L/s, b at least 17.16 L/s.",
			"Behind a: it leaks at least 17.16 L/s, a at most 17.10 L/s" + dominated + "a" + no}},
		// 38 more, and the seals alone leave it in doubt by sqrt(2^2 + 1^2) below and above.
		"bands overlap for what is shared": {worded(t, usual, "a shared 82 25", "bare shared 120 30 force 0 0"), []string{
			"First, ahead of bare: it leaks 38 L/s less (32 to 44); their bands overlap only for what both share.",
			"Behind a: it leaks 38 L/s more (32 to 44); their bands overlap only for what both share."}},
		"force": {worded(t, usual, "a leakage 1 2 force 5 9", "b leakage 1 3 force 2 3"), []string{
			"First, ahead of a: level on leakage, within their bands; " +
				"it adds at most 3.0 N at the latch edge, a at least 5.0 N.",
			"Behind b: level on leakage, within their bands; " +
				"it adds at least 5.0 N at the latch edge, b at most 3.0 N."}},
		"life, force not known": {worded(t, usual, "a leakage 1 2 life 1e5 1e5", "b leakage 1 3 life 5e5 5e5", "c leakage 1 3 life 5e5 5e5"), []string{
			"Level with c on leakage and life, within their bands; force and setting tolerance are not known.",
			"Level with b on leakage and life, within their bands; force and setting tolerance are not known.",
			"Behind c: level on leakage, within their bands; force is not known; " +
				"it was tested for at most 100000 cycles, c at least 500000 cycles."}},
		"not known is said once": {worded(t, usual, "a leakage 1 2 tolerance 1 1", "b leakage 1 2 tolerance 2 2", "c leakage 1 2 tolerance 1 1"), []string{
			"First, ahead of a: level on leakage, within their bands; force and life are not known; " +
				"within the range that the seal is made for, its setting has 2 mm to spare either way, that of a 1 mm.",
			"Behind b: level on leakage, within their bands; force and life are not known; " +
				"within the range that the seal is made for, its setting has 1 mm to spare either way, that of b 2 mm; level with c in all that is known.",
			"Behind b: level on leakage, within their bands; force and life are not known; " +
				"within the range that the seal is made for, its setting has 1 mm to spare either way, that of b 2 mm; level with a in all that is known."}},
		"nothing to set": {worded(t, []engine.Criterion{engine.ByTolerance}, "a tolerance 1 1", "drop tolerance -1 -1"), []string{
			"First, ahead of a: it has nothing to set, and within the range that the seal is made for, the setting of a has 1 mm to spare either way.",
			"Behind drop: within the range that the seal is made for, its setting has 1 mm to spare either way, and drop has nothing to set" + dominated + "drop" + no}},
		"its own is not known": {worded(t, usual[:2], "a leakage 1 2 force 1 2", "u leakage 1 2"), []string{
			"First, ahead of u: level on leakage, within their bands; its force is known, and that of u is not.",
			"Behind a: level on leakage, within their bands; its force is not known, and that of a is."}},
		"level with one of another rank": {worded(t, air, "tight leakage 1 2", "wide leakage 1.5 9", "c leakage 4 6"), []string{
			"Level with wide on leakage, within their bands.",
			"Level with tight and c on leakage, within their bands.",
			"Behind tight: it leaks at least 4.0 L/s, tight at most 2.0 L/s; level with wide in all that is known" + dominated + "tight" + no}},
		// a leaks less than b; c is level with both, and drags less than a and more than b.
		"a circle": {worded(t, usual[:2], "a leakage 1 3 force 5 6", "b leakage 5 7 force 1 2", "c leakage 1.5 6.5 force 3 4"), []string{
			"Level with c, for what parts them goes round in a circle with other options, and so does not count.",
			"Level with a and b, for what parts them goes round in a circle with other options, and so does not count.",
			"Behind a: it leaks at least 5.0 L/s, a at most 3.0 L/s; " +
				"level with c, for what parts them goes round in a circle with other options, and so does not count."}},
	} {
		if len(c.w.options) != len(c.want) {
			t.Fatalf("%s: %d options", name, len(c.w.options))
		}
		for i, o := range c.w.options {
			if got := c.w.why(o, false); got != c.want[i] {
				t.Errorf("%s: of %s\n%s, want\n%s", name, o.ID, got, c.want[i])
			}
		}
	}
}

// Those that share the first place share their sentence, in the text.
func TestWhyShared(t *testing.T) {
	w := worded(t, engine.UsualOrder(), "a leakage 1 2", "b leakage 1 3")
	want := "Level with each other on leakage, within their bands; force, life and setting tolerance are not known."
	for _, o := range w.options {
		if got := w.why(o, true); got != want {
			t.Errorf("of %s: %s", o.ID, got)
		}
	}
}

// Pounds for who writes in inches: 2 lbf are 8.9 N, 3 lbf 13.3 N (pound of 1959, standard gravity of 1901).
func TestWhyInPounds(t *testing.T) {
	w := worded(t, []engine.Criterion{engine.ByForce}, "a force 4 8.896", "b force 13.35 20")
	w.system = quantity.Imperial
	if got, want := w.why(w.options[0], false), "First, ahead of b: it adds at most 2.0 lbf at the latch edge, b at least 3.0 lbf."; got != want {
		t.Errorf("%s", got)
	}
}

// Who is level on leakage is marked, and those that stand apart all the same are named: c leaks more than tight beyond doubt, and is
// level with wide, which is level with all. Between tight, 1.5 +- 0.5, and wide, 5.25 +- 3.75, lies 3.75 -+ sqrt(0.5^2 + 3.75^2).
func TestTiesNameWhatStandsApart(t *testing.T) {
	w := worded(t, []engine.Criterion{engine.ByLeakage}, "tight leakage 1 2", "wide leakage 1.5 9", "c leakage 4 6", "d leakage 20 30")
	said := func() string {
		p := &page{}
		p.ties(w)
		return strings.Join(strings.Fields(p.b.String()), " ")
	}
	want := "~ Too close to call which of these leaks less. wide leaks 3.8 L/s more than tight (0.04 less to 7.6 more); " +
		"the widest doubt between them is residual gap of seal-wide, 98 % of what keeps them level. To settle it: test a sample of the seal. " +
		"Level on leakage, though their places differ: wide and c."
	if got := said(); got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
	var marks []string
	for _, o := range w.options {
		marks = append(marks, rank(o))
	}
	if got := strings.Join(marks, ", "); got != "1 ~, 1 ~, 2 ~, 4" {
		t.Errorf("marked %s", got)
	}
	w = worded(t, []engine.Criterion{engine.ByLeakage}, "a shared 80 30", "b shared 120 30")
	if got := said(); got != "" {
		t.Errorf("of two that only share their doubt: %s", got)
	}
}

// A difference whose band reaches to less says so; one whose band does not is more all the same. Flows in m3/s, told in L/s.
func TestLeaksMore(t *testing.T) {
	for want, r := range map[string]doubt.Range{
		"b leaks 1.4 L/s more than a (0.36 less to 4.2 more)": {Low: -0.36e-3, Likely: 1.4e-3, High: 4.2e-3},
		"b leaks 1.4 L/s more than a (0.36 to 4.2)":           {Low: 0.36e-3, Likely: 1.4e-3, High: 4.2e-3},
		"b leaks as much as a (0.02 less to 0.04 more)":       {Low: -0.02e-3, Likely: 0.001e-3, High: 0.04e-3},
	} {
		if got := leaksMore("b", "a", engine.Difference{Range: r}, flowUnit{"L/s", 1000}); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
