package render

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/schema/door"
)

// houseSum adds what the doors of a house mean to it, each by the best of its options that comply. Errors are added as if all went the
// same way, which is the widest that the sum may be: the doors share the laws, the seals and who read the gaps.
type houseSum struct {
	doors   int // counted
	failing int // left out: no option is known to comply
	unknown int // left out: the leakage of the option that complies is not known

	at50, part, area, heat, yearly doubt.Range

	unlisted int // counted by the paths that are listed, and not every edge is
	unsaid   int // counted, and not said to be external

	whole         float64    // m3/s that the house may lose
	house         [4]float64 // as it is measured, by the first door that says so
	wholes        int        // doors that say so
	differ        bool       // and do not say the same
	share         float64    // of all doors that have one, those left out too
	shares        int        // doors that have one
	withoutYearly bool       // a door does not say the degree days
}

func (s *houseSum) add(r *assess.Result) {
	if !engine.Housed(r.Door) {
		return
	}
	s.target(r.Door)
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
	if !r.Door.AllListed() {
		s.unlisted++
	}
	if !r.Door.Leaf.Location.Known {
		s.unsaid++
	}
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

// target takes what a door says of its house, and holds it against what the doors before said.
func (s *houseSum) target(d *door.Door) {
	whole, share, ok := engine.Allowance(d)
	if !ok {
		return
	}
	t := d.Targets
	house := [4]float64{t.HouseVolume.Value, t.AirChange50.Value, t.Envelope.Value, t.Permeability50.Value}
	if s.wholes == 0 {
		s.whole, s.house = whole, house
	}
	for i := range house {
		s.differ = s.differ || math.Abs(house[i]-s.house[i]) > sameHouse*s.house[i]
	}
	s.wholes++
	if share.Known {
		s.share += share.Value
		s.shares++
	}
}

// sameHouse is how far the measures of one house may lie apart, written in other units.
const sameHouse = 1e-3

func (s *houseSum) asked() bool { return s.doors+s.failing+s.unknown > 0 }

// oneTarget says whether all doors, those left out too, name the same target, which is more than nothing.
func (s *houseSum) oneTarget() bool {
	return s.whole > 0 && !s.differ && s.wholes == s.doors+s.failing+s.unknown
}

func (s *houseSum) text(b *strings.Builder) {
	if !s.asked() {
		return
	}
	b.WriteString("the house, indicative, each door by the best of its options that comply; bands as if all erred alike, heat as if the air came in at every door:\n")
	fmt.Fprintf(b, "  doors: %d; left out, for no option is known to comply: %d, for the leakage is not known: %d\n", s.doors, s.failing, s.unknown)
	if s.unlisted > 0 {
		fmt.Fprintf(b, "  by listed paths only, for not every edge is listed: %s\n", plural(s.unlisted, "door", "doors"))
	}
	if s.unsaid > 0 {
		fmt.Fprintf(b, "  counted as external, and door.location does not say so: %s\n", plural(s.unsaid, "door", "doors"))
	}
	if s.doors > 0 {
		s.sums(b)
	}
	if s.oneTarget() && s.shares > 0 {
		fmt.Fprintf(b, "  shares given: %s %% of what the house may lose, to %s", strconv.FormatFloat(math.Round(s.share*1e4)/100, 'f', -1, 64), plural(s.shares, "door", "doors"))
		if s.overShared() {
			b.WriteString("; that is more than there is: not all of these doors may take their share")
		}
		b.WriteString("\n")
	}
}

// overShared says whether the doors of one house have more than all of it between them.
func (s *houseSum) overShared() bool { return s.share > 1+1e-9 }

func (s *houseSum) sums(b *strings.Builder) {
	litres := flowUnit{"L/s", 1000}
	fmt.Fprintf(b, "  at 50 Pa: %s L/s", inline(s.at50, litres.per))
	switch {
	case s.oneTarget():
		fmt.Fprintf(b, ", %s %% of the %s that the house may lose", inline(s.part, 100), flowWords(s.whole, litres))
	case s.differ:
		b.WriteString("; the doors name different targets of the house, so no share is told")
	case s.whole > 0:
		b.WriteString("; not every door names the target of the house, so no share is told")
	case s.wholes > 0:
		b.WriteString("; the house may lose nothing")
	}
	fmt.Fprintf(b, "\n  as at 4 Pa: %s cm2; heat: %s W/K", inline(s.area, 1e4), inline(s.heat, 1))
	if !s.withoutYearly {
		fmt.Fprintf(b, ", %s kWh a year", inline(s.yearly, 1))
	}
	b.WriteString("\n")
}

type houseSumJSON struct {
	Doors    int        `json:"doors"`
	Failing  int        `json:"no_option_complies"`
	Unknown  int        `json:"leakage_not_known"`
	Unlisted int        `json:"by_listed_paths"`
	Unsaid   int        `json:"location_not_said"`
	At50     *flowJSON  `json:"leakage_50"`
	Whole    *float64   `json:"whole_lps"`
	Shares   *float64   `json:"shares"`
	Part     *rangeJSON `json:"part"`
	Area     *rangeJSON `json:"area_4_pa_cm2"`
	Heat     *rangeJSON `json:"heat_w_per_k"`
	Yearly   *rangeJSON `json:"heat_kwh_a"`
}

// json is nil where no door asks anything of the house.
func (s *houseSum) json() *houseSumJSON {
	if !s.asked() {
		return nil
	}
	out := &houseSumJSON{Doors: s.doors, Failing: s.failing, Unknown: s.unknown, Unlisted: s.unlisted, Unsaid: s.unsaid}
	if s.oneTarget() {
		out.Whole = pointed(flowOf(doubt.Exactly(s.whole)).Flow)
		if s.shares > 0 {
			out.Shares = pointed(threeFigures(s.share, math.Ceil))
		}
	}
	if s.doors == 0 {
		return out
	}
	out.At50, out.Area, out.Heat = pointed(flowOf(s.at50)), pointed(ranged(s.area, 1e4)), pointed(ranged(s.heat, 1))
	if s.oneTarget() {
		out.Part = pointed(ranged(s.part, 1))
	}
	if !s.withoutYearly {
		out.Yearly = pointed(ranged(s.yearly, 1))
	}
	return out
}
