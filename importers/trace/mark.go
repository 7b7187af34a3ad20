package trace

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// markReach is how far from an opening its mark may stand.
// Source: common practice, none published.
const markReach = 1500 * mm

// markOpenings reads the writing on layers of door and window marks: each gives
// the opening nearest to it its mark, if that has none, or a leaf size written
// as one ("3068", "900x2100").
func (t *tracer) markOpenings() {
	var ix boxIndex
	at := make([]pt, len(t.out.Openings))
	for i := range t.out.Openings {
		at[i] = t.placeOf(&t.out.Openings[i])
		ix.add(int32(i), at[i])
	}
	for _, k := range t.textsOf(OpeningText) {
		x := &t.d.Texts[k]
		v := strings.TrimSpace(x.Value)
		if v == "" || len(v) > 24 || t.usedEnt[x.Entity] {
			continue
		}
		p := gridPt(x.At)
		best, off := int32(-1), math.Inf(1)
		ix.search(markReach, func(i int32) {
			if d := math.Sqrt(norm2(at[i].Sub(p))) - float64(t.out.Openings[i].Width)/2; d < off || d == off && i < best {
				best, off = i, d
			}
		}, p)
		if best < 0 || off > float64(markReach) {
			continue
		}
		t.usedEnt[x.Entity] = true
		o := &t.out.Openings[best]
		if w, h, ok := sizePair(v, t.d.UnitMM); ok {
			if o.Leaf[0] == 0 {
				o.Leaf = [2]Length{w, h}
			}
			setHead(o, h, "tag")
		} else if o.Mark == "" && sizeOf(v, t.d.UnitMM, 250*mm, 6000*mm) == 0 {
			o.Mark = v
		}
		o.Sources = sortSources(append(o.Sources, t.sourceOf(&x.Common)))
	}
}

// placeOf is the middle of an opening in the drawing.
func (t *tracer) placeOf(o *plan.Opening) pt {
	w := &t.out.Walls[o.Wall]
	if w.Arc != nil {
		a := w.Arc.Start*math.Pi/180 + math.Copysign(float64(o.At)/float64(w.Arc.Radius), w.Arc.Sweep)
		return pt{X: w.Arc.Centre.X + round(float64(w.Arc.Radius)*math.Cos(a)), Y: w.Arc.Centre.Y + round(float64(w.Arc.Radius)*math.Sin(a))}
	}
	d := w.Axis[1].Sub(w.Axis[0])
	l := math.Sqrt(norm2(d))
	if l == 0 {
		return w.Axis[0]
	}
	return w.Axis[0].Add(pt{X: round(float64(d.X) * float64(o.At) / l), Y: round(float64(d.Y) * float64(o.At) / l)})
}

// schedule reads tables of openings drawn as writing: a mark that an opening
// has, standing by itself away from it, and in its row to the right a width and
// a height, or a size of both, and the kind of frame. What a block already says
// holds.
func (t *tracer) schedule() {
	by := map[string][]int{}
	for i := range t.out.Openings {
		if m := t.out.Openings[i].Mark; m != "" {
			by[m] = append(by[m], i)
		}
	}
	if len(by) == 0 {
		return
	}
	type cell struct {
		x, y, h float64
		v       string
		k       int
	}
	var cells []cell
	for k := range t.d.Texts {
		x := &t.d.Texts[k]
		if x.Hidden && !t.opt.Hidden || !finite(x.At) || x.Type == "ATTRIB" {
			continue
		}
		if v := strings.TrimSpace(x.Value); v != "" && len(v) <= 40 {
			cells = append(cells, cell{x.At[0], x.At[1], x.Height, v, k})
		}
	}
	slices.SortFunc(cells, func(a, b cell) int {
		return cmp.Or(-cmp.Compare(a.y, b.y), cmp.Compare(a.x, b.x), cmp.Compare(a.v, b.v))
	})
	for i, c := range cells {
		ops := by[c.v]
		if len(ops) == 0 || c.h <= 0 {
			continue
		}
		far := true
		for _, o := range ops {
			p := t.placeOf(&t.out.Openings[o])
			far = far && math.Hypot(p.X.MM()-c.x, p.Y.MM()-c.y) > 3000
		}
		if !far {
			continue
		}
		var row []cell
		for d := -1; d <= 1; d += 2 {
			for j := i + d; j >= 0 && j < len(cells) && math.Abs(cells[j].y-c.y) <= 0.7*c.h; j += d {
				if cells[j].x > c.x && cells[j].x < c.x+60*c.h {
					row = append(row, cells[j])
				}
			}
		}
		slices.SortFunc(row, func(a, b cell) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.v, b.v)) })
		var sizes []Length
		for _, r := range row {
			if w, h, ok := sizePair(r.v, t.d.UnitMM); ok {
				sizes = []Length{w, h}
				break
			}
			if s := sizeOf(r.v, t.d.UnitMM, 400*mm, 4000*mm); s > 0 {
				sizes = append(sizes, s)
			}
		}
		if len(sizes) < 2 {
			continue
		}
		frame := ""
		for _, r := range row { // leaf before frame, where both columns name a material
			if frameWord(r.v) {
				frame = r.v
			}
		}
		for _, o := range ops {
			t.out.Openings[o].Frame = frame
			t.scheduled(&t.out.Openings[o], sizes[0], sizes[1], t.sourceOf(&t.d.Texts[c.k].Common))
		}
		t.usedEnt[t.d.Texts[c.k].Entity] = true
	}
}

// frameWords are kinds of frame and their materials as schedules write them.
// Source: common practice, none published.
var frameWords = []string{"hm", "hollow metal", "stl", "steel", "welded", "kd", "knock-down", "knock down", "knockdown", "knocked down", "slip-on", "slip on",
	"alum", "aluminum", "aluminium", "al", "wd", "wood", "timber", "cased", "none", "stahl", "holz", "stahlzarge", "holzzarge", "umfassungszarge", "eckzarge", "blockzarge"}

// frameWord reports whether a cell of a schedule names a kind of frame.
func frameWord(s string) bool {
	return slices.Contains(frameWords, strings.ToLower(strings.Trim(s, " .")))
}

func (t *tracer) scheduled(o *plan.Opening, w, h Length, src plan.Source) {
	if o.Leaf[0] == 0 {
		o.Leaf = [2]Length{w, h}
	}
	setHead(o, h, "schedule")
	if d := (w - o.Width).Abs(); d > 150*measure.Millimetre && o.Doubt == "" {
		o.Doubt = "the schedule says " + sizeText(w) + ", between the jambs are " + sizeText(o.Width)
	}
	o.Sources = sortSources(append(o.Sources, src))
}
