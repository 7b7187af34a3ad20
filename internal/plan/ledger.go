package plan

import (
	"fmt"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Ledger is the account of one drawing: every placed entity on a mapped layer
// is used or ignored with a reason, and the sums agree.
type Ledger struct {
	Drawing string
	Read    int // placed entities on mapped layers
	Used    int
	Ignored []Reason // sorted by Reason
	// Length of wall-layer linework, in mm: found in the drawing and used.
	WallLineMM, WallLineUsedMM float64
}

// Reason counts the entities ignored for one reason.
type Reason struct {
	Reason string
	Count  int
}

// Balanced reports whether the ledger adds up.
func (l Ledger) Balanced() bool {
	n := l.Used
	for _, r := range l.Ignored {
		n += r.Count
	}
	return n == l.Read
}

// Severity ranks an exception.
type Severity uint8

// Severities, mildest first.
const (
	Note    Severity = iota // assumed or repaired
	Warning                 // allowed, look at it
	Person                  // left out, doubtful, or a height nobody gave: exit status 3
)

var severityNames = [...]string{"note", "warning", "person"}

func (s Severity) String() string { return severityNames[s] }

// Exception is one thing a person may have to know: collected, never printed
// where it was found.
type Exception struct {
	Severity Severity
	Code     string // stable kebab-case word of Codes
	Message  string // what is wrong
	Did      string // what the tool did about it, and the remedy if known
	Target   string // run, face, opening or piece id it names; "" if none
	Source   Source
	At       *geom.Pt    // place in the drawing
	Span     geom.Length // length concerned: doubts are ranked by it
}

// String prints the exception on one line: file, line, entity, layer, place,
// what is wrong, what was done. The place is told in metres.
func (e Exception) String() string { return e.In(measure.Metric) }

// In is String with the place told as people of a system write it.
func (e Exception) In(sys measure.System) string {
	var b strings.Builder
	if e.Source.File != "" {
		b.WriteString(e.Source.File)
		if e.Source.Line > 0 {
			fmt.Fprintf(&b, ":%d", e.Source.Line)
		}
		b.WriteString(": ")
	}
	fmt.Fprintf(&b, "%s [%s] ", e.Severity, e.Code)
	var where []string
	if e.Source.Ref != "" {
		where = append(where, strings.TrimSpace(e.Source.Entity+" "+e.Source.Ref))
	}
	if e.Source.Layer != "" {
		where = append(where, "layer "+e.Source.Layer)
	}
	if e.At != nil {
		if sys == measure.Metric {
			where = append(where, fmt.Sprintf("at (%.3f, %.3f) m", e.At.X.Metres(), e.At.Y.Metres()))
		} else {
			where = append(where, fmt.Sprintf("at (%s, %s)", measure.FeetInches(e.At.X), measure.FeetInches(e.At.Y)))
		}
	}
	if e.Target != "" {
		where = append(where, e.Target)
	}
	if len(where) > 0 {
		b.WriteString(strings.Join(where, ", ") + ": ")
	}
	b.WriteString(e.Message)
	if e.Did != "" {
		b.WriteString("; " + e.Did)
	}
	return b.String()
}
