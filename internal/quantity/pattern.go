package quantity

import (
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

const (
	mm   = measure.Millimetre
	inch = measure.Inch
)

// Pattern is how far apart screws stand: at a sheet's edges, in its field,
// beside openings and along the track. A Pattern with Runner set counts the
// screws of floor and ceiling track in the C1 convention too.
type Pattern struct {
	Name                        string
	Edge, Field, Opening, Track Length
	Runner                      bool
	Source                      string
}

// Listed are the fastening patterns of listed designs that were read, base ply
// first where they differ. A listing not here is refused, not invented.
var Listed = []struct {
	Name  string
	Plies []Pattern
}{
	{"WP 1200", []Pattern{{Name: "WP 1200", Edge: 8 * inch, Field: 12 * inch, Track: 12 * inch, Runner: true,
		Source: "GA-600 WP 1200: 8 in at vertical joints, 12 in at floor and ceiling runners and intermediate studs"}}},
	{"WP 1201", []Pattern{{Name: "WP 1201", Edge: 8 * inch, Field: 12 * inch, Track: 12 * inch, Runner: true,
		Source: "GA-600 WP 1201: 8 in vertical edges, 12 in intermediate"}}},
	{"WP 1204", []Pattern{
		{Name: "WP 1204 base", Edge: 12 * inch, Field: 12 * inch, Track: 12 * inch, Runner: true, Source: "GA-600 WP 1204: base layer 12 in"},
		{Name: "WP 1204 face", Edge: 12 * inch, Field: 12 * inch, Track: 12 * inch, Runner: true, Source: "GA-600 WP 1204: face layer 12 in"}}},
}

// General returns the pattern of the rules for studs the given distance apart.
// Source: maker guide, non-loadbearing steel stud partitions: 12 in at studs
// at 24 in, 16 in at 16 in; 12 in at edges and 8 in beside openings within
// that: common practice.
func General(s *rules.Set, spacing Length) Pattern {
	if spacing > s.WideSpacing {
		return Pattern{Name: "wide studs", Edge: s.ScrewWide, Field: s.ScrewWide, Opening: s.ScrewWide, Track: s.ScrewWide, Source: "rule screw-wide"}
	}
	return Pattern{Name: "studs to 16 in", Edge: s.ScrewEdge, Field: s.ScrewField, Opening: s.ScrewOpening, Track: s.ScrewField,
		Source: "rules screw-edge, screw-field, screw-opening"}
}

// ListedPattern returns the pattern of a listed design for a ply (1 = base) of
// plies; false if the listing is not known.
func ListedPattern(listing string, ply, plies int) (Pattern, bool) {
	want := strings.ToUpper(strings.Join(strings.Fields(listing), " "))
	for _, l := range Listed {
		if want == l.Name || strings.HasSuffix(want, " "+l.Name) {
			i := 0
			if ply == plies {
				i = len(l.Plies) - 1
			}
			return l.Plies[i], true
		}
	}
	return Pattern{}, false
}

// Stricter returns the closer spacing of both patterns, place by place; a
// place that one does not name is the other's.
// Source: ASTM C840 1.2.1: of the standard and the listing the stricter governs.
func Stricter(a, b Pattern) Pattern {
	least := func(x, y Length) Length {
		if x == 0 || y > 0 && y < x {
			return y
		}
		return x
	}
	return Pattern{
		Name: a.Name + " within " + b.Name, Edge: least(a.Edge, b.Edge), Field: least(a.Field, b.Field),
		Opening: least(a.Opening, b.Opening), Track: least(a.Track, b.Track), Runner: a.Runner || b.Runner,
		Source: a.Source + "; " + b.Source,
	}
}

// stock lengths of drywall screws. Source: from memory, unverified.
var (
	stockInch = []Length{inch, inch * 9 / 8, inch * 5 / 4, inch * 13 / 8, inch * 15 / 8, 2 * inch, inch * 9 / 4, inch * 5 / 2, 3 * inch}
	stockMM   = []Length{25 * mm, 30 * mm, 35 * mm, 45 * mm, 55 * mm, 65 * mm, 75 * mm}
)

// ScrewLength returns the stock length that goes through board of the given
// total thickness and embed further; false where none is long enough, with the
// longest. Source: maker guide, non-loadbearing partitions: 3/8 in through
// steel; equality is enough, as in GA-600 WP 1200 (5/8 in board, 1 in screw).
func ScrewLength(board, embed Length, sys measure.System) (Length, bool) {
	stock := stockInch
	if sys == measure.Metric {
		stock = stockMM
	}
	for _, l := range stock {
		if l >= board+embed {
			return l, true
		}
	}
	return stock[len(stock)-1], false
}

// designThickness of studs by mil, in 1/10000 in.
// Source: Canadian sheet steel institute bulletin 7-1 (18, 33) and a project's
// framing notes (27, 43 to 97); 15 and 30 from memory.
var designThickness = map[int]int{15: 158, 18: 188, 27: 283, 30: 312, 33: 346, 43: 451, 54: 566, 68: 713, 97: 1017}

// DrillFrom is the thickness of steel, in 1/10000 in, from which screws drill
// their own hole. Source: ASTM C1002 scope (under 0.033 in), ASTM C954 scope
// (0.033 to 0.112 in).
const DrillFrom = 330

// Point returns the standard of the screw for steel of the given thickness in
// 1/10000 in.
func Point(steel int) string {
	if steel < DrillFrom {
		return "C1002"
	}
	return "C954"
}

// PointForMil returns Point for a stud named by its mil, by its design
// thickness: 33 mil steel is 0.0346 in as made, so it takes the drilling point.
func PointForMil(mil int) string {
	if t, ok := designThickness[mil]; ok {
		return Point(t)
	}
	return Point(mil * 10)
}

// screwItem names a board screw as it is ordered: "screw 1-5/8 in C1002".
func screwItem(length Length, point string, sys measure.System) string {
	return "screw " + measure.Screw(length, sys) + " " + point
}
