package render

import (
	"strings"
	"testing"

	"sillwright/engine"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// The angles of two options are cut where either changes, and joined where neither does: by hand.
func TestStretched(t *testing.T) {
	over := func(from, to quantity.Angle, measured bool) engine.Opening {
		at := func(a quantity.Angle) door.Maybe[quantity.Angle] {
			return door.Maybe[quantity.Angle]{Value: a * quantity.Degree, Known: a >= 0}
		}
		return engine.Opening{From: at(from), To: at(to), Measured: measured}
	}
	a := []engine.Opening{over(0, 30, false), over(30, 60, true), over(60, 90, false)}
	b := []engine.Opening{over(0, 90, false), over(45, 45, true), over(-1, -1, true)}
	c := []engine.Opening{over(10, 30, false)}
	say := func(a, b []engine.Opening) string {
		var out []string
		for _, s := range stretched(a, b) {
			side := func(x *engine.Opening) string {
				if x == nil {
					return "-"
				}
				return angles(*x)
			}
			out = append(out, angles(s.over)+": "+side(s.a)+" | "+side(s.b))
		}
		return strings.Join(out, "; ")
	}
	for want, pair := range map[string][2][]engine.Opening{
		"0 to 30 deg: 0 to 30 deg | 0 to 90 deg; 30 to 60 deg: 30 to 60 deg | 0 to 90 deg; 60 to 90 deg: 60 to 90 deg | 0 to 90 deg; at 45 deg: - | at 45 deg; ? to ? deg: - | ? to ? deg": {a, b},
		"0 to 10 deg: 0 to 30 deg | -; 10 to 30 deg: 0 to 30 deg | 10 to 30 deg; 30 to 60 deg: 30 to 60 deg | -; 60 to 90 deg: 60 to 90 deg | -":                                           {a, c},
		"0 to 90 deg: 0 to 90 deg | 0 to 90 deg; at 45 deg: at 45 deg | at 45 deg; ? to ? deg: ? to ? deg | ? to ? deg":                                                                    {b, b},
		"0 to 90 deg: 0 to 90 deg | -; at 45 deg: at 45 deg | -; ? to ? deg: ? to ? deg | -":                                                                                               {b, nil},
		"0 to 90 deg: 0 to 90 deg | 0 to 90 deg": {b[:1], []engine.Opening{over(0, 90, true)}},
		"":                                       {nil, nil},
		"0 to 90 deg: - | 0 to 90 deg":           {nil, []engine.Opening{over(0, 90, false), over(30, 60, true)}},
	} {
		if got := say(pair[0], pair[1]); got != want {
			t.Errorf("%s\nwant %s", got, want)
		}
	}
	row := stretched(a, b)[0]
	if text := opened(row.b, row, 1); !strings.HasSuffix(text, "; the most from 0 to 90 deg") {
		t.Errorf("%s", text)
	}
	if text := opened(row.a, row, 1); strings.Contains(text, "the most") {
		t.Errorf("%s", text)
	}
}
