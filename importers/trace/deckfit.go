package trace

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// deckTol is how far a corner or a spot elevation may lie off the plane through
// the others before it is told. Source: own choice, under a deck gap's slack.
const deckTol = 3 * mm

// heightAt is a point of a deck's underside in the drawing.
type heightAt struct {
	plan.Point3
	src plan.Source
}

// faceDecks makes a deck of each face in space on a deck layer: a 3DFACE with
// three corners, or four that lie in a plane. Faces that stand upright are none.
func (t *tracer) faceDecks() {
	for i := range t.d.Others {
		o := &t.d.Others[i]
		if _, role := t.roleOf(&o.Common); role != Decks || len(o.Points) < 3 || len(o.Points) > 4 || o.Hidden && !t.opt.Hidden || o.Clipped {
			continue
		}
		var hs []heightAt
		var outline geom.Poly
		for _, p := range o.Points {
			if !finite([2]float64{p[0], p[1]}) || math.Abs(p[2]) > 1e9 {
				hs = nil
				break
			}
			h := heightAt{plan.Point3{X: measure.FromMM(p[0]), Y: measure.FromMM(p[1]), Z: measure.FromMM(p[2])}, t.sourceOf(&o.Common)}
			q := pt{X: h.X, Y: h.Y}
			if !slices.Contains(outline, q) {
				outline, hs = append(outline, q), append(hs, h)
			}
		}
		if len(hs) < 3 || math.Abs(areaM2(outline)) < 0.01 || !t.inRegion(o.At, o.At) {
			continue
		}
		if areaM2(outline) < 0 {
			slices.Reverse(outline)
		}
		t.usedEnt[o.Entity] = true
		d := plan.Deck{Storey: t.opt.Storey, Outline: canonical(outline), Sources: []plan.Source{t.sourceOf(&o.Common)}}
		t.fitDeck(&d, hs, "corner")
		t.out.Decks = append(t.out.Decks, d)
	}
}

// spots lists the elevations written on deck layers.
func (t *tracer) spots() []heightAt {
	var out []heightAt
	for _, k := range t.textsOf(Decks) {
		x := &t.d.Texts[k]
		if z, ok := elevation(x.Value, t.d.UnitMM); ok {
			p := gridPt(x.At)
			out = append(out, heightAt{plan.Point3{X: p.X, Y: p.Y, Z: z}, t.sourceOf(&x.Common)})
			t.usedEnt[x.Entity] = true
		}
	}
	return out
}

// elevation reads a spot elevation: a length, after a sign, or after words such
// as EL, T.O.S. or UK.
func elevation(s string, unitMM float64) (Length, bool) {
	s = strings.TrimSpace(s)
	i := strings.IndexFunc(s, func(r rune) bool { return unicode.IsDigit(r) })
	if i < 0 || i > 12 {
		return 0, false
	}
	if strings.HasSuffix(strings.TrimSpace(s[:i]), "-") || strings.HasSuffix(strings.TrimSpace(s[:i]), "−") {
		return 0, false // below the floor: no deck over it
	}
	z := sizeOf(s[i:], unitMM, 1500*mm, 40_000*mm)
	return z, z > 0
}

// liftDecks gives the decks drawn flat the elevations written in them: one for a
// level deck, three or more for a plane. Elevations with no outline at all make
// one deck of the whole storey.
func (t *tracer) liftDecks(level []int) {
	spots := t.spots()
	if len(spots) == 0 {
		return
	}
	in := func(d *plan.Deck) []heightAt {
		var out []heightAt
		for _, h := range spots {
			if inside(d.Outline, pt{X: h.X, Y: h.Y}) {
				out = append(out, h)
			}
		}
		return out
	}
	for _, i := range level {
		d := &t.out.Decks[i]
		hs := in(d)
		if len(hs) == 0 {
			continue
		}
		t.fitDeck(d, hs, "spot elevation")
	}
	if len(t.out.Decks) == 0 {
		d := plan.Deck{Storey: t.opt.Storey}
		t.fitDeck(&d, spots, "spot elevation")
		t.out.Decks = append(t.out.Decks, d)
	}
}

// fitDeck puts a deck's plane through heights: through all of them where they
// lie in one, else the plane of least squares, with the largest residual told.
// One height, or several in a line, give a level deck at their mean.
func (t *tracer) fitDeck(d *plan.Deck, hs []heightAt, what string) {
	slices.SortFunc(hs, func(a, b heightAt) int {
		return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X), cmp.Compare(a.Z, b.Z))
	})
	var c [3]float64 // mean
	for _, h := range hs {
		c[0] += float64(h.X) / float64(len(hs))
		c[1] += float64(h.Y) / float64(len(hs))
		c[2] += float64(h.Z) / float64(len(hs))
	}
	var xx, xy, yy, xz, yz float64
	for _, h := range hs {
		x, y, z := float64(h.X)-c[0], float64(h.Y)-c[1], float64(h.Z)-c[2]
		xx, xy, yy, xz, yz = xx+float64(x*x), xy+float64(x*y), yy+float64(y*y), xz+float64(x*z), yz+float64(y*z)
	}
	var sx, sy float64 // slopes
	det := float64(xx*yy) - float64(xy*xy)
	if flat := det <= 1e-9*float64((xx+yy)*(xx+yy)); !flat {
		sx = (float64(xz*yy) - float64(yz*xy)) / det
		sy = (float64(yz*xx) - float64(xz*xy)) / det
	}
	at := func(x, y Length) Length {
		return round(c[2] + float64(sx*(float64(x)-c[0])) + float64(sy*(float64(y)-c[1])))
	}
	worst, off := 0, Length(0)
	for i, h := range hs {
		if e := (h.Z - at(h.X, h.Y)).Abs(); e > off {
			worst, off = i, e
		}
		d.Sources = append(d.Sources, h.src)
	}
	d.Sources = sortSources(d.Sources)
	on := d.Outline
	if len(on) < 3 {
		o := pt{X: round(c[0]), Y: round(c[1])}
		on = geom.Poly{o, o.Add(pt{X: 10_000 * mm}), o.Add(pt{Y: 10_000 * mm})}
	}
	for i, k := range spread(on) {
		d.Plane[i] = plan.Point3{X: on[k].X, Y: on[k].Y, Z: at(on[k].X, on[k].Y)}
	}
	g := pt{X: hs[worst].X, Y: hs[worst].Y}
	e := plan.Exception{Severity: plan.Note, Code: CodeDeckFit, At: &g, Source: hs[worst].src, Span: off,
		Message: fmt.Sprintf("a deck's plane is put through %d heights, each a %s; the largest residual is %s", len(hs), what, sizeText(off)),
		Did:     "heights count from the storey's floor"}
	switch {
	case off > deckTol:
		e.Severity, e.Did = plan.Warning, "the plane of least squares holds; draw the deck in parts, or give its points in the job"
	case what == "corner":
		return
	}
	t.out.Exceptions = append(t.out.Exceptions, e)
}
