package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// score orders layouts: its members are compared in turn, less is better.
//
// Rules broken come first, then what kind of horizontal joints the trade would
// rather have. With prices money follows, added studs in it where they have one. Without them: studs
// added to the grid, so that the grid is left only where it has no legal
// layout; area of board; weighted exposed joints; pieces. Ties go to the layout
// that starts with an uncut sheet, then the one with fewer warnings, then the
// grid that begins at a board's edge, then the start of the run, then the
// widest first piece.
type score [scoreLen]int64

const (
	byBroken = iota
	byTier
	byMoney
	byAdded
	byArea
	byJoints
	byPieces
	byStart
	byWarnings
	byGrid
	byEnd
	byWidth
	byRows = byWidth + maxWidths
)

const (
	maxWidths = 4
	scoreLen  = byRows + 1
)

func (s *score) less(t *score) bool { return slices.Compare(s[:], t[:]) < 0 }

// rank turns a tally into the leading members of a score.
func (w *wall) rank(t tally, added int) score {
	var s score
	s[byBroken] = int64(t.broken)
	s[byAdded], s[byArea] = int64(added), int64(t.area)
	s[byJoints], s[byPieces], s[byWarnings] = t.joints, int64(t.pieces), int64(t.warnings)
	if w.env.Prices != nil {
		s[byMoney] = t.money + int64(added)*w.env.Prices.Stud
	}
	if w.studsPriced() {
		s[byAdded] = 0
	}
	return s
}

// compareCost compares what rank makes of two tallies, all but the warnings.
func (w *wall) compareCost(t *tally, added int, u *tally, addedToo int) int {
	if t.broken != u.broken {
		return cmp.Compare(t.broken, u.broken)
	}
	if p := w.env.Prices; p != nil {
		m, n := t.money+int64(added)*p.Stud, u.money+int64(addedToo)*p.Stud
		if m != n {
			return cmp.Compare(m, n)
		}
	}
	if added != addedToo && !w.studsPriced() {
		return cmp.Compare(added, addedToo)
	}
	return cmp.Or(cmp.Compare(t.area, u.area), cmp.Compare(t.joints, u.joints), cmp.Compare(t.pieces, u.pieces))
}

// studsPriced reports whether an added stud has a price that money can weigh.
func (w *wall) studsPriced() bool { return w.env.Prices != nil && w.env.Prices.Stud > 0 }

// sheetMoney returns the price of one sheet; 0 without prices, or where the job
// has none for it (which the job's reader lists).
func (w *wall) sheetMoney(b *job.Board, width, length Length) int64 {
	if w.env.Prices == nil {
		return 0
	}
	k := sheetKey{b, width, length}
	m, ok := w.sheets[k]
	if !ok {
		m, _ = w.env.Prices.Sheet(b.Name, width, length, w.env.Rules.System)
		if w.sheets == nil {
			w.sheets = map[sheetKey]int64{}
		}
		w.sheets[k] = m
	}
	return m
}

type sheetKey struct {
	board         *job.Board
	width, length Length
}

// boardMoney is what the board of a full-width bit costs: its share of the
// cheapest sheet, and its cross cut.
func (w *wall) boardMoney(p *ply, a, b Length, c bit) int64 {
	if w.env.Prices == nil {
		return 0
	}
	return w.shareMoney(c.board, p.width, c.lengths, c.peak(p, a, b)) + w.env.Prices.Cut
}

// shareMoney is the price of the cheapest share of a sheet that holds a blank
// of height h over the sheet's whole width.
func (w *wall) shareMoney(b *job.Board, width Length, lengths []Length, h Length) int64 {
	best := int64(-1)
	for _, l := range lengths {
		if h > l || h <= 0 {
			continue
		}
		if m := w.sheetMoney(b, width, l) / int64(l/h); best < 0 || m < best {
			best = m
		}
	}
	if best < 0 {
		return w.sheetMoney(b, width, lengths[len(lengths)-1])
	}
	return best
}

// jointMoney prices a joint of one kind over [lo, hi]: all of it below the
// ceiling, a third above, where one coat does.
// Source: common practice, none published (Level 1 of GA-214 against Level 4).
func (w *wall) jointMoney(p *ply, lo, hi Length, kind JointKind) int64 {
	if w.env.Prices == nil {
		return 0
	}
	low := p.exposed(lo, hi)
	return w.perMetre(low+(hi-lo-low)/3, kind)
}

func (w *wall) perMetre(l Length, kind JointKind) int64 {
	price := w.env.Prices.Joint[2]
	switch kind {
	case TaperedJoint:
		price = w.env.Prices.Joint[0]
	case TaperedCut:
		price = w.env.Prices.Joint[1]
	}
	return price * int64(l/measure.Micrometre) / 1e6
}

func (w *wall) levelMoney(p *ply, a, b, v Length) int64 {
	if w.env.Prices == nil {
		return 0
	}
	l := p.levelLength(a, b, v)
	if p.exposed(v, v+1) == 0 {
		l /= 3
	}
	return w.perMetre(l, Butt)
}

// weight of a joint where no prices are given.
func (w *wall) weight(kind JointKind) int64 {
	r := w.env.Rules
	switch kind {
	case TaperedJoint:
		return int64(r.WeightTapered)
	case TaperedCut:
		return int64(r.WeightTaperedCut)
	case ControlJoint:
		return 0
	}
	return int64(r.WeightButt)
}

// upright costs a joint of p along the studs at x. Without prices a sloped top
// is levelled: an inch of tape must not decide at which end the hanging starts.
func (w *wall) upright(p *ply, x Length, kind JointKind) (t tally) {
	top := p.mean
	if w.env.Prices != nil {
		top = p.top.At(x)
	}
	for _, s := range p.solid(x, top) {
		t.joints += int64(p.exposed(s[0], s[1])) * w.weight(kind)
		t.money += w.jointMoney(p, s[0], s[1], kind)
	}
	return t
}
