//go:build !linux

package confined

// confine leaves the bound on memory to the watch.
func confine(uint64) {}
