package oracle

// pending are rulebooks that are still being written; one that exists must leave this list.
var pending []string

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
var known []disagreement

// disagreement is one that is known, and the doors that may show it.
type disagreement struct {
	book string // one that shows it
	why  string
	here func(rule string, ours, theirs verdict, d door) bool
}
