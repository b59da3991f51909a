//go:build unix

package main

import (
	"math"
	"syscall"
)

// openFiles is how many files this process may have open. Go itself raises the soft limit to the hard one when it starts.
func openFiles() int {
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &limit); err != nil {
		return math.MaxInt32 // not known: as if there were none
	}
	return int(min(uint64(limit.Cur), math.MaxInt32)) //nolint:unconvert // Cur is of another type on some systems
}
