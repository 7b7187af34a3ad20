package geom

import (
	"cmp"
	"slices"

	"boardrun/internal/measure"
)

// Region is a plane figure cut into upright slabs: what is left of a face
// after holes, or one column of it. Slabs are sorted by U0, do not overlap and
// may leave gaps. Every band keeps the whole line that bounds it, so a sloped
// edge is rounded at most once however often the figure is cut.
type Region []Slab

// Slab is the part of a region between two upright lines, U0 < U1. Its bands
// are sorted upwards and do not overlap.
type Slab struct {
	U0, U1 Length
	Bands  []Band
}

// Band is the figure between two lines inside one slab.
type Band struct{ Bottom, Top Rise }

// Rise is a straight line from A to B, A.X < B.X, that bounds a band; it
// reaches at least from side to side of the band's slab.
type Rise struct{ A, B Pt }

// Flat returns the level line at height v.
func Flat(u0, u1, v Length) Rise { return Rise{Pt{u0, v}, Pt{u1, v}} }

// At returns the height of the line at u, rounded to the grid (halves up).
func (r Rise) At(u Length) Length {
	if r.A.Y == r.B.Y || u == r.A.X {
		return r.A.Y
	}
	if u == r.B.X {
		return r.B.Y
	}
	return r.A.Y + MulDiv(r.B.Y-r.A.Y, u-r.A.X, r.B.X-r.A.X)
}

// Under returns the region between the level line at bottom and the profile
// top, from u0 to u1. Where the profile dips below bottom there is nothing.
func Under(bottom Length, top Profile, u0, u1 Length) Region {
	var out Region
	floor := Flat(u0, u1, bottom)
	for _, r := range top.rises(u0, u1) {
		from, to := max(r.A.X, u0), min(r.B.X, u1)
		out = appendCut(out, from, to, floor, r)
	}
	return out
}

// rises returns the lines of p that cover [u0, u1], the level parts beyond its
// ends included.
func (p Profile) rises(u0, u1 Length) []Rise {
	if len(p) == 0 || u0 >= u1 {
		return nil
	}
	var out []Rise
	if u0 < p[0].X {
		out = append(out, Flat(u0, min(u1, p[0].X), p[0].Y))
	}
	for i := 1; i < len(p); i++ {
		if p[i].X > u0 && p[i-1].X < u1 {
			out = append(out, Rise{p[i-1], p[i]})
		}
	}
	last := p[len(p)-1]
	if u1 > last.X {
		out = append(out, Flat(max(u0, last.X), u1, last.Y))
	}
	return out
}

// appendCut appends the part of [u0, u1] where top is above bottom.
func appendCut(out Region, u0, u1 Length, bottom, top Rise) Region {
	cuts := []Length{u0, u1}
	if x, ok := meet(bottom, top, u0, u1); ok {
		cuts = []Length{u0, x, u1}
	}
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		if top.At(a)-bottom.At(a)+top.At(b)-bottom.At(b) > 0 {
			out = append(out, Slab{a, b, []Band{{bottom, top}}})
		}
	}
	return out
}

// meet returns where two lines cross strictly inside (u0, u1), rounded to the
// grid.
func meet(a, b Rise, u0, u1 Length) (Length, bool) {
	d0, d1 := a.At(u0)-b.At(u0), a.At(u1)-b.At(u1)
	if (d0 < 0) == (d1 < 0) || d0 == 0 || d1 == 0 {
		return 0, false
	}
	x := u0 + MulDiv(u1-u0, d0, d0-d1)
	return x, x > u0 && x < u1
}

// Clip returns the part of r inside the rectangle c.
func (r Region) Clip(c Rect) Region {
	floor, head := Flat(c.Min.X, c.Max.X, c.Min.Y), Flat(c.Min.X, c.Max.X, c.Max.Y)
	var out Region
	for _, s := range r {
		u0, u1 := max(s.U0, c.Min.X), min(s.U1, c.Max.X)
		if u0 >= u1 {
			continue
		}
		for _, part := range splitAt(u0, u1, s.Bands, floor, head) {
			var bands []Band
			for _, b := range s.Bands {
				bands = appendBand(bands, part[0], part[1], higher(b.Bottom, floor, part), lower(b.Top, head, part))
			}
			out = appendSlab(out, part[0], part[1], bands)
		}
	}
	return out
}

// Minus returns r without the polygon p. p is simple; its direction does not
// matter.
func (r Region) Minus(p Poly) Region {
	box := p.Bounds()
	edges := edgesOf(p)
	var out Region
	for _, s := range r {
		if s.U1 <= box.Min.X || s.U0 >= box.Max.X {
			out = append(out, s)
			continue
		}
		for _, part := range splitBy(s, p, edges) {
			bands := s.Bands
			inside := crossing(edges, part[0], part[1])
			for i := 0; i+1 < len(inside); i += 2 {
				bands = minusBand(bands, part, inside[i], inside[i+1])
			}
			out = appendSlab(out, part[0], part[1], bands)
		}
	}
	return out
}

// edgesOf returns the edges of p that are not upright, left to right.
func edgesOf(p Poly) []Rise {
	var out []Rise
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if a.X > b.X {
			a, b = b, a
		}
		if a.X < b.X {
			out = append(out, Rise{a, b})
		}
	}
	return out
}

// splitBy cuts the slab s wherever an edge of p begins, ends or crosses the
// bound of a band.
func splitBy(s Slab, p Poly, edges []Rise) [][2]Length {
	cuts := []Length{s.U0, s.U1}
	for _, q := range p {
		if q.X > s.U0 && q.X < s.U1 {
			cuts = append(cuts, q.X)
		}
	}
	for _, e := range edges {
		u0, u1 := max(e.A.X, s.U0), min(e.B.X, s.U1)
		if u0 >= u1 {
			continue
		}
		for _, b := range s.Bands {
			for _, line := range [2]Rise{b.Bottom, b.Top} {
				if x, ok := meet(line, e, u0, u1); ok {
					cuts = append(cuts, x)
				}
			}
		}
	}
	return pairs(cuts)
}

// splitAt cuts [u0, u1] where a band's bound crosses one of the lines.
func splitAt(u0, u1 Length, bands []Band, lines ...Rise) [][2]Length {
	cuts := []Length{u0, u1}
	for _, b := range bands {
		for _, l := range lines {
			for _, edge := range [2]Rise{b.Bottom, b.Top} {
				if x, ok := meet(edge, l, u0, u1); ok {
					cuts = append(cuts, x)
				}
			}
		}
	}
	return pairs(cuts)
}

func pairs(cuts []Length) [][2]Length {
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	out := make([][2]Length, 0, len(cuts)-1)
	for i := 1; i < len(cuts); i++ {
		out = append(out, [2]Length{cuts[i-1], cuts[i]})
	}
	return out
}

// crossing returns the edges that span [u0, u1], sorted upwards.
func crossing(edges []Rise, u0, u1 Length) []Rise {
	var in []Rise
	for _, e := range edges {
		if e.A.X <= u0 && e.B.X >= u1 {
			in = append(in, e)
		}
	}
	slices.SortStableFunc(in, func(a, b Rise) int {
		return cmp.Compare(a.At(u0)+a.At(u1), b.At(u0)+b.At(u1))
	})
	return in
}

func minusBand(bands []Band, part [2]Length, bottom, top Rise) []Band {
	var out []Band
	for _, b := range bands {
		out = appendBand(out, part[0], part[1], b.Bottom, lower(b.Top, bottom, part))
		out = appendBand(out, part[0], part[1], higher(b.Bottom, top, part), b.Top)
	}
	return out
}

func lower(a, b Rise, part [2]Length) Rise {
	if a.At(part[0])+a.At(part[1]) <= b.At(part[0])+b.At(part[1]) {
		return a
	}
	return b
}

func higher(a, b Rise, part [2]Length) Rise {
	if a.At(part[0])+a.At(part[1]) >= b.At(part[0])+b.At(part[1]) {
		return a
	}
	return b
}

func appendBand(out []Band, u0, u1 Length, bottom, top Rise) []Band {
	if top.At(u0)-bottom.At(u0)+top.At(u1)-bottom.At(u1) > 0 {
		out = append(out, Band{bottom, top})
	}
	return out
}

func appendSlab(out Region, u0, u1 Length, bands []Band) Region {
	if len(bands) == 0 {
		return out
	}
	return append(out, Slab{u0, u1, bands})
}

// Area returns the area of r. Half a square unit a slab may be lost.
func (r Region) Area() measure.Area {
	var twice measure.Area
	for _, s := range r {
		for _, b := range s.Bands {
			h := b.Top.At(s.U0) - b.Bottom.At(s.U0) + b.Top.At(s.U1) - b.Bottom.At(s.U1)
			twice += measure.Times(h, s.U1-s.U0)
		}
	}
	return twice / 2
}
