package rules

import (
	"slices"

	"boardrun/internal/measure"
)

// ScrewLengths are the stock lengths, shortest first.
// Source: from memory, no source at hand; the 1 in screw for one 5/8 in board
// is in GA file WP 1200.
var ScrewLengths = [2][]Length{
	{8 * eighth, 9 * eighth, 10 * eighth, 13 * eighth, 15 * eighth, 16 * eighth, 18 * eighth, 20 * eighth, 24 * eighth},
	{25 * measure.Millimetre, 30 * measure.Millimetre, 35 * measure.Millimetre, 45 * measure.Millimetre, 55 * measure.Millimetre, 70 * measure.Millimetre},
}

const eighth = measure.EighthInch

// ScrewLength returns the stock length for boards of that total thickness:
// total + screw-embed, the next stock length; equality is enough, as GA file
// WP 1200 has it (5/8 + 3/8 = 1 in). ok is false beyond the longest.
func (s *Set) ScrewLength(total Length) (l Length, ok bool) {
	for _, l := range ScrewLengths[s.System] {
		if l >= total+s.ScrewEmbed {
			return l, true
		}
	}
	return 0, false
}

// Point is the standard a screw is made to, which goes by its point.
type Point uint8

// Screw points. Source: scopes of ASTM C1002 (steel under 0.033 in) and
// ASTM C954 (0.033 to 0.112 in).
const (
	C1002 Point = iota // self-piercing
	C954               // self-drilling
)

func (p Point) String() string {
	if p == C954 {
		return "C954"
	}
	return "C1002"
}

// PointFor returns the screw for base steel of that thickness in 1/10000 in;
// ok is false beyond 0.112 in.
func PointFor(tenThousandths int) (p Point, ok bool) {
	switch {
	case tenThousandths < 330:
		return C1002, true
	case tenThousandths <= 1120:
		return C954, true
	}
	return 0, false
}

// Gauge is one designation thickness of stud and track steel, in 1/10000 in.
// Source: AISI designators (600S162-54); Canadian sheet steel institute
// bulletin 7-1 for 18 and 33 mil; 15 and 30 mil from memory.
type Gauge struct {
	Mil         int
	Name        string // gauge name; "20" is two thicknesses: 30 mil drywall, 33 mil structural
	Design, Min int
}

// Gauges is sorted by Mil.
var Gauges = []Gauge{
	{15, "25 EQ", 158, 150},
	{18, "25", 188, 179},
	{27, "22", 283, 269},
	{30, "20 drywall", 312, 296},
	{33, "20 structural", 346, 329},
	{43, "18", 451, 428},
	{54, "16", 566, 538},
	{68, "14", 713, 677},
	{97, "12", 1017, 966},
}

// PointForMil returns the screw for a designation thickness. It goes by the
// design thickness: a 33 mil stud is 0.0346 in and takes C954, although its
// least delivered thickness of 0.0329 in is within the scope of C1002; a
// 30 mil one takes C1002.
func PointForMil(mil int) (p Point, ok bool) {
	i := slices.IndexFunc(Gauges, func(g Gauge) bool { return g.Mil == mil })
	if i < 0 {
		return PointFor(mil * 10)
	}
	return PointFor(Gauges[i].Design)
}

// ThickerMil returns the next heavier common stud, for jambs: 33 for up to 30,
// else the same. Source: common practice, none published.
func ThickerMil(mil int) int { return max(mil, 33) }
