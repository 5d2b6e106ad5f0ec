package main

import (
	"os"
	"syscall"
)

// peakOf is the most memory that a process had, which Linux gives in kilobytes of 1024.
func peakOf(p *os.ProcessState) int64 {
	if usage, ok := p.SysUsage().(*syscall.Rusage); ok {
		return usage.Maxrss * 1024
	}
	return 0
}
