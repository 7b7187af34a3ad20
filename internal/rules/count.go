package rules

import "boardrun/internal/measure"

// Screws are counted by position, so that a count can be drawn. On a stud line
// the first screw is at first, the topmost at top:
//
//	 top ─ ×      n = ceil((top − first)/spacing) + 1
//	       ×
//	 first ×
//	───────×───── track row, counted apart
//
// Source of the positions: common practice, none published; spacings are rules.

// LineCount returns the screws on a stud line from first to top at most
// spacing apart; 0 where top is below first.
func LineCount(first, top, spacing Length) int {
	if top < first {
		return 0
	}
	return (top - first).CeilDiv(spacing) + 1
}

// TrackCount returns the screws along a track over a piece of that width:
// ceil((width − 8 in)/spacing) + 1, 8 in being the 4 in left out at each end.
// 48 in gives 4 at 16 in and 5 at 24 in studs (12 in screws).
func TrackCount(width, spacing Length, sys measure.System) int {
	ends := span(8, 200)[sys]
	if width <= ends {
		return 1
	}
	return (width - ends).CeilDiv(spacing) + 1
}

// SideCount returns the screws beside a hole on its jamb stud over the hole's
// height, per ply and side.
func SideCount(height, spacing Length) int { return LineCount(spacing, height, spacing) }

// HeadCount returns the screws along the head, or the sill, of a hole of that
// width, per ply: ceil(width/spacing) − 1, the corners belonging to the sides.
func HeadCount(width, spacing Length) int { return max(0, width.CeilDiv(spacing)-1) }

// C1Line returns the screws on a line of that length under convention C1:
// rows start 3/8 in (10 mm) inside each end, so ceil((length − 3/4 in)/spacing)
// + 1. Source: derived; the 3/8 in is the least edge distance of maker guides.
func C1Line(length, spacing Length, sys measure.System) int {
	inset := [2]Length{3 * eighth, 10 * measure.Millimetre}[sys]
	return LineCount(inset, length-inset, spacing)
}

// C1Sheet returns the screws of one whole sheet under convention C1: across is
// its dimension across the studs, along the one with them. Every stud crossed,
// edge studs included, is one line; edges are at edge spacing, the lines
// between at field spacing.
func C1Sheet(across, along, studs, edge, field Length, sys measure.System) int {
	lines := int(across/studs) + 1
	if lines < 2 {
		return lines * C1Line(along, edge, sys)
	}
	return 2*C1Line(along, edge, sys) + (lines-2)*C1Line(along, field, sys)
}

// C1Tracks returns the screws that two tracks add under convention C1: the
// positions along each at spacing less those that a stud line already has.
func C1Tracks(across, studs, spacing Length, sys measure.System) int {
	onLines := int(across/studs) + 1
	return 2 * max(0, C1Line(across, spacing, sys)-onLines)
}

// FixCount returns the fixings of a piece of track: the first and last end in
// from its ends, the rest at most spacing apart. A track too short for two
// takes two all the same.
// Source: Ontario Building Code 9.24.3.1; ceil((l − 2·end)/spacing) + 1.
func (s *Set) FixCount(length Length) int {
	return max(2, LineCount(s.TrackFixEnd, length-s.TrackFixEnd, s.TrackFix))
}
