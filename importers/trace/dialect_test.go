package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
)

// hall is an invented storey: walls along the axes with openings, drawn below
// in as many ways as people draw.
type hallWall struct {
	x0, y0, x1, y1, t float64
	ops               []hallOpening
}

type hallOpening struct {
	u, w float64
	kind string // door, window, cased
}

func hall() []hallWall {
	d := func(u float64) hallOpening { return hallOpening{u, 914.4, "door"} }
	w := func(u float64) hallOpening { return hallOpening{u, 1500, "window"} }
	return []hallWall{
		{0, 0, 20000, 0, 203.2, []hallOpening{w(2000), w(6500), w(11500)}},
		{20000, 0, 20000, 12000, 203.2, []hallOpening{w(1250), d(6000)}},
		{0, 12000, 20000, 12000, 203.2, []hallOpening{w(3000), w(9000)}},
		{0, 0, 0, 12000, 203.2, []hallOpening{d(6000)}},
		{0, 5000, 20000, 5000, 155.575, []hallOpening{d(1000), d(5000), d(10500), {16000, 1800, "cased"}}},
		{0, 7000, 20000, 7000, 155.575, []hallOpening{d(1200), d(7000), d(14500), d(18500)}},
		{4000, 0, 4000, 5000, 123.825, nil},
		{9000, 0, 9000, 5000, 123.825, []hallOpening{d(1000)}},
		{14500, 0, 14500, 5000, 123.825, []hallOpening{d(3700)}},
		{9000, 2500, 20000, 2500, 123.825, []hallOpening{d(2000)}}, // crosses the wall before
		{6000, 7000, 6000, 12000, 123.825, nil},
		{12000, 7000, 12000, 12000, 123.825, []hallOpening{d(700)}},
		{12000, 9000, 13500, 9000, 92.075, []hallOpening{{800, 711.2, "door"}}}, // a closet
		{13500, 9000, 13500, 12000, 92.075, nil},
		{16000, 7000, 16000, 12000, 123.825, nil}, // a shaft 326 mm wide between two walls
		{16450, 7000, 16450, 12000, 123.825, nil},
		{6000, 9500, 7500, 9500, 123.825, nil}, // a stub with a free end
	}
}

func (w hallWall) length() float64 { return math.Hypot(w.x1-w.x0, w.y1-w.y0) }

func (w hallWall) at(u, r float64) orb.Point {
	l := w.length()
	dx, dy := (w.x1-w.x0)/l, (w.y1-w.y0)/l
	return orb.Point{w.x0 + dx*u - dy*r, w.y0 + dy*u + dx*r}
}

// box is the rectangle of a stretch of a wall: x0, y0, x1, y1.
func (w hallWall) box(u0, u1, t float64) [4]float64 {
	a, b := w.at(u0, -t/2), w.at(u1, t/2)
	return [4]float64{min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])}
}

// solids are the wall bodies, carried on through the corners, and the holes.
func solids(ws []hallWall, thin float64) (body, holes [][4]float64) {
	for i, w := range ws {
		t := w.t - thin
		// at a corner each body runs on to the far face of the other
		ext := [2]float64{}
		for j, o := range ws {
			if i == j {
				continue
			}
			for e, p := range [2]orb.Point{{w.x0, w.y0}, {w.x1, w.y1}} {
				if (p == orb.Point{o.x0, o.y0}) || (p == orb.Point{o.x1, o.y1}) {
					ext[e] = max(ext[e], (o.t-thin)/2)
				}
			}
		}
		body = append(body, w.box(-ext[0], w.length()+ext[1], t))
		for _, op := range w.ops {
			holes = append(holes, w.box(op.u-op.w/2, op.u+op.w/2, w.t))
		}
	}
	return body, holes
}

type seg struct{ a, b orb.Point }

// outline is the boundary of the union of the bodies less the holes, on the
// grid of their coordinates: an oracle that knows nothing of walls.
func outline(body, holes [][4]float64) []seg {
	var xs, ys []float64
	for _, r := range append(slices.Clone(body), holes...) {
		xs = append(xs, r[0], r[2])
		ys = append(ys, r[1], r[3])
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	in := func(i, j int) bool {
		if i < 0 || j < 0 || i >= len(xs)-1 || j >= len(ys)-1 {
			return false
		}
		x, y := (xs[i]+xs[i+1])/2, (ys[j]+ys[j+1])/2
		hit := func(rs [][4]float64) bool {
			for _, r := range rs {
				if x > r[0] && x < r[2] && y > r[1] && y < r[3] {
					return true
				}
			}
			return false
		}
		return hit(body) && !hit(holes)
	}
	var out []seg
	for j := range ys {
		for i := 0; i < len(xs)-1; i++ {
			if in(i, j) == in(i, j-1) {
				continue
			}
			k := i + 1
			for k < len(xs)-1 && in(k, j) != in(k, j-1) && in(k, j) == in(i, j) {
				k++
			}
			out = append(out, seg{orb.Point{xs[i], ys[j]}, orb.Point{xs[k], ys[j]}})
			i = k - 1
		}
	}
	for i := range xs {
		for j := 0; j < len(ys)-1; j++ {
			if in(i, j) == in(i-1, j) {
				continue
			}
			k := j + 1
			for k < len(ys)-1 && in(i, k) != in(i-1, k) && in(i, k) == in(i, j) {
				k++
			}
			out = append(out, seg{orb.Point{xs[i], ys[j]}, orb.Point{xs[i], ys[k]}})
			j = k - 1
		}
	}
	return out
}

// sheet collects a drawing.
type sheet struct {
	d linework.Drawing
	n int
}

func newSheet() *sheet { return &sheet{d: linework.Drawing{File: "hall.dxf", UnitMM: 1}} }

func (s *sheet) common(layer, typ string) linework.Common {
	s.n++
	return linework.Common{Ref: linework.Ref{Handle: fmt.Sprintf("%X", 0x100+s.n)}, Layer: layer, Type: typ, Insert: -1, Entity: s.n, Linetype: "Continuous"}
}

func (s *sheet) line(layer string, a, b orb.Point) {
	s.d.Segments = append(s.d.Segments, linework.Segment{Common: s.common(layer, "LINE"), A: a, B: b})
}

func (s *sheet) lines(layer string, ls []seg) {
	for _, l := range ls {
		s.line(layer, l.a, l.b)
	}
}

// door draws a block with a leaf and a swing, hinged at the first jamb.
func (s *sheet) door(layer string, w hallWall, op hallOpening, mark string) {
	a := op.u - op.w/2
	c := s.common(layer, "INSERT")
	n := linework.Insert{Common: c, Name: "D36", At: w.at(a, 0), ScaleX: 1, ScaleY: 1, Parent: -1,
		Box:     [4]orb.Point{w.at(a, 0), w.at(a+op.w, 0), w.at(a+op.w, op.w), w.at(a, op.w)},
		Attribs: map[string]string{"MARK": mark, "WIDTH": fmt.Sprint(op.w), "HEIGHT": "2133.6"}}
	s.d.Inserts = append(s.d.Inserts, n)
	s.swing(layer, w, op, c.Handle+"/", len(s.d.Inserts)-1)
}

// swing draws a door's leaf and swing, in a block if path is given.
func (s *sheet) swing(layer string, w hallWall, op hallOpening, path string, insert int) {
	a := op.u - op.w/2
	h := w.at(a, 0)
	tip := w.at(a+op.w, 0)
	start := math.Atan2(tip[1]-h[1], tip[0]-h[0]) * 180 / math.Pi
	c := s.common(layer, "ARC")
	c.Handle = path + c.Handle
	if path != "" {
		c.Insert, c.Block = insert, "D36"
	}
	s.d.Arcs = append(s.d.Arcs, linework.Arc{Common: c, Centre: h, Radius: op.w, Start: start, End: start + 90})
	l := s.common(layer, "LINE")
	l.Handle, l.Insert, l.Block = path+l.Handle, c.Insert, c.Block
	s.d.Segments = append(s.d.Segments, linework.Segment{Common: l, A: h, B: w.at(a, op.w)})
}

func (s *sheet) openings(ws []hallWall, doorLayer, winLayer string) {
	k := 0
	for _, w := range ws {
		for _, op := range w.ops {
			k++
			switch op.kind {
			case "door":
				s.door(doorLayer, w, op, fmt.Sprintf("D%d", k))
			case "window":
				for _, r := range [4]float64{-w.t / 2, -20, 20, w.t / 2} {
					s.line(winLayer, w.at(op.u-op.w/2, r), w.at(op.u+op.w/2, r))
				}
			}
		}
	}
}

// hallTruth is the truth in the form the scorer reads.
func hallTruth(ws []hallWall) truth {
	var tr truth
	for _, w := range ws {
		tr.Runs = append(tr.Runs, struct {
			ID        string        `json:"id"`
			Type      string        `json:"type"`
			Axis      [2][2]float64 `json:"axis_mm"`
			Length    float64       `json:"length_mm"`
			Thickness float64       `json:"thickness_mm"`
			Arc       *struct {
				Centre [2]float64 `json:"centre_mm"`
				Radius float64    `json:"radius_mm"`
				Start  float64    `json:"start_deg"`
				Sweep  float64    `json:"sweep_deg"`
			} `json:"arc"`
		}{Axis: [2][2]float64{{w.x0, w.y0}, {w.x1, w.y1}}, Length: w.length(), Thickness: w.t})
		for _, op := range w.ops {
			c := w.at(op.u, 0)
			tr.Openings = append(tr.Openings, struct {
				ID     string     `json:"id"`
				Kind   string     `json:"kind"`
				Mark   string     `json:"mark"`
				Centre [2]float64 `json:"centre_mm"`
				Width  float64    `json:"width_mm"`
				Head   float64    `json:"head_mm"`
			}{Kind: op.kind, Centre: c, Width: op.w})
		}
	}
	return tr
}

// loops chains the boundary into closed rings.
func loops(ls []seg) []orb.Ring {
	from := map[orb.Point][]int{}
	for i, l := range ls {
		from[l.a] = append(from[l.a], i)
		from[l.b] = append(from[l.b], i)
	}
	used := make([]bool, len(ls))
	var out []orb.Ring
	for i := range ls {
		if used[i] {
			continue
		}
		used[i] = true
		r := orb.Ring{ls[i].a, ls[i].b}
		for r[len(r)-1] != r[0] {
			p := r[len(r)-1]
			k := -1
			for _, j := range from[p] {
				if !used[j] {
					k = j
				}
			}
			if k < 0 {
				break
			}
			used[k] = true
			if ls[k].a == p {
				r = append(r, ls[k].b)
			} else {
				r = append(r, ls[k].a)
			}
		}
		out = append(out, r[:len(r)-1])
	}
	return out
}

// dialect is one way to draw the hall.
type dialect struct {
	name  string
	draw  func(s *sheet, ws []hallWall)
	walls float64 // least recall and precision of walls; 0 = 0.999
	ops   float64 // of openings
	opt   trace.Options
}

func dialects() []dialect {
	faces := func(ws []hallWall) []seg { return outline(solids(ws, 0)) }
	return []dialect{
		{name: "faces", draw: func(s *sheet, ws []hallWall) {
			s.lines("A-WALL", faces(ws))
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "everything on layer 0", draw: func(s *sheet, ws []hallWall) {
			s.lines("0", faces(ws))
			s.openings(ws, "0", "0")
		}, ops: 0.5},
		{name: "four lines: boards and studs", draw: func(s *sheet, ws []hallWall) {
			s.lines("A-WALL", faces(ws))
			s.lines("A-WALL", outline(solids(ws, 2*15.875)))
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "closed outlines", draw: func(s *sheet, ws []hallWall) {
			for _, r := range loops(faces(ws)) {
				c := s.common("A-WALL", "LWPOLYLINE")
				for i := range r {
					s.d.Segments = append(s.d.Segments, linework.Segment{Common: c, A: r[i], B: r[(i+1)%len(r)], Closed: true, Index: i})
				}
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "poche alone", draw: func(s *sheet, ws []hallWall) {
			for _, r := range loops(faces(ws)) {
				s.d.Fills = append(s.d.Fills, linework.Fill{Common: s.common("A-WALL-PATT", "HATCH"), Rings: []orb.Ring{r}, Pattern: "SOLID"})
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "uncleaned: every wall a rectangle", draw: func(s *sheet, ws []hallWall) {
			for _, w := range ws {
				u := 0.0
				for _, op := range append(slices.Clone(w.ops), hallOpening{u: w.length(), w: 0}) {
					b := w.box(u, op.u-op.w/2, w.t)
					p := [4]orb.Point{{b[0], b[1]}, {b[2], b[1]}, {b[2], b[3]}, {b[0], b[3]}}
					for i := range p {
						s.line("A-WALL", p[i], p[(i+1)%4])
					}
					u = op.u + op.w/2
				}
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "ends short and long by 4 mm", draw: func(s *sheet, ws []hallWall) {
			rng := rand.New(rand.NewSource(3))
			for _, l := range faces(ws) {
				dx, dy := l.b[0]-l.a[0], l.b[1]-l.a[1]
				n := math.Hypot(dx, dy)
				p, q := (rng.Float64()-0.5)*8, (rng.Float64()-0.5)*8
				s.line("A-WALL", orb.Point{l.a[0] + dx/n*p, l.a[1] + dy/n*p}, orb.Point{l.b[0] + dx/n*q, l.b[1] + dy/n*q})
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}, ops: 0.5},
		{name: "faces off by 0.4 mm", draw: func(s *sheet, ws []hallWall) {
			rng := rand.New(rand.NewSource(4))
			for _, l := range faces(ws) {
				dx, dy := l.b[0]-l.a[0], l.b[1]-l.a[1]
				n := math.Hypot(dx, dy)
				r := (rng.Float64() - 0.5) * 0.8
				s.line("A-WALL", orb.Point{l.a[0] - dy/n*r, l.a[1] + dx/n*r}, orb.Point{l.b[0] - dy/n*r, l.b[1] + dx/n*r})
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
		{name: "out of square: lines turned by up to 0.05 degrees", draw: func(s *sheet, ws []hallWall) {
			rng := rand.New(rand.NewSource(5))
			for _, l := range faces(ws) {
				a := (rng.Float64() - 0.5) * 0.1 * math.Pi / 180
				mx, my := (l.a[0]+l.b[0])/2, (l.a[1]+l.b[1])/2
				turn := func(p orb.Point) orb.Point {
					x, y := p[0]-mx, p[1]-my
					return orb.Point{mx + x*math.Cos(a) - y*math.Sin(a), my + x*math.Sin(a) + y*math.Cos(a)}
				}
				s.line("A-WALL", turn(l.a), turn(l.b))
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}, walls: 0.9, ops: 0.9},
		{name: "no jamb lines", draw: func(s *sheet, ws []hallWall) {
			_, holes := solids(ws, 0)
			for _, l := range faces(ws) {
				jamb := false
				for _, h := range holes {
					m := orb.Point{(l.a[0] + l.b[0]) / 2, (l.a[1] + l.b[1]) / 2}
					jamb = jamb || m[0] >= h[0]-1 && m[0] <= h[2]+1 && m[1] >= h[1]-1 && m[1] <= h[3]+1
				}
				if !jamb {
					s.line("A-WALL", l.a, l.b)
				}
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}, walls: 0.98, ops: 0.95}, // nothing at all tells of the cased opening
		{name: "lines drawn through the openings, blocks over them", draw: func(s *sheet, ws []hallWall) {
			plain := slices.Clone(ws)
			for i := range plain {
				plain[i].ops = nil
			}
			s.lines("A-WALL", faces(plain))
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}, ops: 0.5},
		{name: "swings and leaves without blocks", draw: func(s *sheet, ws []hallWall) {
			s.lines("A-WALL", faces(ws))
			for _, w := range ws {
				for _, op := range w.ops {
					if op.kind == "door" {
						s.swing("A-DOOR", w, op, "", -1)
					}
				}
			}
		}},
		{name: "centrelines through the openings", draw: func(s *sheet, ws []hallWall) {
			for _, w := range ws {
				s.line(fmt.Sprintf("A-WALL-CNTR-%gmm", w.t), orb.Point{w.x0, w.y0}, orb.Point{w.x1, w.y1})
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}, ops: 0.5},
		{name: "wide polylines", draw: func(s *sheet, ws []hallWall) {
			for _, w := range ws {
				u := 0.0
				for _, op := range append(slices.Clone(w.ops), hallOpening{u: w.length(), w: 0}) {
					s.d.Segments = append(s.d.Segments, linework.Segment{Common: s.common("A-WALL", "LWPOLYLINE"), A: w.at(u, 0), B: w.at(op.u-op.w/2, 0), Width: w.t})
					u = op.u + op.w/2
				}
			}
			s.openings(ws, "A-DOOR", "A-GLAZ")
		}},
	}
}

// Oracle: the spec of the hall; faces are the outline of a union of rectangles.
func TestTrace_dialects(t *testing.T) {
	ws := hall()
	tr := hallTruth(ws)
	for _, dl := range dialects() {
		t.Run(dl.name, func(t *testing.T) {
			s := newSheet()
			dl.draw(s, ws)
			for _, l := range layersOf(&s.d) {
				s.d.Layers = append(s.d.Layers, linework.Layer{Name: l})
			}
			opt := dl.opt
			opt.Storey = "1"
			p := trace.Trace(&s.d, trace.Propose(&s.d), opt)
			sc := scoreOf(tr, p)
			need, ops := dl.walls, dl.ops
			if need == 0 {
				need = 0.999
			}
			if ops == 0 {
				ops = 1
			}
			if sc.recall < need || sc.precision < need {
				t.Errorf("walls: recall %.4f precision %.4f, want %.3f", sc.recall, sc.precision, need)
			}
			if sc.openRecall < ops || sc.openPrecision < ops {
				t.Errorf("openings: recall %.4f precision %.4f, want %.2f", sc.openRecall, sc.openPrecision, ops)
			}
			if !p.Ledger[0].Balanced() {
				t.Errorf("ledger does not add up: %+v", p.Ledger[0])
			}
			t.Logf("walls %.4f/%.4f (%d of %d) openings %.4f/%.4f rooms %d used %.4f", sc.recall, sc.precision, len(p.Walls), len(ws), sc.openRecall, sc.openPrecision,
				len(p.Rooms), p.Ledger[0].WallLineUsedMM/p.Ledger[0].WallLineMM)
		})
	}
}

func layersOf(d *linework.Drawing) []string {
	var out []string
	for _, s := range d.Segments {
		out = append(out, s.Layer)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
