package oracle

import (
	"slices"
	"strings"
)

// pending are rulebooks that are still being written; one that exists must leave this list.
var pending = []string{"uk-adm1-2015", "uk-adm2-2015", "uk-adc-2004"}

// never are outcomes that a rule cannot have: to name one of these rulebooks says that
// it applies, and the rule speaks of every door.
var never = map[string][]verdict{
	"us-ada-2010/threshold-profile":    {notApplicable},
	"us-a117-2017/threshold-profile":   {notApplicable},
	"us-ibc-2018/threshold-profile":    {notApplicable},
	"us-ca-cbc-2022/threshold-profile": {notApplicable},
	"us-fha-1991/clear-width":          {notApplicable},
	"uk-adm2-2015/clear-width":         {notApplicable},
}

// known are disagreements that were looked into and stand open: where they may be, and why.
// One that no door shows any more fails the test, and has to leave the list.
var known = []disagreement{
	{"us-ada-2010", "a profile known in part that is too high already fails for the judge; sillwright asks for the rest first",
		func(rule string, ours, theirs verdict, d door) bool {
			return d.drawn && !measured(d) && ours == fail && theirs == unknown
		}},
	{"us-ada-2010", "5/8 in (16 mm, California 15.9) for the latch stop, 404.2.3 Exception 1: what lies between the inch and its looser rounding fails",
		func(rule string, ours, theirs verdict, d door) bool {
			least := inch(32, 1)
			if strings.HasSuffix(rule, "-deep") {
				least = inch(36, 1)
			}
			return strings.Contains(rule, "/clear-width") && ours == unknown && theirs == fail && d.work != "new" && d.work != "existing" &&
				d.clear.v != nil && !below(d.clear.v, minus(least, mm("16"))) && below(d.clear.v, minus(least, inch(5, 8)))
		}},
	{"us-irc-2018", "IRC R311.3.2 Exception: with at most two risers outside no landing is asked for; sillwright fails what is lower than 7 3/4 in",
		func(rule string, ours, theirs verdict, d door) bool {
			return rule == "us-irc-2018/other-landing-outside" && ours == unknown && theirs == fail
		}},
	{"uk-adm1-2015", "AD M 1 Appendix A, \"chamfered\": sillwright passes a rounded upstand above 5 mm at the entrance of an M4(1) dwelling, by its exception for a step, without any step",
		func(rule string, ours, theirs verdict, d door) bool {
			return rule == "uk-adm1-2015/threshold" && ours == unknown && theirs == pass && d.role != "communal-entrance" &&
				slices.ContainsFunc(d.profile, func(p part) bool { return p.nose == "rounded" })
		}},
	{"uk-adm1-2015", "AD M 1 1.14(c): a square face of 7 mm at the foot may be the step of at most 150 mm as one of 16 mm may; sillwright fails the lower one",
		func(rule string, ours, theirs verdict, d door) bool {
			return rule == "uk-adm1-2015/threshold" && ours == unknown && theirs == fail && d.role != "communal-entrance" && aboveStep(d) != fail
		}},
	{"us-ada-2010", "stacked lips in a channel: for the judge a dip starts no new allowance (303.3); sillwright lets every fall, however small, begin a new climb",
		func(rule string, ours, theirs verdict, d door) bool {
			return strings.HasSuffix(rule, "/threshold-profile") && ours != pass && theirs != fail && stackedInADip(d)
		}},
	{"us-ada-2010", "a reading of which an angle is not known, its force above the limit or not known: the judge asks for it, sillwright does not hear it",
		func(rule string, ours, theirs verdict, d door) bool {
			return strings.Contains(rule, "force") && ours == unknown && theirs == pass && slices.ContainsFunc(d.forces, func(r reading) bool {
				return r.from.v == nil || r.to.v == nil
			})
		}},
}

// stackedInADip is true of a profile that on one side rises, falls and rises again while
// it is below that side's floor.
func stackedInADip(d door) bool {
	for _, inside := range []bool{false, true} {
		rose, fell := false, false
		for _, s := range walk(d.profile, inside) {
			switch {
			case s.to == nil:
			case s.rise.Sign() < 0 && minus(s.to, s.rise).Sign() >= 0:
				rose, fell = false, false // another dip
			case s.rise.Sign() < 0:
				fell = rose
			case s.rise.Sign() > 0 && fell:
				return true
			case s.rise.Sign() > 0:
				rose = true
			}
		}
	}
	return false
}

// disagreement is one that is known, and the doors that may show it.
type disagreement struct {
	book string // one that shows it
	why  string
	here func(rule string, ours, theirs verdict, d door) bool
}
