package job

import (
	"fmt"
	"slices"
	"strings"
)

// Error is one fault of a job file: where, what is wrong, what to do.
type Error struct {
	File      string
	Line, Col int // 1-based; Col counts characters. 0: the file as a whole
	Msg       string
}

func (e *Error) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("%s: %s", e.File, e.Msg)
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.Msg)
}

// Errors is every fault found, by position; never empty. As an error it is one
// line per fault.
type Errors []*Error

func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the single errors to errors.As.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}

// mostErrors is how many faults are reported at once; more would hide the
// first.
const mostErrors = 20

// sorted returns es by position, one of equals, at most mostErrors.
func (es Errors) sorted() Errors {
	out := slices.Clone(es)
	slices.SortStableFunc(out, func(a, b *Error) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Col - b.Col
	})
	out = slices.CompactFunc(out, func(a, b *Error) bool { return *a == *b })
	if len(out) > mostErrors {
		rest := len(out) - mostErrors
		out = append(out[:mostErrors:mostErrors], &Error{File: out[0].File, Msg: fmt.Sprintf("and %d more faults", rest)})
	}
	return out
}
