//go:build !(darwin || dragonfly || freebsd || illumos || linux || netbsd || openbsd || windows)

package write

import "os"

// takeLock makes the file named, which is the lock; one left by a killed program
// has to be deleted by a person. errHeld if it is there.
func takeLock(name string) (*os.File, error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
	if os.IsExist(err) {
		return nil, errHeld
	}
	return f, err
}

func freeLock(f *os.File) {
	f.Close()
	os.Remove(f.Name())
}
