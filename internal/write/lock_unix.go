//go:build darwin || dragonfly || freebsd || illumos || linux || netbsd || openbsd

package write

import (
	"errors"
	"os"
	"syscall"
)

// takeLock takes the lock named and returns the open file that holds it. The
// system frees the lock when the program ends, however it ends: a file left by a
// killed program holds nothing, and is taken over. errHeld if another has it.
func takeLock(name string) (*os.File, error) {
	for {
		_, before := os.Lstat(name)
		f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR|syscall.O_NOFOLLOW, 0o666)
		if err != nil {
			return nil, err
		}
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case errors.Is(err, syscall.EWOULDBLOCK):
			f.Close()
			return nil, errHeld
		case errors.Is(err, syscall.EINTR):
			f.Close()
			continue
		case err != nil && before == nil:
			// Some network folders know no locks: there the file itself is the lock.
			f.Close()
			return nil, errHeld
		}
		// Whoever held it may have removed the file between our opening it and
		// our locking it; then ours is a lock nobody else can see.
		here, err := f.Stat()
		if err == nil {
			if there, e := os.Lstat(name); e == nil && os.SameFile(here, there) {
				return f, nil
			}
		}
		f.Close()
	}
}

// freeLock removes the file while it is still locked, so that nobody can lock
// what is about to vanish and believe to hold the folder.
func freeLock(f *os.File) {
	os.Remove(f.Name())
	f.Close()
}
