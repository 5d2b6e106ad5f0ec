package tools

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// StockOPA builds the opa program that cmd/tools.mod pins, once, and gives its path. A short run skips the test.
func StockOPA(t testing.TB) string {
	t.Helper()
	if testing.Short() {
		t.Skip("building stock OPA takes most of a minute the first time")
	}
	root, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		t.Fatal(err)
	}
	mod := filepath.Join(strings.TrimSpace(string(root)), "cmd", "tools.mod")
	path, err := exec.Command("go", "tool", "-modfile="+mod, "-n", "opa").Output()
	if err != nil {
		t.Fatalf("building stock OPA: %v", err)
	}
	return strings.TrimSpace(string(path))
}
