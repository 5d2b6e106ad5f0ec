package fit

import (
	"fmt"
	"math"
	"slices"

	"sillwright/engine/regress"
)

// readBlank finds what the rig leaks at the drops of the test: as read, where it was read at the same drops, else by its own power law.
func (n *net) readBlank(r Readings) {
	b := netOf(r, true)
	if n.refused = append(n.refused, ofBlank(b.refused)...); len(n.refused) > 0 {
		return
	}
	if b.turned != n.turned {
		n.refuse("direction", -1, "a blank test with pressures of the other sign", "one direction for both", "test the rig blank the same way round")
		return
	}
	if at, ok := beside(n.drops, b.drops); ok {
		for _, i := range at {
			n.blanks = append(n.blanks, b.flows[i])
		}
		return
	}
	switch open := slices.ContainsFunc(b.flows, func(q float64) bool { return q > 0 }); {
	case !open: // a tight rig
		n.blanks = make([]float64, len(n.drops))
		return
	case slices.Contains(b.flows, 0):
		n.refuse("blank-flow", -1, "a blank test with flows of 0 at some pressures, which are not those of the test", "flows above 0, or the pressures of the test", "test the rig at the pressures of the test")
		return
	}
	b.checkSpread()
	if len(b.refused) == 0 {
		law, line := powerOf(b.drops, b.flows)
		b.rises(law)
		n.blankLaw, n.blankDrops, n.blankVariance = &law, b.drops, line.Variance
	}
	n.notes, n.refused = append(n.notes, ofBlank(b.notes)...), append(n.refused, ofBlank(b.refused)...)
	if len(n.refused) > 0 {
		return
	}
	for _, dp := range n.drops {
		n.blanks = append(n.blanks, n.blankLaw.C*math.Pow(dp, n.blankLaw.N))
	}
	if least, most := slices.Min(b.drops), slices.Max(b.drops); slices.Min(n.drops) < 0.9*least || slices.Max(n.drops) > 1.1*most {
		n.warn("blank-span", -1, fmt.Sprintf("a blank test at %.4g to %.4g Pa", least, most), fmt.Sprintf("%.4g to %.4g Pa, as the seal was tested", slices.Min(n.drops), slices.Max(n.drops)), "test the rig over the same pressures")
	}
}

// ofBlank says that notes are about the test of the rig.
func ofBlank(notes []Note) []Note {
	out := slices.Clone(notes)
	for i := range out {
		out[i].ID, out[i].Reading, out[i].Found = "blank-"+out[i].ID, -1, "in the blank test "+out[i].Found
	}
	return out
}

// beside gives for each drop the reading of the rig at the same one, within a thousandth.
func beside(drops, others []float64) ([]int, bool) {
	var at []int
	for _, dp := range drops {
		i := slices.IndexFunc(others, func(o float64) bool { return math.Abs(o-dp) <= 1e-3*dp })
		if i < 0 {
			return nil, false
		}
		at = append(at, i)
	}
	return at, true
}

// checkBlank holds the difference against its error at each drop: by the scatter of both about their own power laws,
//
//	u_i^2 = (s Q_i)^2 + (s_b B_i)^2,  difference Q_i - B_i, limits +- t u_i
//
// s and s_b the standard deviations of ln Q and ln B about their lines; s stands for s_b where the rig passes nothing at some drop.
func (n *net) checkBlank() {
	_, line := powerOf(n.drops, n.whole)
	s := math.Sqrt(line.Variance)
	other, freedom := s, float64(line.Freedom)
	if n.blankLaw != nil {
		other = math.Sqrt(n.blankVariance)
	} else if !slices.ContainsFunc(n.blanks, func(b float64) bool { return !(b > 0) }) {
		_, own := powerOf(n.drops, n.blanks)
		other = math.Sqrt(own.Variance)
	}
	t, within, worst := regress.Student(freedom), 0, 0
	for i, q := range n.flows {
		b := n.blanks[i]
		if b < 0 {
			n.refuse("blank", i, fmt.Sprintf("a blank flow of %.4g m3/s", b), "0 or more", "check the sign")
			return
		}
		if b/n.whole[i] > n.blanks[worst]/n.whole[worst] {
			worst = i
		}
		if u := math.Hypot(s*n.whole[i], other*b); q <= t*u || q <= rounding*n.whole[i] {
			within++
		}
	}
	share := 100 * n.blanks[worst] / n.whole[worst]
	found := fmt.Sprintf("a rig that passes %.0f %% of the flow by itself at %.4g Pa", share, n.drops[worst])
	switch {
	case within == len(n.flows) || share >= 100-1e-7:
		n.refuse("blank", -1, fmt.Sprintf("%s: taped and untaped do not differ beyond their error at %d of %s", found, within, counted(len(n.flows), "reading")),
			"a difference larger than its error", "tape the rig tighter, take a longer piece of seal, or a finer meter")
	case within > 0:
		n.warn("blank", -1, fmt.Sprintf("%s: taped and untaped do not differ beyond their error at %d of %s", found, within, counted(len(n.flows), "reading")), "a difference larger than its error", "tape the rig tighter, or take a longer piece of seal")
	case share > 50:
		n.warn("blank", -1, found, "at most half of it: what is left is a small difference of large figures", "tape the rig tighter, or take a longer piece of seal")
	}
}

// blankMoves is how one standard deviation of the law of the rig moves each ln q, once by its level at the middle of its readings and once
// by its slope, which have nothing to do with each other: d ln q = -(B/q) d ln B.
func (n *net) blankMoves() (moves [][]float64, freedom float64) {
	line := regress.Straight(logs(n.blankDrops), make([]float64, len(n.blankDrops)), nil)
	level, slope := math.Sqrt(n.blankVariance/line.Weight), math.Sqrt(n.blankVariance/line.Spread)
	byLevel, bySlope := make([]float64, len(n.drops)), make([]float64, len(n.drops))
	for i, dp := range n.drops {
		share := n.blanks[i] / n.flows[i]
		byLevel[i], bySlope[i] = -share*level, -share*slope*(math.Log(dp)-line.Mean)
	}
	return [][]float64{byLevel, bySlope}, float64(line.Freedom)
}
