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

// made makes an option of its id and its figures: leakage in L/s, force in N, life in cycles, tolerance in mm. What is
// left out is not known.
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
			o.Leakage = &engine.Leakage{Result: seal.Result{Band: doubt.Band{Range: doubt.Range{Low: low / 1000, Likely: reach.Likely / 1000, High: high / 1000}}}}
		case "force":
			o.Drag = reach
		case "life":
			o.Life = reach
		case "tolerance":
			l := quantity.Length(low) * quantity.Millimetre
			o.Tolerance = &l
		default:
			t.Fatalf("no figure %s", figure[0])
		}
	}
	return o
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
			"Behind a: it leaks at least 20 L/s, a at most 17 L/s; " +
				"dominated by a, which is no worse on anything that counts."}},
		"figures as fine as it takes": {worded(t, air, "a leakage 9 17.1", "b leakage 17.16 40"), []string{
			"First, ahead of b: it leaks at most 17.10 L/s, b at least 17.16 L/s.",
			"Behind a: it leaks at least 17.16 L/s, a at most 17.10 L/s; " +
				"dominated by a, which is no worse on anything that counts."}},
		"force": {worded(t, usual, "a leakage 1 2 force 5 9", "b leakage 1 3 force 2 3"), []string{
			"First, ahead of a: level on leakage, for their bands overlap; " +
				"it adds at most 3.0 N at the latch edge, a at least 5.0 N.",
			"Behind b: level on leakage, for their bands overlap; " +
				"it adds at least 5.0 N at the latch edge, b at most 3.0 N."}},
		"life, force not known": {worded(t, usual, "a leakage 1 2 life 1e5 1e5", "b leakage 1 3 force 1 2 life 5e5 5e5"), []string{
			"First, ahead of a: level on leakage, for their bands overlap; force is not known of a; " +
				"it was tested for at least 500000 cycles, a at most 100000 cycles.",
			"Behind b: level on leakage, for their bands overlap; force is not known of a; " +
				"it was tested for at most 100000 cycles, b at least 500000 cycles."}},
		"tolerance": {worded(t, []engine.Criterion{engine.ByTolerance}, "a tolerance 1 1", "b tolerance 2 2", "c tolerance 1 1"), []string{
			"First, ahead of a: it may be set 2 mm off either way, a 1 mm.",
			"Behind b: it may be set 1 mm off either way, b 2 mm; level with c in all that is known; " +
				"dominated by b, which is no worse on anything that counts.",
			"Behind b: it may be set 1 mm off either way, b 2 mm; level with a in all that is known; " +
				"dominated by b, which is no worse on anything that counts."}},
		"tied": {worded(t, usual, "a leakage 1 2", "b leakage 1 3 force 1 2"), []string{
			"Level with b on leakage, for their bands overlap; force is not known of a; " +
				"life and setting tolerance are not known.",
			"Level with a on leakage, for their bands overlap; force is not known of a; " +
				"life and setting tolerance are not known."}},
		"a third": {worded(t, air, "tight leakage 1 2", "wide leakage 1.5 9", "c leakage 3 4", "d leakage 3.5 20", "e leakage 4.5 7"), []string{
			"Level with wide on leakage, for their bands overlap.",
			"Level with tight on leakage, for their bands overlap.",
			"Behind tight: it leaks at least 3.0 L/s, tight at most 2.0 L/s; level with d in all that is known; " +
				"dominated by tight, which is no worse on anything that counts.",
			"Behind tight: it leaks at least 3.5 L/s, tight at most 2.0 L/s; level with c in all that is known; " +
				"dominated by tight, which is no worse on anything that counts.",
			"Behind c: it leaks at least 4.5 L/s, c at most 4.0 L/s; " +
				"dominated by tight, which is no worse on anything that counts."}},
		"a third only": {worded(t, air, "tight leakage 1 2", "wide leakage 1.5 5", "c leakage 3 7", "d leakage 6 9"), []string{
			"Level with wide on leakage, for their bands overlap.",
			"Level with tight on leakage, for their bands overlap.",
			"Behind tight: it leaks at least 3.0 L/s, tight at most 2.0 L/s; " +
				"dominated by tight, which is no worse on anything that counts.",
			"B" +
				"ehind c, though their bands of leakage overlap: it leaks at least 6.0 L/s, wide at most 5.0 L/s, and wide is not surely better than c; dominated by tight, which is no worse on anything that counts."}},
		"its own is not known": {worded(t, usual[:2], "a leakage 1 2 force 1 2", "b leakage 1 2 force 3 4", "u leakage 1 2"), []string{
			"First, ahead of b: level on leakage, for their bands overlap; " +
				"it adds at most 2.0 N at the latch edge, b at least 3.0 N.",
			"Behind a: level on leakage, for their bands overlap; " +
				"it adds at least 3.0 N at the latch edge, a at most 2.0 N; level with u in all that is known; force is not known of u; dominated by a, which is no worse on anything that counts.",
			"Behind a: level on leakage, for their bands overlap; " +
				"its force is not known, which puts it with the last, b; level with b in all that is known; force is not known of u."}},
		"that of the next is not known": {worded(t, usual[:3], "a leakage 1 2 force 1 2", "b leakage 1 2 force 3 4 life 1e5 1e5", "u leakage 1 2 life 5e5 6e5"), []string{
			"First, ahead of u: level on leakage, for their bands overlap; " +
				"the force of u is not known, which puts that with the last.",
			"Behind a: level on leakage, for their bands overlap; its force is not known, which puts it with the last, b.",
			"Behind u: level on leakage, for their bands overlap; force is not known of u; " +
				"it was tested for at most 100000 cycles, u at least 500000 cycles."}},
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
	want := "Level with each other on leakage, for their bands overlap; force, life and setting tolerance are not known."
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

// Bands that overlap are marked, and those that stand apart all the same are named: c lies behind tight beyond doubt and
// overlaps wide, d overlaps c and stands behind it for wide.
func TestTiesNameWhatStandsApart(t *testing.T) {
	w := worded(t, []engine.Criterion{engine.ByLeakage}, "tight leakage 1 2", "wide leakage 1.5 5", "c leakage 3 7", "d leakage 6 9")
	p := &page{}
	p.ties(&assess.Result{Options: w.options})
	got := strings.Join(strings.Fields(p.b.String()), " ")
	want := "~ The leakage bands of these overlap: a test of the real seals would settle which leaks less. " +
		"Too close to call on leakage, though their places differ: wide and c; c and d."
	if got != want {
		t.Errorf("%s, want\n%s", got, want)
	}
	var marks []string
	for _, o := range w.options {
		marks = append(marks, rank(o))
	}
	if got := strings.Join(marks, ", "); got != "1 ~, 1 ~, 3 ~, 4 ~" {
		t.Errorf("marked %s", got)
	}
}
