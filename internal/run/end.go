package run

import (
	"fmt"

	"boardrun/internal/plan"
)

// isolated reports whether nothing meets a band anywhere.
func (b *band) isolated() bool {
	return len(b.inner) == 0 && len(b.ends[0].arm.node.arms) == 1 && len(b.ends[1].arm.node.arms) == 1 &&
		b.ends[0].arm.sides[0].kind == EndFree && b.ends[1].arm.sides[0].kind == EndFree
}

// endFaces gives free ends their face. A run that nothing meets at either end is
// taken to stand between structure that is not drawn: its ends are listed and
// not boarded.
func (bld *builder) endFaces(b *band) {
	n := 0
	for i := range b.ends {
		a := b.ends[i].arm
		if a.sides[0].kind != EndFree {
			continue
		}
		n++
		f := &Face{Run: b.run, Side: End, ID: fmt.Sprintf("%s-E%d", b.run.ID, n), Length: toStep(b.thickness, bld.j.Rules.Step)}
		f.Finished = f.Length
		bld.enter(f, a.edgeOf(0))
		f.Parts = []Part{{0, f.Length, f.Room}}
		if f.Start = b.ends[0].shift; i == 1 {
			f.Start += b.length
		}
		f.Start = toStep(f.Start, bld.j.Rules.Step)
		k := b.endSide()
		if k < 0 {
			f.Reason = "the type has no board on either side"
			k = 0
		} else if b.isolated() {
			f.Reason = "nothing is drawn at either end: taken to meet structure"
			if i == 0 {
				bld.note(plan.Note, "end-open", b.run.ID, a.o, "nothing is drawn at either end of the wall",
					"taken to meet structure there: no board or bead on its ends")
			}
		} else {
			f.Boarded = true
		}
		f.Finish = b.made(k).Finish
		bld.crown(b, f, k, []int{a.edgeOf(0).room})
		b.run.Faces = append(b.run.Faces, f)
		b.ends[i].face = f
	}
}

// stepFaces gives the steps between runs in line of different thickness their
// face, on the run that stands out.
func (bld *builder) stepFaces(b *band) {
	n := 0
	for _, f := range b.run.Faces {
		if f.Side == End {
			n++
		}
	}
	for k := range b.sides {
		edges := b.sides[k].edges
		for i, e := range [...]*edge{&edges[0], &edges[len(edges)-1]} {
			c := e.ends[i]
			if c.kind != EndInLine || c.step <= bld.j.Rules.Snap {
				continue
			}
			n++
			f := &Face{Run: b.run, Side: End, ID: fmt.Sprintf("%s-E%d", b.run.ID, n), Length: toStep(c.step, bld.j.Rules.Step)}
			bld.enter(f, e)
			f.Finished = f.Length
			f.Parts = []Part{{0, f.Length, f.Room}}
			f.Start = toStep([2]Length{e.from, e.to}[i]+b.ends[0].shift, bld.j.Rules.Step)
			f.Boarded = len(b.plies(k)) > 0 && f.Length >= leastFace
			if !f.Boarded {
				f.Reason = "step to a thinner wall in line: a strip out of an offcut"
			}
			f.Finish = b.made(k).Finish
			bld.crown(b, f, k, []int{e.room})
			b.run.Faces = append(b.run.Faces, f)
		}
	}
}

// endSide returns the side whose boards an end face takes: the one that goes
// higher, the left one of equals; −1 if neither is boarded.
func (b *band) endSide() int {
	best := -1
	for k := range b.sides {
		if len(b.plies(k)) == 0 {
			continue
		}
		if best < 0 || b.rule(k).Kind < b.rule(best).Kind {
			best = k // ToDeck is the least kind, then above the ceiling, then to it
		}
	}
	return best
}
