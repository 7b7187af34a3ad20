//go:build unix

package main

import (
	"os"
	"runtime"
	"syscall"
)

// peakMB is the most memory that an ended process held, in MB.
func peakMB(s *os.ProcessState) float64 {
	u, ok := s.SysUsage().(*syscall.Rusage)
	switch {
	case !ok:
		return 0
	case runtime.GOOS == "darwin": // bytes there, KiB elsewhere
		return float64(u.Maxrss) / 1e6
	}
	return float64(u.Maxrss) * 1024 / 1e6
}
