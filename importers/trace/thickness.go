package trace

import "boardrun/internal/measure"

const (
	mm = measure.Millimetre

	// minThick and maxThick bound the thickness of a wall: 2 in to 24 in.
	// Source: common practice, none published.
	minThick = 50 * mm
	maxThick = 610 * mm

	// thickTol is how far two thicknesses may differ and be one: 1/8 in
	// rounding. Source: common practice, none published.
	thickTol = 3 * mm

	// minWall is the least length of a wall that is not part of a longer one.
	minWall = 100 * mm

	// peakShare is the share of all face-to-face length that makes a thickness
	// one of the drawing's own. A plan has three to six of them.
	// Source: common practice, none published.
	peakShare = 0.03

	// maxInside is how many lines may run inside a wall: the plies and the studs
	// of a wall drawn with all its lines.
	maxInside = 4

	// boardLine is how far inside a face a second line may run and still be the
	// other side of its board: two plies of 5/8 in and some.
	boardLine = 45 * mm
)

// axisKey is a cell of axis position and thickness, wide enough for drafting
// noise; neighbours are looked up too.
type axisKey struct {
	mid, t int32
}

const axisCell = 1 << 15 // about 4 mm

// thickness is what the drawing teaches about its walls: how much length faces
// each other at each distance, and how much of it lies on each axis line.
type thickness struct {
	hist    []Length // by whole millimetre
	over    []Length // the same for pairs with other lines between
	total   Length
	support map[axisKey]Length
	known   []Length
	drawn   Drawn
}

func newThickness(known []Length, drawn Drawn) *thickness {
	return &thickness{hist: make([]Length, maxThick/mm+8), over: make([]Length, maxThick/mm+8), support: map[axisKey]Length{}, known: known, drawn: drawn}
}

// learn adds one strip: every pair of its chain that could be a wall.
func (h *thickness) learn(edges []edge, chain []int32, l Length) {
	for i := range chain {
		for j := i + 1; j < len(chain) && j <= i+maxInside+1; j++ {
			a, b := &edges[chain[i]], &edges[chain[j]]
			t := b.r - a.r
			if t > maxThick {
				break
			}
			if t < minThick {
				continue
			}
			switch {
			case h.inner(edges, chain, i, j):
				// the studs of a wall drawn with its boards
			case j == i+1 || absorbs(edges, chain[i:j+1]):
				h.hist[t/mm] += l
				h.total += l
			default:
				h.over[t/mm] += l
			}
			h.support[keyOf(a.r, b.r)] += l
		}
	}
}

func keyOf(ra, rb Length) axisKey {
	return axisKey{int32(floorDiv(ra+rb, 2*axisCell)), int32((rb - ra) / axisCell)}
}

// inner reports whether a pair is not the one the drawing means where a wall is
// drawn with its studs and boards: another line runs a board's thickness outside
// of it, or, where the job says the studs are drawn, inside.
func (h *thickness) inner(edges []edge, chain []int32, i, j int) bool {
	lo, hi := edges[chain[i]].r, edges[chain[j]].r
	if h.drawn == DrawnStud {
		return j-i > 2 && edges[chain[i+1]].r-lo <= boardLine && hi-edges[chain[j-1]].r <= boardLine
	}
	return i > 0 && j+1 < len(chain) && lo-edges[chain[i-1]].r <= boardLine && edges[chain[j+1]].r-hi <= boardLine ||
		i > 0 && j > i+1 && lo-edges[chain[i-1]].r <= boardLine && hi-edges[chain[j-1]].r <= boardLine ||
		j+1 < len(chain) && j > i+1 && edges[chain[j+1]].r-hi <= boardLine && edges[chain[i+1]].r-lo <= boardLine
}

// add adds what another bundle taught; support stays with the bundle.
func (h *thickness) add(o *thickness) {
	for i := range o.hist {
		h.hist[i] += o.hist[i]
		h.over[i] += o.over[i]
	}
	h.total += o.total
}

func floorDiv(a, b Length) Length {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// on returns the length that lies on the axis line of two faces.
func (b *bundle) on(ra, rb Length) Length {
	k := keyOf(ra, rb)
	var sum Length
	for dm := int32(-1); dm <= 1; dm++ {
		for dt := int32(-1); dt <= 1; dt++ {
			sum += b.support[axisKey{k.mid + dm, k.t + dt}]
		}
	}
	return sum
}

// likely returns how well a thickness fits the drawing, 0.15 to 1.
func (h *thickness) likely(t Length) float64 {
	for _, k := range h.known {
		if (t - k).Abs() <= thickTol {
			return 1
		}
	}
	if h.total == 0 {
		return 0.15
	}
	var at Length
	for i := max(0, t/mm-3); i <= t/mm+3 && int(i) < len(h.hist); i++ {
		at += h.hist[i] + h.over[i]/2
	}
	return 0.15 + 0.85*min(1, float64(at)/(peakShare*float64(h.total)))
}

// usual reports whether a thickness is one of the drawing's own without the
// stretch that is in question, or one that the job knows.
func (h *thickness) usual(t, own Length) bool {
	for _, k := range h.known {
		if (t - k).Abs() <= thickTol {
			return true
		}
	}
	at := -own
	for i := max(0, t/mm-3); i <= t/mm+3 && int(i) < len(h.hist); i++ {
		at += h.hist[i]
	}
	return h.total > 0 && float64(at) >= peakShare*float64(h.total)
}

// absorbs reports whether the lines between the first and the last of a row
// can be inside the wall: each the back of a board, or the middle.
func absorbs(edges []edge, row []int32) bool {
	lo, hi := edges[row[0]].r, edges[row[len(row)-1]].r
	for _, e := range row[1 : len(row)-1] {
		r := edges[e].r
		if r-lo > boardLine && hi-r > boardLine && (2*r-lo-hi).Abs() > 10*mm {
			return false
		}
	}
	return true
}
