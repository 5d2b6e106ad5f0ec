package assess

import (
	"testing"

	"sillwright/policies"
)

var (
	height = policies.Quantity{ID: "threshold-height", Title: "threshold height", Kind: "length"}
	under  = policies.Quantity{ID: "bottom-gap", Title: "gap", Kind: "length", LessWith: "threshold-height"}
)

const millimetre = 1_000_000

// bound in tenths of a millimetre; here below zero: not known.
func bound(q policies.Quantity, book string, atLeast bool, limit, here int64) policies.Bound {
	b := policies.Bound{Quantity: q, Rulebook: book, AtLeast: atLeast, Limit: limit * millimetre / 10}
	if here >= 0 {
		here *= millimetre / 10
		b.Measured = &here
		b.Met = (atLeast && here >= b.Limit) || (!atLeast && here <= b.Limit)
	}
	return b
}

func TestConflicts(t *testing.T) {
	for name, c := range map[string]struct {
		bounds      []policies.Bound
		least, most int64 // tenths of a millimetre; -1: none
		none, no    bool  // no value meets all; no conflict
	}{
		// IBC 2018 1010.1.7 and 2010 ADA Standards 404.2.5, a sliding door of a dwelling.
		"two limits of one sense":      {bounds: []policies.Bound{bound(height, "ibc", false, 190, 180), bound(height, "ada", false, 127, 180)}, least: -1, most: 127},
		"the same limit twice":         {bounds: []policies.Bound{bound(height, "a", false, 127, 180), bound(height, "b", false, 127, 180)}, no: true},
		"two limits that are both met": {bounds: []policies.Bound{bound(height, "ibc", false, 190, 100), bound(height, "ada", false, 127, 100)}, no: true},
		"two limits of one rulebook":   {bounds: []policies.Bound{bound(height, "a", false, 190, 180), bound(height, "a", false, 127, 180)}, no: true},
		// AD M volume 1, 2.21, and AD B volume 1, 5.7, a door to a garage.
		"two that leave nothing": {bounds: []policies.Bound{bound(height, "adm", false, 150, 150), bound(height, "adb", true, 1000, 150)}, least: 1000, most: 150, none: true},
		"two that leave a range": {bounds: []policies.Bound{bound(height, "a", true, 100, 50), bound(height, "b", false, 150, 50)}, least: 100, most: 150},
		// NFPA 80, 3/4 in (19.05 mm) under the leaf, and 2010 ADA Standards 404.2.5, 1/2 in: no plate, 31.75 mm of gap, leaves one height.
		"a gap that a threshold closes": {bounds: []policies.Bound{bound(height, "ada", false, 130, 0), bound(under, "nfpa", false, 190, 320)}, least: 130, most: 130},
		"a gap too wide for it":         {bounds: []policies.Bound{bound(height, "ada", false, 127, 0), bound(under, "nfpa", false, 190, 320)}, least: 130, most: 127, none: true},
		"a threshold already there":     {bounds: []policies.Bound{bound(height, "ada", false, 127, 60), bound(under, "nfpa", false, 190, 250)}, least: 120, most: 127},
		"a gap beside an unknown":       {bounds: []policies.Bound{bound(height, "ada", false, 127, -1), bound(under, "nfpa", false, 190, 320)}, no: true},
	} {
		t.Run(name, func(t *testing.T) {
			found := conflicts("door", []policies.Finding{{Bounds: c.bounds[:1]}, {Bounds: c.bounds[1:]}}, nil)
			if c.no {
				if len(found) != 0 {
					t.Errorf("found %+v", found)
				}
				return
			}
			if len(found) != 1 || found[0].None != c.none || tenths(found[0].Least) != c.least || tenths(found[0].Most) != c.most {
				t.Errorf("found %+v; want %d to %d, none %v", found, c.least, c.most, c.none)
			}
		})
	}
}

// What a report shows as the value that a door has: the one that is worst for what bounds it.
func TestHere(t *testing.T) {
	for name, c := range map[string]struct {
		bounds []policies.Bound
		want   int64 // tenths of a millimetre; -1: not known
	}{
		"bounded from above":     {[]policies.Bound{bound(height, "a", false, 127, 100), bound(height, "b", false, 190, 180)}, 180},
		"bounded from below":     {[]policies.Bound{bound(height, "a", true, 8130, 8200), bound(height, "b", true, 8500, 8000)}, 80 * 100},
		"bounded from both ends": {[]policies.Bound{bound(height, "a", true, 100, 50), bound(height, "b", false, 150, 60)}, 60},
		"one of them not known":  {[]policies.Bound{bound(height, "a", true, 100, -1), bound(height, "b", true, 150, 60)}, 60},
		"known of another alone": {[]policies.Bound{bound(height, "a", false, 100, -1), bound(under, "b", false, 150, 60)}, -1},
	} {
		here, ok := Conflict{Quantity: height, Bounds: c.bounds}.Here()
		if got := tenths(&here); (ok && got != c.want) || ok == (c.want < 0) {
			t.Errorf("%s: %d, %v; want %d", name, got, ok, c.want)
		}
	}
}

// A threshold of 108 mm from outside and 18 mm from inside; A117.1-2017 404.2.4 limits both sides, IRC 2018 R311.3.2 each apart.
func TestConflictsOfSides(t *testing.T) {
	on := func(side string, b policies.Bound) policies.Bound {
		b.Side = side
		return b
	}
	find := func(bounds ...policies.Bound) []Conflict {
		return conflicts("door", []policies.Finding{{Bounds: bounds}}, nil)
	}
	found := find(on("inner", bound(height, "a117", false, 127, 100)), on("outer", bound(height, "a117", false, 127, 1080)),
		on("outer", bound(height, "irc", false, 1968, 1080)), on("inner", bound(height, "irc", false, 1968, 100)))
	if len(found) != 1 || found[0].Side != "outer" || len(found[0].Bounds) != 2 || tenths(found[0].Most) != 127 {
		t.Errorf("found %+v; want the outer side alone", found)
	}
	found = find(on("inner", bound(height, "ada", false, 127, 0)), on("outer", bound(height, "ada", false, 127, 0)), bound(under, "nfpa", false, 190, 315))
	if len(found) != 1 || found[0].Side != "" || tenths(found[0].Least) != 125 {
		t.Errorf("found %+v; want one for both sides", found)
	}
	found = find(on("inner", bound(height, "ada", false, 127, 0)), on("outer", bound(height, "ada", false, 127, 50)), bound(under, "nfpa", false, 190, 315))
	if len(found) != 2 || tenths(found[0].Least) != 125 || tenths(found[1].Least) != 175 || !found[1].None {
		t.Errorf("found %+v; want the gap on each side", found)
	}
}

// What is not settled yet breaks nothing, unless what is known goes beyond it.
func TestConflictsOfOpenBounds(t *testing.T) {
	for here, want := range map[int64]int{-1: 0, 180: 0, 200: 1} {
		open := bound(height, "ibc", false, 190, here)
		open.Met, open.Open = false, true
		other := bound(height, "adb", false, 250, here)
		other.Open = here < 0
		found := conflicts("door", []policies.Finding{{Bounds: []policies.Bound{open, other}}}, nil)
		if len(found) != want {
			t.Errorf("here %d: found %+v; want %d", here, found, want)
		}
	}
}

// Approved Document F volume 1, 1.25, wants 10 mm under the leaf, and BS 8214 12.3, asked of each option, 3 mm unless a seal closes it.
func TestConflictsOfAnOptionWithItsDoor(t *testing.T) {
	rule := func(id string, b policies.Bound) policies.Bound {
		b.Rule = id
		return b
	}
	door := []policies.Finding{{Bounds: []policies.Bound{rule("undercut", bound(under, "adf", true, 100, 40))}}}
	option := []policies.Finding{{Bounds: []policies.Bound{rule("threshold-gap", bound(under, "bs", false, 30, 40))}}}
	if found := conflicts("option:bare", option, door); len(found) != 1 || !found[0].None || found[0].Subject != "option:bare" {
		t.Errorf("found %+v; want that nothing meets both", found)
	}
	if found := conflicts("option:drop", nil, append(door, option...)); len(found) != 0 {
		t.Errorf("found %+v, which is not the option's", found)
	}
}

func tenths(n *int64) int64 {
	if n == nil {
		return -1
	}
	return *n * 10 / millimetre
}
