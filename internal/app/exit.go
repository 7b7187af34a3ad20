package app

import (
	"context"
	"errors"
	"fmt"
	"io"
)

// Exit statuses.
const (
	Done       = 0
	Failed     = 1 // nothing written for that job
	WrongUsage = 2
	Exceptions = 3 // done, with exceptions that need a person
)

// usageError is a wrong command line.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// exitError carries a status other than Failed through cobra.
type exitError struct {
	status int
}

func (e exitError) Error() string { return fmt.Sprintf("exit status %d", e.status) }

// manyErrors are faults of one file, told one line each.
type manyErrors []error

func (m manyErrors) Error() string { return errors.Join(m...).Error() }

// report prints err, one line a fault, and returns the exit status.
func status(err error, stderr io.Writer) int {
	var exit exitError
	var usage usageError
	switch {
	case err == nil:
		return Done
	case errors.As(err, &exit):
		return exit.status
	case errors.As(err, &usage):
		fmt.Fprintf(stderr, "boardrun: %v\n", usage.error)
		return WrongUsage
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "boardrun: stopped before it was done; files written earlier are as they were")
		return Failed
	}
	var many manyErrors
	if errors.As(err, &many) {
		for _, e := range many {
			fmt.Fprintln(stderr, e)
		}
		return Failed
	}
	fmt.Fprintln(stderr, err)
	return Failed
}
