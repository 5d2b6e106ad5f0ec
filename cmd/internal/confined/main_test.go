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
