// Package tools is for tests that hold the program against other programs: git, a validator of XML, a runner of jobs.
// The suite passes without them. Where they are installed on purpose, as .ci/run does, nothing may be passed over
// unseen: there All is set, and a missing one fails.
package tools

import (
	"os"
	"os/exec"
	"testing"
)

// All is the environment variable that makes a missing program fail its tests. Any value but an empty one counts.
const All = "SILLWRIGHT_ALL_TOOLS"

// Need gives the path of a program. Where there is none it skips the test, or fails it if All is set.
func Need(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	switch {
	case err == nil:
		return path
	case os.Getenv(All) != "":
		t.Fatalf("%s is set and %s is not installed: %v", All, program, err)
	}
	t.Skipf("%s is not installed: %v", program, err)
	return ""
}
