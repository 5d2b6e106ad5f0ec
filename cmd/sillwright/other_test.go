//go:build !unix

package main

import "github.com/rogpeppe/go-internal/testscript"

// makeFifo is for scripts that stop before it where there are no pipes with a name.
func makeFifo(ts *testscript.TestScript, _ bool, _ []string) { ts.Fatalf("no pipes with a name here") }
