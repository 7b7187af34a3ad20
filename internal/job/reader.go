package job

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// reader walks the tree of a job file and collects every fault. Its methods
// are named for what they read and return zero values where they fail, so that
// reading goes on.
type reader struct {
	file string
	sys  measure.System
	errs Errors
	job  *Job
	at   map[string]*node // where checks across the file point to: "type A", "deck 2"
	uses []use            // names used, checked when all that are defined are known
}

// use is one place that names a type, frame, board or storey.
type use struct {
	what string // "type", "frame", "board", "storey"
	name string
	at   *node
}

func (r *reader) use(what, name string, at *node) { r.uses = append(r.uses, use{what, name, at}) }

func (r *reader) failAt(line, col int, format string, args ...any) {
	r.errs = append(r.errs, &Error{File: r.file, Line: line, Col: col, Msg: fmt.Sprintf(format, args...)})
}

func (r *reader) fail(n *node, format string, args ...any) {
	r.failAt(n.line, n.col, format, args...)
}

// assume records a default that nobody gave.
func (r *reader) assume(path, value, reason string, height bool) {
	r.job.Assumed = append(r.job.Assumed, Assumption{Path: path, Value: value, Reason: reason, Height: height})
}

// fields is a mapping whose keys are known.
type fields struct {
	r    *reader
	node *node
	what string // "a wall type"
}

// fields checks that n is a mapping of no other than the known keys.
func (r *reader) fields(n *node, what string, known ...string) *fields {
	f := &fields{r, n, what}
	if n.kind != mapping {
		if n.kind != empty {
			r.fail(n, "%s is %s; write its keys (%s) under it", what, n.kind, strings.Join(known, ", "))
		}
		f.node = &node{kind: mapping, line: n.line, col: n.col}
		return f
	}
	for i, k := range n.keys {
		switch {
		case slices.Contains(known, k.text):
			if n.vals[i].kind == empty && what != jobFile && !slices.Contains(mayBeEmpty, k.text) {
				r.fail(k, "%s has no value: delete the key, or put a value that begins with # in quotes", k.text)
			}
		case r.crowded():
			r.fail(k, "unknown key %q", k.text)
		default:
			if near := rules.Nearest(k.text, known); near != "" {
				r.fail(k, "unknown key %q: did you mean %q?", k.text, near)
			} else {
				r.fail(k, "unknown key %q in %s; it takes %s", k.text, what, strings.Join(known, ", "))
			}
		}
	}
	return f
}

const jobFile = "a job file"

// mayBeEmpty are keys whose entries people comment out one by one. An empty
// value elsewhere is one that was lost: "mark: #12" is a comment to YAML.
var mayBeEmpty = []string{"layers", "blocks", "match", "rooms", "storeys", "flutes", "both", "left", "right"}

// crowded reports that more faults were found than are told: those that follow
// need no advice, which costs time.
func (r *reader) crowded() bool { return len(r.errs) > mostErrors }

// get returns the node of a key that holds something, else nil.
func (f *fields) get(key string) *node {
	n := f.node.get(key)
	if n == nil || n.kind == empty {
		return nil
	}
	return n
}

// must is get; a missing key is a fault.
func (f *fields) must(key, example string) *node {
	n := f.get(key)
	if n == nil {
		f.r.fail(f.node, "%s lacks %s, for example %s: %s", f.what, key, key, example)
	}
	return n
}

// text returns the text of a key, "" if it is not there.
func (f *fields) text(key string) string {
	if n := f.get(key); n != nil {
		return f.r.text(n)
	}
	return ""
}

// length returns a length of 0 or more, 0 if the key is not there.
func (f *fields) length(key string) Length {
	if n := f.get(key); n != nil {
		return f.r.length(n)
	}
	return 0
}

// yes returns a yes-or-no, false if the key is not there.
func (f *fields) yes(key string) bool {
	n := f.get(key)
	return n != nil && f.r.choice(n, "no", "yes", "false", "true")%2 == 1
}

// list returns the entries of a key; a single value counts as a list of one.
func (f *fields) list(key string) []*node {
	n := f.get(key)
	switch {
	case n == nil:
		return nil
	case n.kind == list:
		return n.items
	}
	return []*node{n}
}

// pairs returns keys and values of a mapping under key.
func (f *fields) pairs(key string) (keys, vals []*node) {
	n := f.get(key)
	if n == nil {
		return nil, nil
	}
	if n.kind != mapping {
		f.r.fail(n, "%s is %s; write each as name: value under it", key, n.kind)
		return nil, nil
	}
	return n.keys, n.vals
}

// text returns the words of a scalar.
func (r *reader) text(n *node) string {
	if n.kind != scalar {
		r.fail(n, "one value belongs here, not %s", n.kind)
		return ""
	}
	return strings.TrimSpace(n.text)
}

// length reads a length of 0 or more.
func (r *reader) length(n *node) Length {
	l, ok := r.signed(n)
	if ok && l < 0 {
		r.fail(n, "%q is negative; a length here is 0 or more", n.text)
		return 0
	}
	return l
}

// thickness reads a length above 0.
func (r *reader) thickness(n *node, what string) Length {
	l, ok := r.signed(n)
	if ok && l <= 0 {
		r.fail(n, "%s %q must be above 0", what, n.text)
		return 0
	}
	return l
}

// signed reads a length of either sign; the fault points at the character.
func (r *reader) signed(n *node) (Length, bool) {
	if n.kind != scalar {
		r.fail(n, "a length belongs here, not %s", n.kind)
		return 0, false
	}
	l, err := measure.Parse(n.text, r.sys)
	var pe *measure.ParseError
	if errors.As(err, &pe) {
		col := n.col + n.shift + utf8.RuneCountInString(n.text[:pe.Offset])
		r.failAt(n.line, col, "length %q: %s", n.text, pe.Msg)
		return 0, false
	}
	return l, err == nil
}

// choice returns the index of the word that n is; the first where it is none.
func (r *reader) choice(n *node, words ...string) int {
	text := r.text(n)
	for i, w := range words {
		if strings.EqualFold(w, text) {
			return i
		}
	}
	if n.kind == scalar {
		if near := rules.Nearest(text, words); near != "" {
			r.fail(n, "%q: did you mean %q?", text, near)
		} else {
			r.fail(n, "%q is none of: %s", text, strings.Join(words, ", "))
		}
	}
	return 0
}

// whole reads a whole number from least to most.
func (r *reader) whole(n *node, least, most int) int {
	text := r.text(n)
	v, err := strconv.Atoi(text)
	if n.kind == scalar && (err != nil || v < least || v > most) {
		r.fail(n, "%q is not a whole number from %d to %d", text, least, most)
		return least
	}
	return v
}

// number reads a decimal number above 0.
func (r *reader) number(n *node) float64 {
	text := r.text(n)
	v, err := strconv.ParseFloat(text, 64)
	if n.kind == scalar && (err != nil || !(v > 0 && v < 1e9)) {
		r.fail(n, "%q is not a number above 0", text)
		return 0
	}
	return v
}

// money reads an amount to 1/10000 of the currency. Digits are read as
// written: no float rounds a price.
func (r *reader) money(n *node) int64 {
	text := r.text(n)
	whole, part, _ := strings.Cut(text, ".")
	if n.kind != scalar {
		return 0
	}
	digits := whole + (part + "0000")[:4]
	v, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || whole == "" || len(part) > 4 || len(whole) > 9 || strings.ContainsAny(text, "+-_") {
		r.fail(n, "%q is not an amount; write it as 14.20, the currency apart", text)
		return 0
	}
	return v
}

// known checks that a name is one of those given, and says the nearest.
func (r *reader) known(n *node, what, name string, names []string) {
	if name == "" || slices.Contains(names, name) {
		return
	}
	if r.crowded() {
		r.fail(n, "unknown %s %q", what, name)
		return
	}
	if near := rules.Nearest(name, names); near != "" {
		r.fail(n, "unknown %s %q: did you mean %q?", what, name, near)
		return
	}
	if len(names) > 12 {
		names = append(slices.Clone(names[:12]), "…")
	}
	r.fail(n, "unknown %s %q; there is %s", what, name, strings.Join(names, ", "))
}
