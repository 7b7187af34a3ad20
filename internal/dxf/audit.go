package dxf

import "fmt"

// Finding is one kind of damage met while reading, with where it was first met
// and how often.
type Finding struct {
	Code    string // kebab-case word: "bad-group-code", "lines-out-of-step", "value-cut", "bad-binary-code", "read-fault"
	Line    int    // first line concerned, 0 in a binary file
	Offset  int64  // first byte concerned, in a binary file
	Count   int
	Example string // the first offending value, cut short
	Did     string
}

// audit keeps one finding per code, in the order first met: a file of a million
// bad lines costs no memory.
type audit []Finding

func (a *audit) add(f Finding) {
	for i := range *a {
		if (*a)[i].Code == f.Code {
			(*a)[i].Count++
			return
		}
	}
	f.Count = 1
	*a = append(*a, f)
}

// Audit returns what was repaired or passed over so far.
func (s *Scanner) Audit() []Finding { return append([]Finding(nil), s.audit...) }

// Offset returns the place in the file behind the current pair, in bytes; of a
// UTF-16 file, in bytes of its UTF-8 form.
func (s *Scanner) Offset() int64 { return s.base + int64(s.pos) }

// Where names the current place for a message: "plan.dxf:12", or
// "plan.dxf:byte 345" in a binary file.
func (s *Scanner) Where() string {
	if s.binary {
		return fmt.Sprintf("%s:byte %d", s.name, s.Offset())
	}
	return fmt.Sprintf("%s:%d", s.name, s.Line)
}
