package trace

import (
	"slices"

	"boardrun/importers/linework"
	"boardrun/internal/measure"
)

// classOf returns the class most of two faces is drawn on between s0 and s1;
// of equals the lesser index, and classes are sorted by layer.
func (t *tracer) classOf(a, b *edge, s0, s1 Length) int32 {
	var first int32 = -1
	one := true
	var by map[int32]Length
	for _, e := range [2]*edge{a, b} {
		for _, p := range e.parts {
			l := min(p.s1, s1) - max(p.s0, s0)
			if l <= 0 {
				continue
			}
			c := t.src[p.src].class
			if first < 0 {
				first = c
			}
			if c != first && one {
				one = false
				by = map[int32]Length{}
			}
		}
	}
	if one {
		return max(first, 0)
	}
	for _, e := range [2]*edge{a, b} {
		for _, p := range e.parts {
			if l := min(p.s1, s1) - max(p.s0, s0); l > 0 {
				by[t.src[p.src].class] += l
			}
		}
	}
	best := int32(0)
	for c := int32(0); c < int32(len(t.classes)); c++ {
		if by[c] > by[best] {
			best = c
		}
	}
	return best
}

// classCuts returns where both faces pass from one class to another within a
// hand's breadth: there one wall ends and the next begins.
func (t *tracer) classCuts(a, b *edge, s0, s1 Length) []Length {
	if len(t.classes) < 2 || len(a.parts) < 2 || len(b.parts) < 2 {
		return nil
	}
	ca, cb := t.changes(a), t.changes(b)
	var out []Length
	for _, x := range ca {
		for _, y := range cb {
			if (x - y).Abs() <= 50*mm {
				if m := (x + y) / 2; m > s0+Eps && m < s1-Eps {
					out = append(out, m)
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// changes returns the stations where an edge passes from one class to another.
func (t *tracer) changes(e *edge) []Length {
	var out []Length
	for i := 1; i < len(e.parts); i++ {
		if t.src[e.parts[i].src].class != t.src[e.parts[i-1].src].class {
			out = append(out, e.parts[i].s0)
		}
	}
	return out
}

// newClass settles what a wall layer says: the job's word first, then its name.
func newClass(layer string, u LayerUse, opt *Options) class {
	if u.Status == nil {
		s := StatusOf(layer)
		u.Status = &s
	}
	if u.Kind == nil {
		k := KindOf(layer)
		u.Kind = &k
	}
	if u.Drawn == DrawnAuto {
		u.Drawn = opt.Drawn
	}
	if u.Thickness == 0 {
		u.Thickness = opt.TypeOf[u.Type]
	}
	if u.Drawn == DrawnAuto && centreWords.in(plain(layer)) {
		u.Drawn = DrawnCentre
	}
	if u.Drawn == DrawnCentre && u.Thickness == 0 {
		u.Thickness = thicknessIn(layer)
	}
	return class{layer, u}
}

var centreWords = words{
	whole: []string{"cl", "axis", "axe", "axes", "eje", "ejes"},
	any:   []string{"cntr", "center", "centre", "achse", "mittel", "centro", "осев"},
}

// isCentre reports whether a piece on the layer is a centreline: the layer is
// one of centrelines, or the line is a polyline as wide as a wall.
func (c *class) isCentre(s *linework.Segment) bool {
	if c.use.Drawn == DrawnCentre {
		return true
	}
	return c.use.Drawn == DrawnAuto && measure.FromMM(s.Width) >= minThick && measure.FromMM(s.Width) <= maxThick
}

// centreThickness is how thick the wall of a centreline is: as the job or the
// layer's name says, or as wide as its polyline; 0 if nobody said.
func (t *tracer) centreThickness(src int32) Length {
	if th := t.classes[t.src[src].class].use.Thickness; th > 0 {
		return th
	}
	if w := t.src[src].width; w >= minThick && w <= maxThick {
		return w
	}
	return 0
}
