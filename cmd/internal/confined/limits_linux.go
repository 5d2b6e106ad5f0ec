package confined

import "golang.org/x/sys/unix"

// confine lets the system refuse what the process has no use for: more memory, files that grow, and dumps of its memory. A bound that
// cannot be set is left to the watch.
func confine(most uint64) {
	for resource, bound := range map[int]uint64{unix.RLIMIT_DATA: most, unix.RLIMIT_FSIZE: 0, unix.RLIMIT_CORE: 0} {
		var now unix.Rlimit
		if unix.Getrlimit(resource, &now) != nil || now.Max < bound {
			continue
		}
		_ = unix.Setrlimit(resource, &unix.Rlimit{Cur: bound, Max: bound})
	}
}
