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
	r.checkDecks()
	r.checkPrices()
}

// checkNames sees that every name used is one that is defined.
func (r *reader) checkNames() {
	var types, frames, boards []string
	for _, t := range r.job.Types {
		types = append(types, t.Name)
	}
	for _, f := range r.job.Frames {
		frames = append(frames, f.Name)
	}
	for _, b := range r.job.Boards {
		boards = append(boards, b.Name)
	}
	storeys := r.job.plainStoreys()
	allPlans := !slices.ContainsFunc(r.job.Drawings, func(d Drawing) bool { return d.Model() })
	for _, key := range sortedKeys(r.at) {
		for prefix, use := range map[string]struct {
			what  string
			names []string
		}{
			"layer type ": {"type", types}, "wall type ": {"type", types}, "zone type ": {"type", types},
			"block frame ": {"frame", frames}, "price ": {"board", boards},
		} {
			if name, ok := strings.CutPrefix(key, prefix); ok {
				r.known(r.at[key], use.what, name, use.names)
			}
		}
		if name, ok := strings.CutPrefix(key, "ceiling storeys "); ok && allPlans {
			r.known(r.at[key], "storey", name, storeys)
		}
	}
	for i, d := range r.job.Decks {
		if n := r.at[fmt.Sprint("deck ", i)]; n != nil && d.Storey != "" && allPlans {
			r.known(n, "storey", d.Storey, storeys)
		}
	}
}

func sortedKeys(m map[string]*node) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
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
			most, source, ok := rules.MaxSpacing(r.sys, thin.Kind, thin.Thickness, len(s.Plies), false, "parallel")
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
				r.doubt(n, "decks", fmt.Sprintf("the deck, %s high, is under %s at %s", measure.Human(d.Highest(), r.sys), c.what, measure.Human(c.height, r.sys)))
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
			r.doubt(n, "prices.boards."+b.Name, "no price for "+b.Name+" "+strings.Join(bare, ", "))
		}
	}
}
