package rules

import (
	"fmt"
	"strconv"
	"strings"

	"boardrun/internal/measure"
)

// Kind says what a rule's value is.
type Kind uint8

// Kinds of value.
const (
	Fact    Kind = iota // no value: the text is the rule, built into the layout
	Measure             // a length, in grid units
	Count               // a whole number
	Number              // a number, in thousandths
	Kilos               // a mass, in grams
	YesNo               // 0 or 1
	Choice              // index into Options
)

var kindNames = [...]string{"fact", "length", "count", "number", "mass", "yes or no", "choice"}

func (k Kind) String() string { return kindNames[k] }

// Value is a rule's value in the integer unit of its Kind.
type Value int64

// Rule is one number the layout obeys, or one thing it never does.
type Rule struct {
	ID      string // kebab-case; the key in a job file
	Group   string // heading on paper: gaps, joints, screws, framing, order
	Text    string
	Kind    Kind
	Default [2]Value // by measure.System
	Min     [2]Value // least a job may set
	Max     [2]Value // greatest; 0 = no limit but Against
	Against string   // what else it is checked against, in words
	Source  string   // published source in short, or "common practice, no source"
	Fixed   bool     // a job may not change it
	Options []string // of a Choice

	at func(*Set) any // the field of Set: *Length, *int, *float64, *bool or *string
}

// Get returns the value of r in s; 0 for a Fact.
func (r *Rule) Get(s *Set) Value {
	if r.at == nil {
		return 0
	}
	switch p := r.at(s).(type) {
	case *Length:
		return Value(*p)
	case *int:
		return Value(*p)
	case *float64:
		return Value(*p*1000 + 0.5) // every float rule is a positive multiple of 1/1000
	case *bool:
		if *p {
			return 1
		}
	case *Convention:
		return Value(*p)
	}
	return 0
}

// put sets the field of s that r stands for.
func (r *Rule) put(s *Set, v Value) {
	if r.at == nil {
		return
	}
	switch p := r.at(s).(type) {
	case *Length:
		*p = Length(v)
	case *int:
		*p = int(v)
	case *float64:
		*p = float64(v) / 1000
	case *bool:
		*p = v != 0
	case *Convention:
		*p = Convention(v)
	}
}

// Format writes v as a job file of that system would: "1/2in", "3", "yes".
func (r *Rule) Format(v Value, sys measure.System) string {
	switch r.Kind {
	case Measure:
		return measure.Exact(Length(v), sys)
	case Count:
		return strconv.FormatInt(int64(v), 10)
	case Number:
		return thousandths(v)
	case Kilos:
		if sys == measure.Metric {
			return thousandths(v) + "kg"
		}
		return strconv.FormatFloat(float64(v)/1000/measure.KgPerPound, 'f', 0, 64) + "lb"
	case YesNo:
		if v != 0 {
			return "yes"
		}
		return "no"
	case Choice:
		if v >= 0 && int(v) < len(r.Options) {
			return r.Options[v]
		}
	}
	return ""
}

func thousandths(v Value) string {
	return strconv.FormatFloat(float64(v)/1000, 'f', -1, 64)
}

// parse reads a value as people write it.
func (r *Rule) parse(text string, sys measure.System) (Value, error) {
	text = strings.TrimSpace(text)
	switch r.Kind {
	case Measure:
		l, err := measure.Parse(text, sys)
		return Value(l), err
	case Count:
		n, err := strconv.ParseInt(text, 10, 32)
		if err != nil {
			return 0, fmt.Errorf("%q is not a whole number", text)
		}
		return Value(n), nil
	case Number:
		return scaled(strings.TrimSuffix(text, "%"), 1000, text)
	case Kilos:
		return parseMass(text)
	case YesNo:
		switch strings.ToLower(text) {
		case "yes", "true":
			return 1, nil
		case "no", "false":
			return 0, nil
		}
		return 0, fmt.Errorf("%q: write yes or no", text)
	case Choice:
		for i, o := range r.Options {
			if strings.EqualFold(o, text) {
				return Value(i), nil
			}
		}
		return 0, fmt.Errorf("%q: write %s", text, strings.Join(r.Options, " or "))
	}
	return 0, fmt.Errorf("it has no value to change")
}

func parseMass(text string) (Value, error) {
	low := strings.ToLower(text)
	for _, u := range []struct {
		word  string
		grams float64
	}{{"kg", 1000}, {"lbs", 1000 * measure.KgPerPound}, {"lb", 1000 * measure.KgPerPound}} {
		if n, ok := strings.CutSuffix(low, u.word); ok {
			return scaled(n, u.grams, text)
		}
	}
	return 0, fmt.Errorf("%q: say the unit: 100lb or 45kg", text)
}

func scaled(number string, by float64, text string) (Value, error) {
	f, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || f != f || f < 0 || f > 1e6 {
		return 0, fmt.Errorf("%q is not a number from 0 to 1000000", text)
	}
	return Value(f*by + 0.5), nil
}
