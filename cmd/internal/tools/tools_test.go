package tools

import (
	"fmt"
	"path/filepath"
	"testing"
)

// spy stands for a test, and keeps how it ended.
type spy struct {
	testing.TB
	ended string
}

func (*spy) Helper() {}

func (s *spy) Fatalf(format string, args ...any) {
	s.ended = "failed: " + fmt.Sprintf(format, args...)
	panic(s)
}

func (s *spy) Skipf(format string, args ...any) {
	s.ended = "skipped: " + fmt.Sprintf(format, args...)
	panic(s)
}

func TestNeed(t *testing.T) {
	const missing = `no-such-program is not installed: exec: "no-such-program": executable file not found in $PATH`
	for _, c := range []struct{ all, program, path, ended string }{
		{"", "go", "go", ""},
		{"1", "go", "go", ""},
		{"", "no-such-program", "", "skipped: " + missing},
		{"1", "no-such-program", "", "failed: SILLWRIGHT_ALL_TOOLS is set and " + missing},
	} {
		t.Setenv(All, c.all)
		s, path := &spy{}, ""
		func() {
			defer func() {
				if r := recover(); r != nil && r != s {
					panic(r)
				}
			}()
			path = filepath.Base(Need(s, c.program))
		}()
		if path != c.path || s.ended != c.ended {
			t.Errorf("%q, %s: %q, %q", c.all, c.program, path, s.ended)
		}
	}
}
