package cli

import (
	"testing"
	"time"
)

// The day is the one given, else that of SOURCE_DATE_EPOCH as reproducible-builds.org specifies it (seconds since the Unix epoch; a
// malformed value is an error), else today; always in UTC, where a day may be another than here.
func TestDay(t *testing.T) {
	now := time.Date(2027, 6, 30, 23, 30, 0, 0, time.FixedZone("west", -3600)) // 00:30 on the next day in UTC
	for _, c := range []struct{ flag, epoch, want string }{
		{"", "", "2027-07-01"}, {"2026-01-02", "", "2026-01-02"}, {"2026-01-02", "0", "2026-01-02"}, {"", "0", "1970-01-01"}, {"", "86399", "1970-01-01"}, {"", "86400", "1970-01-02"},
		{"", "951782400", "2000-02-29"}, {"", "253402300799", "9999-12-31"}, // by date -u -d @951782400 and @253402300799
		{"", "253402300800", ""}, {"", "-1", ""}, {"", "today", ""}, {"", "1.5", ""}, {"", " 1", ""}, {"", "99999999999999999999", ""},
	} {
		t.Setenv("SOURCE_DATE_EPOCH", c.epoch)
		f := projectFlags{asOf: c.flag}
		if got, err := f.day(now); got != c.want || (err != nil) != (c.want == "") {
			t.Errorf("%+v: %q, %v", c, got, err)
		}
	}
}

func TestProjectFlags(t *testing.T) {
	for _, f := range []projectFlags{{project: "a", noProject: true}, {asOf: "2027-02-29"}, {asOf: "tomorrow"}, {asOf: "2027-6-1"}, {asOf: " 2027-06-01"}} {
		if f.known() == nil {
			t.Errorf("%+v", f)
		}
	}
	for _, f := range []projectFlags{{}, {project: "a", asOf: "2028-02-29"}, {noProject: true}} {
		if err := f.known(); err != nil {
			t.Errorf("%+v: %v", f, err)
		}
	}
}
