package cli

import (
	"testing"
	"time"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
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
	for _, args := range [][]string{
		{"--project", "a", "--no-project"}, {"--project", ""}, {"--as-of", ""}, {"--as-of", "2027-02-29"}, {"--as-of", "tomorrow"}, {"--as-of", "2027-6-1"}, {"--as-of", " 2027-06-01"},
	} {
		if flagsOf(t, args).known() == nil {
			t.Errorf("%q is taken", args)
		}
	}
	for _, args := range [][]string{{}, {"--project", "a", "--as-of", "2028-02-29"}, {"--no-project"}} {
		if err := flagsOf(t, args).known(); err != nil {
			t.Errorf("%q: %v", args, err)
		}
	}
}

func flagsOf(t *testing.T, args []string) *projectFlags {
	t.Helper()
	var f projectFlags
	cmd := &cobra.Command{}
	f.add(cmd)
	if err := cmd.ParseFlags(args); err != nil {
		t.Fatal(err)
	}
	return &f
}

// The exit code rests on what stands in the way, with what is accepted left out.
func TestCodeOfAccepted(t *testing.T) {
	option := func(verdict, standing string) assess.Option {
		return assess.Option{Verdict: verdict, Standing: standing}
	}
	for _, c := range []struct {
		r              assess.Result
		code, allowing int
	}{
		{assess.Result{Verdict: assess.Fails, Standing: assess.Complies, CanOrder: true}, ExitOrder, ExitOrder},
		{assess.Result{Verdict: assess.Fails, Standing: assess.Unproven}, ExitFinding, ExitOrder}, // the failure is accepted, what is unknown is allowed
		{assess.Result{Verdict: assess.Fails, Standing: assess.Fails}, ExitFinding, ExitFinding},
		{assess.Result{Verdict: assess.Complies, Standing: assess.Complies, Options: []assess.Option{option(assess.Fails, assess.Fails)}}, ExitFinding, ExitFinding},
		{assess.Result{Verdict: assess.Complies, Standing: assess.Complies, Options: []assess.Option{option(assess.Fails, assess.Unproven)}}, ExitFinding, ExitOrder},
	} {
		if code, allowing := codeOf(&c.r, false), codeOf(&c.r, true); code != c.code || allowing != c.allowing {
			t.Errorf("%+v: exit %d, allowing what is unproven %d", c.r, code, allowing)
		}
	}
}
