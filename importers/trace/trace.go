package trace

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Trace reads a drawing's linework as the mapping says and returns its walls,
// openings, rooms and obstacles as the single drawing of a plan, with ledger
// and exceptions. It never fails: what it cannot read it lists.
func Trace(d *linework.Drawing, m Mapping, opt Options) *plan.Plan {
	t := trace(d, m, opt, shiftTol)
	if l := t.out.Ledger[0]; l.WallLineUsedMM < loose*l.WallLineMM && len(t.walls) < maxCheck {
		o := trace(d, m, opt, looseTol)
		if k := o.out.Ledger[0]; k.WallLineUsedMM > l.WallLineUsedMM+(1-loose)*0.2*l.WallLineMM {
			o.tellLoose(l, k)
			return &o.out
		}
	}
	return &t.out
}

// loose is the share of wall line below which a drawing is tried once more with
// directions taken loosely. Source: own choice.
const loose = 0.97

// tellLoose notes that lines were turned further than a careful drawing needs.
func (t *tracer) tellLoose(was, is plan.Ledger) {
	at := t.global(pt{})
	if len(t.out.Walls) > 0 {
		at = t.out.Walls[0].Axis[0]
	}
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Warning, Code: "directions-loose", At: &at, Source: plan.Source{File: t.d.File},
		Message: fmt.Sprintf("faces of many walls are not quite parallel: %.1f of %.1f m of wall line pairs up as drawn, %.1f m if a line's end may move %s",
			was.WallLineUsedMM/1000, was.WallLineMM/1000, is.WallLineUsedMM/1000, sizeText(looseTol)),
		Did: "ends moved; scale a known wall before trusting lengths to the millimetre",
	})
}

// trace is Trace with one tolerance.
func trace(d *linework.Drawing, m Mapping, opt Options, shift float64) *tracer {
	t := newTracer(d, m, opt, shift)
	t.find()
	t.emit()
	t.tell()
	return t
}

func newTracer(d *linework.Drawing, m Mapping, opt Options, shift float64) *tracer {
	t := &tracer{d: d, m: m, opt: opt, shift: shift}
	if len(opt.Region) > 0 {
		t.region = []geom.Poly{opt.Region}
	} else if opt.Views {
		t.chooseViews()
	}
	return t
}

// find makes walls of the linework.
func (t *tracer) find() {
	t.collect()
	t.poche()
	t.linkHosts()
	t.loneSwings()
	t.marks.index()
	t.strandAll()
	t.dropSwallowed()
	t.dropGlazing()
	t.indexSpans()
	t.bridgeAll()
	t.indexWalls()
	t.adoptHosts()
	t.adoptGlass()
	t.solveEnds()
	t.dropNoise()
}

// strandAll pairs the lines up and strings the pairs.
func (t *tracer) strandAll() {
	t.buildBundles()
	t.curveBundles()
	t.learnThickness()
	t.pairAll()
	t.centreStrands()
}

// tell accounts for the linework and adds what stands beside the walls: rooms,
// tags, marks, columns, doubts.
func (t *tracer) tell() {
	t.cover()
	t.markUsed()
	t.piers()
	t.usedFills()
	t.rooms()
	t.tagWalls()
	t.markOpenings()
	t.schedule()
	t.columns()
	t.notes()
	t.crossCheck()
	t.account()
	t.doubts()
	t.drawLines()
}

// buildBundles sorts the wall strokes into frames and merges them into edges.
func (t *tracer) buildBundles() {
	all := append(slices.Clone(t.walls), t.centres...)
	frames, of := directions(all, t.shift)
	parts := make([][]part, len(frames))
	t.centreParts = make([][]part, len(frames))
	for i, st := range all {
		f := &frames[of[i]]
		s0, r0 := f.to(st.a)
		s1, r1 := f.to(st.b)
		p := part{(r0 + r1) / 2, min(s0, s1), max(s0, s1), st.src}
		if i < len(t.walls) {
			parts[of[i]] = append(parts[of[i]], p)
		} else {
			t.centreParts[of[i]] = append(t.centreParts[of[i]], p)
		}
	}
	for i := range frames {
		b := bundle{fr: frames[i], edges: mergeParts(parts[i])}
		t.bundles = append(t.bundles, b)
	}
}

// learnThickness runs over all bundles once to see which distances faces keep.
func (t *tracer) learnThickness() {
	parts := make([]*thickness, len(t.bundles))
	t.eachBundle(func(i int) {
		b := &t.bundles[i]
		if len(b.edges) < 2 {
			return
		}
		h := newThickness(nil, t.opt.Drawn)
		sweep(b.edges, maxThick, func(chain []int32, s0, s1 Length) {
			h.learn(b.edges, chain, s1-s0)
		})
		parts[i] = h
	})
	t.h = newThickness(t.opt.Thicknesses, t.opt.Drawn)
	t.h.support = nil
	for i, h := range parts {
		if h != nil {
			t.h.add(h)
			t.bundles[i].support = h.support
		}
	}
}

// pairAll finds the slices of every bundle and strings them into strands.
func (t *tracer) pairAll() {
	found := make([][]strand, len(t.bundles))
	t.eachBundle(func(i int) {
		b := &t.bundles[i]
		pairUp(b, t.h)
		found[i] = strandsOf(int32(i), t.piecesOf(b))
	})
	for _, s := range found {
		t.strands = append(t.strands, s...)
	}
}

// eachBundle runs f for every bundle, the machine's cores side by side. f may
// write to its own bundle only.
func (t *tracer) eachBundle(f func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(t.bundles)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(t.bundles); i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	wg.Wait()
}

// centreStrands makes strands of centrelines, each as thick as its layer, its
// polyline or the job says.
func (t *tracer) centreStrands() {
	for i := range t.centreParts {
		by := map[[2]Length][]part{}
		var keys [][2]Length
		for _, p := range t.centreParts[i] {
			k := [2]Length{Length(t.src[p.src].class), t.centreThickness(p.src)}
			if by[k] == nil {
				keys = append(keys, k)
			}
			by[k] = append(by[k], p)
		}
		slices.SortFunc(keys, func(a, b [2]Length) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
		for _, k := range keys {
			var ps []piece
			for _, e := range mergeParts(by[k]) {
				h := k[1] / 2
				if h == 0 {
					h = unsaid / 2
				}
				ps = append(ps, piece{e.s0, e.s1, e.r - h, e.r + h, -1, centreBase - int32(len(t.centreEdges)), int32(k[0])})
				t.centreEdges = append(t.centreEdges, centreEdge{int32(i), e})
			}
			for _, s := range strandsOf(int32(i), ps) {
				s.centre = true
				t.strands = append(t.strands, s)
			}
		}
	}
}

// unsaid is the thickness of a wall drawn as a centreline of which nobody says
// how thick it is: a 3-5/8 in stud and a 5/8 in board on either side.
// Source: common practice, none published.
const unsaid = 4*measure.Inch + 7*measure.EighthInch

type centreEdge struct {
	fr int32
	edge
}

// dropSwallowed removes short strands that lie across a longer wall, within
// its faces: pairs of jambs, ends and corners.
func (t *tracer) dropSwallowed() {
	var tree boxIndex
	for i := range t.strands {
		s := &t.strands[i]
		tree.add(int32(i), bandBox(&t.bundles[s.fr].fr, s.s0()-maxThick, s.s1()+maxThick, s.ra, s.rb)...)
	}
	for i := range t.strands {
		s := &t.strands[i]
		if s.s1()-s.s0() > maxThick+slip {
			continue
		}
		fr := &t.bundles[s.fr].fr
		box := bandBox(fr, s.s0(), s.s1(), s.ra, s.rb)
		tree.search(0, func(k int32) {
			o := &t.strands[k]
			if o.fr == s.fr || s.dead || o.drawn() < s.drawn() || o.drawn() == s.drawn() && k > int32(i) {
				return
			}
			s0, s1, r0, r1 := extent(&t.bundles[o.fr].fr, box)
			if r0 >= o.ra-2*Eps && r1 <= o.rb+2*Eps && s0 >= o.s0()-maxThick && s1 <= o.s1()+maxThick &&
				s1 > o.s0() && s0 < o.s1() {
				s.dead = true
			}
		}, box...)
	}
}

// dropGlazing removes strands that run inside the gaps of a thicker strand on
// the same line: the glass and sills of windows drawn on the wall layer,
// between jambs. They become marks of windows.
func (t *tracer) dropGlazing() {
	var tree boxIndex
	for i := range t.strands {
		s := &t.strands[i]
		if !s.dead && len(s.pieces) > 1 {
			tree.add(int32(i), bandBox(&t.bundles[s.fr].fr, s.s0(), s.s1(), s.ra, s.rb)...)
		}
	}
	left := make([][]piece, len(t.strands))
	for i := range t.strands {
		s := &t.strands[i]
		if s.dead {
			continue
		}
		for _, p := range s.pieces {
			if p.a < 0 || !t.inGapOf(&tree, int32(i), &p) {
				left[i] = append(left[i], p)
			}
		}
	}
	for i := range t.strands {
		s := &t.strands[i]
		if s.dead || len(left[i]) == len(s.pieces) {
			continue
		}
		fr, b := &t.bundles[s.fr].fr, &t.bundles[s.fr]
		for _, p := range s.pieces {
			if slices.Contains(left[i], p) {
				continue
			}
			for _, e := range [2]int32{p.a, p.b} {
				t.marks.addLine(mark{fr.from(p.s0, b.edges[e].r), fr.from(p.s1, b.edges[e].r), b.edges[e].parts[0].src, Windows})
			}
		}
		s.dead = len(left[i]) == 0
		if !s.dead {
			s.pieces = left[i]
		}
	}
}

// inGapOf reports whether a piece of strand i runs within a gap of a thicker
// strand of its direction, between its faces.
func (t *tracer) inGapOf(tree *boxIndex, i int32, p *piece) bool {
	s := &t.strands[i]
	in := false
	tree.search(0, func(k int32) {
		o := &t.strands[k]
		if in || k == i || o.fr != s.fr || 4*s.thick() > 3*o.thick() || t.h.likely(o.thick()) < 0.9 || o.drawn() < 3*o.thick() || p.ra < o.ra-Eps || p.rb > o.rb+Eps {
			return
		}
		for g := 1; g < len(o.pieces); g++ {
			if p.s0 < o.pieces[g-1].s1-joinSlack || p.s1 > o.pieces[g].s0+joinSlack {
				continue
			}
			var op opening
			if t.jambAt(o, o.pieces[g-1].s1, &op) && t.jambAt(o, o.pieces[g].s0, &op) {
				in = true
			}
		}
	}, bandBox(&t.bundles[s.fr].fr, p.s0, p.s1, p.ra, p.rb)...)
	return in
}

// bridgeAll turns strands into walls.
func (t *tracer) bridgeAll() {
	for i := range t.strands {
		if t.strands[i].dead {
			continue
		}
		for _, s := range t.bridge(int32(i)) {
			t.walls2 = append(t.walls2, wall{strand: s, meets: [2]int32{-1, -1}})
		}
	}
}

// indexWalls builds the search tree of the walls' bands, openings included.
func (t *tracer) indexWalls() {
	t.wallTree = boxIndex{}
	for i := range t.walls2 {
		w := &t.walls2[i]
		t.wallTree.add(int32(i), bandBox(&t.bundles[w.fr].fr, w.s0(), w.s1(), w.ra, w.rb)...)
	}
}

// dropNoise removes walls shorter than they are thick that are no nib of
// another wall.
func (t *tracer) dropNoise() {
	for i := range t.walls2 {
		w := &t.walls2[i]
		joined := 0
		for _, e := range w.ends {
			if e == teeEnd || e == cornerEnd {
				joined++
			}
		}
		l := w.drawn()
		switch {
		case joined == 0 && len(w.gaps) == 0 && 2*l < 3*w.thick(): // a pier
			w.dead = true
		case l >= max(w.thick(), minWall):
		case joined == 2 && l >= w.thick()/2:
		case joined == 1 && l >= w.thick()*4/5:
		default:
			w.dead = true
		}
	}
}
