package quantity

// Scale reads and writes one kind of quantity in whole numbers of its finest unit, for whoever works with several kinds alike.
type Scale struct {
	Parse func(text string) (int64, error)
	Exact func(int64) string         // without loss and without a unit
	In    func(int64, System) string // with the unit of a system
}

// The scales of what findings measure: nm, fN, nm2, microdegrees and ns.
var (
	Lengths = Scale{
		func(text string) (int64, error) { l, err := ParseLength(text); return int64(l), err },
		func(n int64) string { return Length(n).MM() },
		func(n int64, s System) string { return Length(n).In(s) },
	}
	Forces = Scale{
		func(text string) (int64, error) { f, err := ParseForce(text); return int64(f), err },
		func(n int64) string { return Force(n).N() },
		func(n int64, s System) string { return Force(n).In(s) },
	}
	Areas = Scale{
		func(text string) (int64, error) { a, err := ParseArea(text); return int64(a), err },
		func(n int64) string { return Area(n).CM2() },
		func(n int64, s System) string { return Area(n).In(s) },
	}
	Angles = Scale{
		func(text string) (int64, error) { a, err := ParseAngle(text); return int64(a), err },
		func(n int64) string { return Angle(n).Deg() },
		func(n int64, _ System) string { return Angle(n).Deg() + " deg" },
	}
	Times = Scale{
		func(text string) (int64, error) { t, err := ParseTime(text); return int64(t), err },
		func(n int64) string { return Time(n).S() },
		func(n int64, _ System) string { return Time(n).S() + " s" },
	}
)

// Scales are by the unit that Exact leaves out.
var Scales = map[string]Scale{"mm": Lengths, "N": Forces, "cm2": Areas, "deg": Angles, "s": Times}
