//go:build unix

package write

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
)

// deadLock reports whether the lock in dir was left by a program that no longer
// runs, and takes it over if so.
func deadLock(dir string) bool {
	name := filepath.Join(dir, lockName)
	b, err := os.ReadFile(name)
	if err != nil {
		return false
	}
	var pid int
	if _, err := fmt.Sscan(string(b), &pid); err == nil && pid > 0 && syscall.Kill(pid, 0) == nil {
		return false
	}
	return os.WriteFile(name, fmt.Appendf(nil, "%d\n", os.Getpid()), 0o666) == nil
}
