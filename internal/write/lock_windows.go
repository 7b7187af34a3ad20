package write

import (
	"os"
	"syscall"
)

// errorSharingViolation is ERROR_SHARING_VIOLATION of winerror.h.
const errorSharingViolation = syscall.Errno(32)

// takeLock takes the lock named: a file opened for nobody else. The system
// closes it when the program ends, so that a file left by a killed program is
// taken over. errHeld if another has it.
func takeLock(name string) (*os.File, error) {
	path, err := syscall.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	h, err := syscall.CreateFile(path, syscall.GENERIC_READ|syscall.GENERIC_WRITE, 0, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	switch {
	case err == errorSharingViolation:
		return nil, errHeld
	case err != nil:
		return nil, &os.PathError{Op: "open", Path: name, Err: err}
	}
	return os.NewFile(uintptr(h), name), nil
}

func freeLock(f *os.File) {
	f.Close()
	os.Remove(f.Name())
}
