package render

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
)

// houseSum adds what the doors of a house mean to it, each by the best of its options that comply. Errors are added as if all went the
// same way, which is the widest that the sum may be: the doors share the laws, the seals and who read the gaps.
type houseSum struct {
	doors   int // counted
	failing int // left out: no option complies
	unknown int // left out: the leakage of the option that complies is not known

	at50, part, area, heat, yearly doubt.Range

	whole         float64 // m3/s that the house may lose
	wholes        int     // doors that say so
	differ        bool    // and do not say the same
	withoutYearly bool    // a door does not say the degree days
}

func (s *houseSum) add(r *assess.Result) {
	if !engine.Housed(r.Door) {
		return
	}
	if whole, _, ok := engine.Allowance(r.Door); ok {
		s.differ = s.differ || (s.wholes > 0 && whole != s.whole)
		s.whole = whole
		s.wholes++
	}
	best := slices.IndexFunc(r.Options, func(o assess.Option) bool { return o.Verdict == assess.Complies })
	switch {
	case best < 0:
		s.failing++
		return
	case r.Options[best].House == nil:
		s.unknown++
		return
	}
	h := r.Options[best].House
	s.doors++
	s.at50, s.area, s.heat = s.at50.Plus(h.At50.Range), s.area.Plus(h.SmallArea), s.heat.Plus(h.Conductance)
	if h.Part != nil {
		s.part = s.part.Plus(*h.Part)
	}
	if h.Yearly == nil {
		s.withoutYearly = true
		return
	}
	s.yearly = s.yearly.Plus(*h.Yearly)
}

func (s *houseSum) asked() bool { return s.doors+s.failing+s.unknown > 0 }

// oneTarget says whether all doors, those left out too, name the same target, which is more than nothing.
func (s *houseSum) oneTarget() bool {
	return s.whole > 0 && !s.differ && s.wholes == s.doors+s.failing+s.unknown
}

func (s *houseSum) text(b *strings.Builder) {
	if !s.asked() {
		return
	}
	fmt.Fprintf(b, "the house, indicative, each door by the best of its options that comply, bands as if all erred alike:\n")
	fmt.Fprintf(b, "  doors: %d; left out, for no option complies: %d, for the leakage is not known: %d\n", s.doors, s.failing, s.unknown)
	if s.doors == 0 {
		return
	}
	litres := flowUnit{"L/s", 1000}
	fmt.Fprintf(b, "  at 50 Pa: %s L/s", inline(s.at50, litres.per))
	switch {
	case s.oneTarget():
		fmt.Fprintf(b, ", %s %% of the %s that the house may lose", inline(s.part, 100), flowWords(s.whole, litres))
	case s.differ:
		b.WriteString("; the doors name different targets of the house, so no share is told")
	case s.wholes > 0 && s.whole > 0:
		b.WriteString("; not every door names the target of the house, so no share is told")
	}
	fmt.Fprintf(b, "\n  as at 4 Pa: %s cm2; heat: %s W/K", inline(s.area, 1e4), inline(s.heat, 1))
	if !s.withoutYearly {
		fmt.Fprintf(b, ", %s kWh a year", inline(s.yearly, 1))
	}
	b.WriteString("\n")
}

type houseSumJSON struct {
	Doors   int        `json:"doors"`
	Failing int        `json:"no_option_complies"`
	Unknown int        `json:"leakage_not_known"`
	At50    flowJSON   `json:"leakage_50"`
	Whole   *float64   `json:"whole_lps"`
	Part    *rangeJSON `json:"part"`
	Area    rangeJSON  `json:"area_4_pa_cm2"`
	Heat    rangeJSON  `json:"heat_w_per_k"`
	Yearly  *rangeJSON `json:"heat_kwh_a"`
}

// json is nil where no door asks anything of the house.
func (s *houseSum) json() *houseSumJSON {
	if !s.asked() {
		return nil
	}
	out := &houseSumJSON{
		Doors: s.doors, Failing: s.failing, Unknown: s.unknown, At50: flowOf(s.at50), Area: ranged(s.area, 1e4), Heat: ranged(s.heat, 1),
	}
	if s.oneTarget() {
		out.Whole, out.Part = pointed(flowOf(doubt.Exactly(s.whole)).Flow), pointed(ranged(s.part, 1))
	}
	if s.doors > 0 && !s.withoutYearly {
		out.Yearly = pointed(ranged(s.yearly, 1))
	}
	return out
}
