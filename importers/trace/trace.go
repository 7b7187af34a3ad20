package trace

import (
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// Trace reads a drawing's linework as the mapping says and returns its walls,
// openings, rooms and obstacles as the single drawing of a plan, with ledger
// and exceptions. It never fails: what it cannot read it lists.
func Trace(d *linework.Drawing, m Mapping, opt Options) *plan.Plan {
	best := trace(d, m, opt, shiftTol)
	first := best.out.Ledger[0]
	for _, shift := range [2]float64{midTol, looseTol} {
		was := best.out.Ledger[0]
		if was.WallLineUsedMM >= loose*was.WallLineMM || len(best.faces) > maxRetry {
			break
		}
		t := trace(d, m, opt, shift)
		if t.out.Ledger[0].WallLineUsedMM > was.WallLineUsedMM+better*was.WallLineMM {
			best = t
		}
	}
	if best.shift == looseTol {
		best.tellLoose(first, best.out.Ledger[0])
	}
	return &best.out
}

// maxRetry is how many wall lines a drawing may have and be tried again.
const maxRetry = 200_000

// loose is the share of wall line below which a drawing is tried once more with
// directions taken loosely. Source: own choice.
const loose = 0.99

// better is how much more of the wall line another try has to explain.
// Source: own choice.
const better = 0.006

// tellLoose notes that lines were turned further than a careful drawing needs.
func (t *tracer) tellLoose(was, is plan.Ledger) {
	at := t.global(pt{})
	if len(t.out.Walls) > 0 {
		at = t.out.Walls[0].Axis[0]
	}
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Warning, Code: CodeLoose, At: &at, Source: plan.Source{File: t.d.File},
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
	t.looseSwings()
	t.dropPattern()
	t.poche()
	t.findPosts()
	t.linkHosts()
	t.loneSwings()
	t.marks.index()
	t.strandAll()
	t.dropSwallowed()
	t.dropGlazing()
	t.doorsByPlace()
	t.indexSpans()
	t.bridgeAll()
	t.dropPosts()
	t.indexWalls()
	t.adoptHosts()
	t.adoptGlass()
	t.solveEnds()
	t.dropNoise()
	t.dropFurniture()
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
	t.postObstacles()
	t.piers()
	t.usedFills()
	t.rooms()
	t.tagWalls()
	t.markOpenings()
	t.schedule()
	t.columns()
	t.decks()
	t.notes()
	t.crossCheck()
	t.linesInside()
	t.siteDoubt()
	t.kindsTold()
	t.account()
	t.doubts()
	t.drawLines()
}

// buildBundles sorts the wall strokes into frames and merges them into edges.
func (t *tracer) buildBundles() {
	all := append(slices.Clone(t.faces), t.centres...)
	frames, of := directions(all, t.shift)
	parts := make([][]part, len(frames))
	t.centreParts = make([][]part, len(frames))
	for i, st := range all {
		f := &frames[of[i]]
		s0, r0 := f.to(st.a)
		s1, r1 := f.to(st.b)
		p := part{(r0 + r1) / 2, min(s0, s1), max(s0, s1), st.src}
		if i < len(t.faces) {
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
	t.indexFaces()
	t.eachBundle(func(i int) {
		b := &t.bundles[i]
		pairUp(b, t.h)
		t.backToBack(b)
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

// bridgeAll turns strands into walls.
func (t *tracer) bridgeAll() {
	for i := range t.strands {
		if t.strands[i].dead {
			continue
		}
		for _, s := range t.bridge(int32(i)) {
			t.walls = append(t.walls, wall{strand: s, meets: [2]int32{-1, -1}})
		}
	}
}

// indexWalls builds the search tree of the walls' bands, openings included.
func (t *tracer) indexWalls() {
	t.wallTree = boxIndex{}
	for i := range t.walls {
		w := &t.walls[i]
		t.wallTree.add(int32(i), bandBox(&t.bundles[w.fr].fr, w.s0(), w.s1(), w.ra, w.rb)...)
	}
}
