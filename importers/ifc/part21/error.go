package part21

import (
	"fmt"
	"strings"
)

// Error is a fault of a file on one line: where, what is wrong, what to do.
type Error struct {
	File string
	Line int // 0 if not known
	ID   ID  // 0 if it concerns no instance
	Msg  string
	Do   string // remedy; may be empty
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.ID != 0 {
		fmt.Fprintf(&b, "%s: ", e.ID)
	}
	b.WriteString(e.Msg)
	if e.Do != "" {
		b.WriteString("; " + e.Do)
	}
	return b.String()
}
