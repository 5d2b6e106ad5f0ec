package confined

import (
	"os"
	"testing"
)

// The process is the program itself, which here is that of the tests.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == Argument {
		Serve()
	}
	os.Exit(m.Run())
}

// unraced leaves a test out under the race detector, which takes several times the time and memory that the process is bounded in.
func unraced(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("the race detector takes several times what the process is bounded in")
	}
}
