package job

import (
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// check looks across the file once all of it is read.
func (r *reader) check() {
	if len(r.errs) == 0 { // a default built on a fault would only mislead
		r.defaultHeights()
	}
	r.checkNames()
	r.checkSpacings()
	r.checkModules()
	r.checkDecks()
	r.checkPrices()
}

// checkNames sees that every name used is one that is defined. Storeys are
// known only where every drawing is a plan: a model has its own.
func (r *reader) checkNames() {
	defined := map[string][]string{"storey": r.job.plainStoreys()}
	for _, t := range r.job.Types {
		defined["type"] = append(defined["type"], t.Name)
	}
	for _, f := range r.job.Frames {
		defined["frame"] = append(defined["frame"], f.Name)
	}
	for _, b := range r.job.Boards {
		defined["board"] = append(defined["board"], b.Name)
	}
	models := slices.ContainsFunc(r.job.Drawings, func(d Drawing) bool { return d.Model() })
	for _, u := range r.uses {
		if u.what != "storey" || !models {
			r.known(u.at, u.what, u.name, defined[u.what])
		}
	}
}

// checkSpacings refuses board too thin for its studs' spacing.
// Source: the tables of rules.FrameSpacings, named in the message.
func (r *reader) checkSpacings() {
	for i := range r.job.Types {
		t := &r.job.Types[i]
		at := r.at["spacing "+t.Name]
		if at == nil {
			at = r.at["type "+t.Name]
		}
		if at == nil {
			continue
		}
		for _, s := range t.Sides {
			thin := r.thinnest(s.Plies)
			if thin == nil || t.Spacing == 0 {
				continue
			}
			most, source, ok := rules.MaxSpacing(r.sys, thin.Kind, thin.Thickness, len(s.Plies), false, t.Layout.along())
			switch {
			case !ok:
				r.fail(at, "%s is too thin to be hung on studs by itself; no table has it", thin.Name)
			case t.Spacing > most:
				r.fail(at, "studs %s apart are too far for %s: at most %s (%s)", measure.Human(t.Spacing, r.sys), thin.Name, measure.Human(most, r.sys), source)
			default:
				continue
			}
			break // the other side would say the same
		}
	}
}

// along says how the long edges of sheets run to the studs.
func (l Layout) along() string {
	if l == Horizontal {
		return "perpendicular"
	}
	return "parallel"
}

// checkModules doubts boards of which no sheet fits the studs' spacing: 54 in
// on 16 or 24 in, 1250 mm on 600 mm, 10 ft lying on 16 in. They can be hung,
// with a cut to every sheet. Source: derived from International Building Code
// 2021 2508.3, edges and ends on framing.
func (r *reader) checkModules() {
	for i := range r.job.Types {
		t := &r.job.Types[i]
		at := r.at["type "+t.Name]
		if at == nil || t.Layout == Cheaper || t.Spacing == 0 {
			continue
		}
		var seen []string
		for _, s := range t.Sides {
			for _, p := range s.Plies {
				b := r.job.Board(p)
				if b == nil || slices.Contains(seen, p) || b.fits(t.Spacing, t.Layout) {
					continue
				}
				seen = append(seen, p)
				r.doubt(at, "off-module", "types."+t.Name+".spacing", fmt.Sprintf("no sheet of %s ends on a stud at %s, hung %s: every one is cut", p, measure.Human(t.Spacing, r.sys), layoutWords[t.Layout]))
			}
		}
	}
}

// fits reports whether some sheet of b is a whole number of spacings across
// the studs.
func (b *Board) fits(spacing Length, l Layout) bool {
	for _, s := range b.Sheets {
		if l == Vertical && rules.OnModule(s.Width, spacing) {
			return true
		}
		if l == Horizontal && slices.ContainsFunc(s.Lengths, func(length Length) bool { return rules.OnModule(length, spacing) }) {
			return true
		}
	}
	return false
}

func (r *reader) thinnest(plies []string) *Board {
	var thin *Board
	for _, p := range plies {
		if b := r.job.Board(p); b != nil && b.Thickness > 0 && (thin == nil || b.Thickness < thin.Thickness) {
			thin = b
		}
	}
	return thin
}

// checkDecks refuses a deck that is wholly under a door's head, and doubts one
// under a ceiling. A deck over part of a storey may have no door under it.
func (r *reader) checkDecks() {
	for i := range r.job.Decks {
		d := &r.job.Decks[i]
		n := r.at[fmt.Sprint("deck ", i)]
		if n == nil || len(d.Outline) > 0 || d.Highest() == 0 {
			continue
		}
		for _, f := range r.job.Frames {
			head := f.Sill + f.Height + f.AddHeight
			if f.Height > 0 && !f.Assumed && d.Highest() < head {
				r.fail(n, "the deck, %s high, is under the head of frame %s at %s", measure.Human(d.Highest(), r.sys), f.Name, measure.Human(head, r.sys))
			}
		}
		for _, c := range []struct {
			height Length
			what   string
		}{{r.job.Ceilings.Default, "the ceiling"}, {r.job.Ceilings.ByStorey[d.Storey], "the ceiling of storey " + d.Storey}} {
			if c.height > 0 && d.Highest() < c.height {
				r.doubt(n, "deck-below-ceiling", "decks", fmt.Sprintf("the deck, %s high, is under %s at %s", measure.Human(d.Highest(), r.sys), c.what, measure.Human(c.height, r.sys)))
			}
		}
	}
}

// checkPrices doubts sheets without a price where others have one: they would
// seem to cost nothing.
func (r *reader) checkPrices() {
	p, n := r.job.Prices, r.at["prices"]
	if p == nil || len(p.PerSheet)+len(p.PerM2) == 0 {
		return
	}
	for _, b := range r.job.Boards {
		var bare []string
		for _, s := range b.Sheets {
			for _, l := range s.Lengths {
				if _, ok := p.Sheet(b.Name, s.Width, l, r.sys); !ok {
					bare = append(bare, measure.SheetName(s.Width, l, r.sys))
				}
			}
		}
		if len(bare) > 0 {
			r.doubt(n, "no-price", "prices.boards."+b.Name, "no price for "+b.Name+" "+strings.Join(bare, ", "))
		}
	}
}
