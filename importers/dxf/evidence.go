package dxf

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"boardrun/importers/linework"
)

// Ranges that plans fall into, in mm.
// Source: common practice, none published.
const (
	doorMin, doorMax         = 600, 1250    // door leaf
	extentMin, extentMax     = 3e3, 300e3   // longer side of a plan
	letterMin, letterMax     = 60, 500      // lettering, plotted 2 to 5 mm high at 1:20 to 1:100
	wallMin, wallMax         = 60, 400      // partition to masonry wall
	farExtentMin, farExtents = 1e3, 1_000e3 // a detail, a site
)

// hear collects what a drawing has to say about its unit, in drawing units.
func hear(d *linework.Drawing) []witness {
	k := 1.0
	if d.UnitMM > 0 {
		k = 1 / d.UnitMM
	}
	return []witness{
		usual,
		headerSays(d),
		dimensionsRead(d, k),
		feetAndInches(d),
		doorSizes(d),
		doorSwings(d, k),
		doorBlocks(d, k),
		lettering(d, k),
		extent(d, k),
		wallThickness(d, k),
	}
}

// usual speaks for a unit by how common it is: whole buildings are hardly ever
// drawn in feet or centimetres.
func usual(u Unit) (float64, string) {
	return map[int]float64{1: 0.3, 4: 0.3, 6: 0.2, 5: 0, 2: -0.7}[u.Code], ""
}

func headerSays(d *linework.Drawing) witness {
	return func(u Unit) (float64, string) {
		weight, words := 0.0, []string{}
		if d.InsUnits == u.Code {
			weight++
			words = append(words, "$INSUNITS says "+u.Name)
		}
		imperial := u.Code == 1 || u.Code == 2
		switch {
		case (d.LUnits == 3 || d.LUnits == 4) && u.Code == 1:
			weight += 2
			words = append(words, "the header shows lengths in feet and inches, which a drawing in inches does")
		case d.Measurement == 0 && imperial, d.Measurement == 1 && !imperial:
			weight += 0.2
		}
		return weight, strings.Join(words, ", ")
	}
}

var (
	feetInches = regexp.MustCompile(`^(?:(\d+(?:\.\d+)?)\s*['′’]\s*-?\s*)?(?:(\d+(?:\.\d+)?)(?:[ -]+(\d+)[/#](\d+))?|(\d+)[/#](\d+))?\s*(?:["″”]|'')?$`)
	plainNum   = regexp.MustCompile(`^\s*(?:R|Ø|∅)?\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|m)?\s*$`)
	doorCode   = regexp.MustCompile(`^[1-9]\d(6[68]|7[0]|8[0])( .*)?$`)
)

// readFeet reads a length written in feet and inches, in mm; false if the text
// is not one.
func readFeet(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if !strings.ContainsAny(s, `'′’"″”`) {
		return 0, false
	}
	m := feetInches.FindStringSubmatch(s)
	if m == nil {
		return 0, false
	}
	n := func(i int) float64 { x, _ := strconv.ParseFloat(m[i], 64); return x }
	in := 12*n(1) + n(2)
	if den := n(4) + n(6); den > 0 { // one of the two is there
		in += (n(3) + n(5)) / den
	}
	return in * 25.4, in > 0
}

// saidLength is what a dimension says beside what it measures.
type saidLength struct {
	raw, said float64
	unit      float64 // mm of the number said; 0 if not written
	decimals  int
}

// saidLengths collects the dimensions whose text is a length.
func saidLengths(d *linework.Drawing, k float64) []saidLength {
	var out []saidLength
	for i := range d.Texts {
		t := &d.Texts[i]
		if t.Type != "DIMENSION" || t.Measured <= 0 {
			continue
		}
		if mm, ok := readFeet(t.Value); ok {
			out = append(out, saidLength{t.Measured * k, mm, 1, 0})
			continue
		}
		if m := plainNum.FindStringSubmatch(t.Value); m != nil {
			number := strings.Replace(m[1], ",", ".", 1)
			x, _ := strconv.ParseFloat(number, 64)
			_, frac, _ := strings.Cut(number, ".")
			out = append(out, saidLength{t.Measured * k, x, map[string]float64{"mm": 1, "cm": 10, "m": 1000}[m[2]], len(frac)})
		}
	}
	return out
}

// agrees tells whether the text is what is measured, in a unit; told is false if
// the text says nothing of units. A number without one is taken for millimetres
// if whole and large, for metres if small with two or three places.
func (s saidLength) agrees(u Unit) (agree, told bool) {
	mm := s.raw * u.MM
	switch {
	case s.unit > 0:
		return near(s.said*s.unit, mm), true
	case s.decimals == 0 && s.said >= 600:
		return near(s.said, mm), true
	case s.decimals >= 2 && s.said < 200:
		return near(s.said*1000, mm), true
	}
	return false, false
}

// dimensionsRead compares what dimensions say with what they measure.
func dimensionsRead(d *linework.Drawing, k float64) witness {
	all := saidLengths(d, k)
	return func(u Unit) (float64, string) {
		agree, told := 0, 0
		for _, s := range all {
			a, t := s.agrees(u)
			if t {
				told++
			}
			if a {
				agree++
			}
		}
		if told == 0 {
			return 0, ""
		}
		share := float64(agree) / float64(told)
		few := math.Min(1, float64(told)/4)
		return few * (5*share - 1), fmt.Sprintf("%d of %d dimensions read as what they measure", agree, told)
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 0.02*math.Max(a, b) }

// feetAndInches counts texts other than dimensions that hold feet and inches.
func feetAndInches(d *linework.Drawing) witness {
	n := 0
	for i := range d.Texts {
		t := &d.Texts[i]
		if t.Type == "DIMENSION" {
			continue
		}
		for _, w := range strings.FieldsFunc(t.Value, func(r rune) bool { return r == '\n' || r == 'x' || r == 'X' || r == ',' }) {
			if _, ok := readFeet(w); ok {
				n++
				break
			}
		}
	}
	return func(u Unit) (float64, string) {
		said := fmt.Sprintf("%d texts are lengths in feet and inches", n)
		switch {
		case n == 0:
			return 0, ""
		case u.Code == 1 || u.Code == 2:
			return math.Min(1.5, 0.75+0.05*float64(n)), said
		}
		return 0, ""
	}
}

// lettering judges the middle height of letters.
func lettering(d *linework.Drawing, k float64) witness {
	var heights []float64
	for i := range d.Texts {
		if h := d.Texts[i].Height * k; h > 0 && d.Texts[i].Value != "" {
			heights = append(heights, h)
		}
	}
	slices.Sort(heights)
	return func(u Unit) (float64, string) {
		if len(heights) < 3 {
			return 0, ""
		}
		h := heights[len(heights)/2] * u.MM
		said := fmt.Sprintf("letters are %s high (middle one of %d)", u.small(h), len(heights))
		if h >= letterMin && h <= letterMax {
			return 0.75, said
		}
		if h < letterMin/3 || h > letterMax*3 {
			return -0.5, said
		}
		return 0, ""
	}
}

// extent judges the longer side of what is drawn. The outer hundredth at each
// end does not count: a forgotten line far out is common.
func extent(d *linework.Drawing, k float64) witness {
	var xs, ys []float64
	for i := range d.Segments {
		s := &d.Segments[i]
		xs = append(xs, s.A[0], s.B[0])
		ys = append(ys, s.A[1], s.B[1])
	}
	for i := range d.Arcs {
		xs = append(xs, d.Arcs[i].Centre[0])
		ys = append(ys, d.Arcs[i].Centre[1])
	}
	side := math.Max(spread(xs), spread(ys)) * k
	enough := 1.0
	if len(xs) < 100 { // a symbol or a detail can have any size
		enough = 0.5
	}
	return func(u Unit) (float64, string) {
		if side <= 0 {
			return 0, ""
		}
		mm := side * u.MM
		said := fmt.Sprintf("the drawing would be %s across", u.large(mm))
		switch {
		case mm >= extentMin && mm <= extentMax:
			return 2 * enough, said
		case mm >= farExtentMin && mm <= farExtents:
			return 0.25 * enough, said
		case mm < farExtentMin:
			return -1, said
		}
		return -2, said
	}
}

func spread(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	trim := len(v) / 100
	return v[len(v)-1-trim] - v[trim]
}
