package quantity

import (
	"math"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
)

// Published rates per 1000 sf of board, for the cross-check only; the count is
// of joints, not of area.
// Sources: tape 380 lf, compound 5 gal and 1000 screws: Dagostino and Peterson,
// p. 203; compound 11 gal: an article on three-coat work. The textbook's 5 gal
// looks low beside every other figure.
const (
	tapeRateText     = 380
	compoundRateText = 5
	compoundRateHigh = 11
	screwRateText    = 1000
)

// coat is one pass of compound: width and thickness as applied, in inches.
type coat struct{ width, thick float64 }

// Coats by kind of line, first to last.
// Widths: a maker's joint compound data: first coat about 4 in, then 3 in
// further on each side twice (8 and 14 in); butt joints feathered to about
// 18 in, AWCI. Thickness: about 1/32 in under the tape, setting compound data;
// the rest from memory: a taper's fill of 1/16 in falling to nothing over 5 in,
// later coats of 1/64 and 1/128 in.
var coats = map[string][]coat{
	"tapered joint":        {{4, 1. / 32}, {5, 1. / 32}, {8, 1. / 64}, {14, 1. / 128}},
	"tapered-to-cut joint": {{4, 1. / 32}, {8, 1. / 32}, {14, 1. / 64}, {18, 1. / 128}},
	"butt joint":           {{4, 1. / 32}, {8, 1. / 32}, {14, 1. / 64}, {18, 1. / 64}},
	"cut joint":            {{4, 1. / 32}, {8, 1. / 32}, {14, 1. / 64}, {18, 1. / 64}},
	ItemInside:             {{4, 1. / 32}, {0, 0}, {6, 1. / 64}, {0, 0}},
	ItemOutside:            {{4, 1. / 32}, {0, 0}, {0, 0}, {0, 0}},
	ItemBead:               {{0, 0}, {8, 1. / 32}, {12, 1. / 64}, {0, 0}},
	ItemControlBead:        {{0, 0}, {6, 1. / 32}, {8, 1. / 64}, {0, 0}},
	ItemTrim:               {{0, 0}, {4, 1. / 32}, {6, 1. / 64}, {0, 0}},
}

// passes is how many of the coats above a level of finish has: joints get tape
// at 1, a thin coat at 2 (counted as the fill), one more at 3 and 4.
// Source: GA-214, levels 0 to 2 as printed in a maker guide, 3 to 5 from memory.
var passes = [6]int{0, 1, 2, 3, 4, 4}

// spots is how many coats a fastener has at a level.
// Source: GA-214, levels 0 to 2 as printed in a maker guide, 3 to 5 from memory.
var spots = [6]int{0, 0, 1, 2, 3, 3}

const (
	spotVolume = 1.5 * 1.5 * math.Pi / 4 / 64 // in³: a spot 1-1/2 in across, 1/64 in thick; from memory
	skimThick  = 1. / 128                     // in, Level 5 over the whole face; from memory
)

// volumeNote writes litres of compound on its line, as it is bought.
func (t *taker) volumeNote(items []Item) {
	for i := range items {
		if items[i].Item != ItemCompound {
			continue
		}
		if t.sys == measure.Metric {
			items[i].Note = decimal(items[i].Litres) + " L"
		} else {
			items[i].Note = decimal(items[i].Litres/litresPerGallon) + " gal"
		}
	}
}

func clampLevel(level int) int { return min(max(level, 0), 5) }

// compound adds joint compound by storey.
func (t *taker) compound(lines []taped, sum *tally) {
	for _, x := range lines {
		cs := coats[x.item]
		vol := 0.0
		for i := 0; i < passes[clampLevel(x.level)] && i < len(cs); i++ {
			vol += cs[i].width * cs[i].thick
		}
		if vol > 0 && x.len > 0 {
			sum.add(Item{Item: ItemCompound, Litres: vol * x.len.Inches() * litresPerCubicInch, Storey: x.store}, x.run)
		}
	}
	for _, l := range t.layouts {
		t.spotAndSkim(l, sum)
	}
}

func (t *taker) spotAndSkim(l *layout.Layout, sum *tally) {
	vol := 0.0
	for i := range l.Pieces {
		p := &l.Pieces[i]
		if p.Ply != facePly(p.Face) {
			continue
		}
		level := clampLevel(p.Face.Finish)
		box := p.Outline.Bounds()
		if p.Face.Ceiling > 0 && box.Min.Y >= p.Face.Ceiling {
			continue
		}
		vol += float64(t.spots[p.ID]*spots[level]) * spotVolume
		if level == 5 {
			area := p.Area.M2()
			if c := p.Face.Ceiling; c > 0 && c < box.Max.Y {
				area *= float64(c-box.Min.Y) / float64(box.H())
			}
			vol += area / squareMetresPerSqFt * 144 * skimThick
		}
	}
	if vol > 0 {
		sum.add(Item{Item: ItemCompound, Litres: vol * litresPerCubicInch, Storey: l.Run.Storey}, l.Run.ID)
	}
}
