package oracle

// pending are rulebooks that are still being written; one that exists must leave this list.
var pending = []string{"us-a117-2017", "us-ibc-2018", "us-irc-2018", "us-fha-1991", "us-ca-cbc-2022", "uk-adm1-2015", "uk-adm2-2015", "uk-adc-2004"}

// never are outcomes that a rule cannot have.
var never = map[string][]verdict{
	"us-ada-2010/threshold-profile": {notApplicable}, // to name the rulebook says that it applies
}

// known are disagreements that were looked into and stand open: where they may be, and why.
// One that no door shows any more fails the test, and has to leave the list.
var known = []disagreement{
	{"a profile known in part that is too high already fails for the judge; sillwright asks for the rest first",
		func(rule string, ours, theirs verdict, d door) bool {
			return d.drawn && !measured(d) && ours == fail && theirs == unknown
		}},
	{"5/8 in (16 mm) for the latch stop, ADA 404.2.3 Exception 1: what lies between the inch and its looser rounding fails",
		func(rule string, ours, theirs verdict, d door) bool {
			least := inch(32, 1)
			if rule == "us-ada-2010/clear-width-deep" {
				least = inch(36, 1)
			}
			return ours == unknown && theirs == fail && d.work != "new" && d.work != "existing" && d.clear.v != nil &&
				!below(d.clear.v, minus(least, mm("16"))) && below(d.clear.v, minus(least, inch(5, 8)))
		}},
}

// disagreement is one that is known, and the doors that may show it.
type disagreement struct {
	why  string
	here func(rule string, ours, theirs verdict, d door) bool
}
