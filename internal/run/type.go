package run

import (
	"fmt"
	"strings"

	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// thicknessTol is how far a drawn wall may be from the thickness of a match:
// drawings round 4 7/8 in and 125 mm to the nearest 1/8 in or mm.
// Source: common practice, none published.
const thicknessTol = 3 * measure.Millimetre

// LeftOut is a wall of the plan that no run stands for, and why.
type LeftOut struct {
	Wall      int // index into Plan.Walls
	Code      string
	Reason    string
	Thickness Length
	Length    Length
}

// verdict is what becomes of one wall of the plan.
type verdict struct {
	make   *job.WallType
	code   string // why it is left out; "" if it is taken off
	reason string
	solid  bool // stands there: other walls stop at it
}

// judge finds the type of a wall. Types are weighed by the strictest of their
// matches that holds: tag over IFC type over layer over thickness; the first in
// the job file wins among equals. A type without matches stands for walls
// tagged with its name.
func judge(w *plan.Wall, j *job.Job) verdict {
	switch w.Status {
	case plan.Demolish:
		return verdict{code: "wall-demolished", reason: "to be demolished"}
	case plan.Existing:
		return verdict{code: "wall-existing", reason: "existing wall: not boarded", solid: true}
	}
	best, weight := -1, 0
	for i := range j.Types {
		if n := weigh(&j.Types[i], w); n > weight {
			best, weight = i, n
		}
	}
	if w.Kind != plan.Partition && weight <= byThickness {
		return verdict{code: "wall-left-out", reason: w.Kind.String() + " wall: no type of the job names it", solid: true}
	}
	if best < 0 {
		return verdict{code: "wall-no-type", reason: "no wall type of the job fits " + describe(w, j), solid: true}
	}
	t := &j.Types[best]
	if t.Leave != "" {
		return verdict{make: t, code: "wall-left-out", reason: t.Leave, solid: true}
	}
	return verdict{make: t, solid: true}
}

// Weights of the conditions of a match.
const (
	byThickness = 1
	byLayer     = 2
	byTypeName  = 4
	byTag       = 8
)

func weigh(t *job.WallType, w *plan.Wall) int {
	if len(t.Match) == 0 && t.Name != "" && strings.EqualFold(t.Name, strings.TrimSpace(w.Tag)) {
		return byTag
	}
	best := 0
	for _, m := range t.Match {
		best = max(best, weighMatch(m, w))
	}
	return best
}

// weighMatch returns the sum of the weights of a match's conditions, 0 if one of
// them does not hold.
func weighMatch(m job.Match, w *plan.Wall) int {
	n := 0
	for _, c := range [...]struct {
		given, holds bool
		weight       int
	}{
		{m.Tag != "", like(m.Tag, strings.TrimSpace(w.Tag)), byTag},
		{m.TypeName != "", like(m.TypeName, w.TypeName), byTypeName},
		{m.Layer != "", like(m.Layer, plainLayer(w.Layer)) || like(m.Layer, w.Layer), byLayer},
		{m.Thickness != 0, (w.Thickness - m.Thickness).Abs() <= thicknessTol, byThickness},
	} {
		switch {
		case !c.given:
		case !c.holds:
			return 0
		default:
			n += c.weight
		}
	}
	return n
}

// plainLayer drops what a bound or attached reference puts before a layer's
// name: "PLAN$0$A-WALL" and "PLAN|A-WALL" are A-WALL.
func plainLayer(s string) string {
	if i := strings.LastIndexAny(s, "$|"); i >= 0 {
		return s[i+1:]
	}
	return s
}

// like reports whether s matches a pattern of letters, * and ?, in any case.
func like(pattern, s string) bool {
	return likeRunes([]rune(strings.ToLower(pattern)), []rune(strings.ToLower(s)))
}

func likeRunes(p, s []rune) bool {
	star, from := -1, 0
	i, k := 0, 0
	for k < len(s) {
		switch {
		case i < len(p) && p[i] == '*':
			star, from = i, k
			i++
		case i < len(p) && (p[i] == '?' || p[i] == s[k]):
			i, k = i+1, k+1
		case star >= 0: // let the last star take one more
			from++
			i, k = star+1, from
		default:
			return false
		}
	}
	for i < len(p) && p[i] == '*' {
		i++
	}
	return i == len(p)
}

// describe says what a wall is, for people.
func describe(w *plan.Wall, j *job.Job) string {
	var parts []string
	if w.Thickness > 0 {
		if j.System == measure.Metric {
			parts = append(parts, fmt.Sprintf("thickness %.0f mm", w.Thickness.MM()))
		} else {
			parts = append(parts, fmt.Sprintf("thickness %.3f in", w.Thickness.Inches()))
		}
	}
	if w.Tag != "" {
		parts = append(parts, "tag "+w.Tag)
	}
	if w.TypeName != "" {
		parts = append(parts, "type "+w.TypeName)
	}
	if w.Layer != "" {
		parts = append(parts, "layer "+w.Layer)
	}
	if len(parts) == 0 {
		return "it"
	}
	return strings.Join(parts, ", ")
}
