package quantity

import (
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// cornerLines are inside corners to tape, outside corners and wall ends to
// bead, trim where board ends against structure, and the flat joint where a
// wall goes on as another type. Each corner is told once, as high as the lower
// of the two faces that meet in it: corner tape at a tee goes up to the stem's
// height only.
func (t *taker) cornerLines() []taped {
	faces := map[string]*run.Face{}
	for _, l := range t.layouts {
		for _, f := range l.Run.Faces {
			faces[f.ID] = f
		}
	}
	var out []taped
	for _, l := range t.layouts {
		for _, f := range l.Run.Faces {
			if !f.Boarded || f.Side != run.Left && f.Side != run.Right {
				continue
			}
			for k := range f.Ends {
				out = append(out, t.faceEnd(l.Run, f, k, faces)...)
			}
		}
	}
	return out
}

// faceEnd is what is finished at one end of a face: 0 at u = 0, 1 at u = Length.
func (t *taker) faceEnd(r *run.Run, f *run.Face, k int, faces map[string]*run.Face) []taped {
	e := &f.Ends[k]
	g := faces[e.Face]
	lo, hi := f.Bottom, f.Top.At(Length(k)*f.Length)
	if g != nil && g.Boarded {
		back := meets(g, f.ID)
		if back >= 0 && g.ID < f.ID && g.Side != run.End {
			return nil // told by the other face
		}
		top := g.Top.Max(0, g.Length)
		if back >= 0 {
			top = g.Top.At(Length(back) * g.Length)
		}
		lo, hi = max(lo, g.Bottom), min(hi, top)
	}
	ceiling := f.Ceiling
	if g != nil {
		ceiling = max(ceiling, g.Ceiling)
	}
	if hi <= lo {
		return nil
	}
	x := taped{run: r.ID, store: r.Storey, tape: true}
	s := splitAt(lo, hi, hi-lo, ceiling)
	switch e.Kind {
	case run.EndInside:
		x.item = ItemInside
		return both(x, s, f.Finish)
	case run.EndOutside, run.EndFree:
		x.item = ItemBead
		out := both(x, s, f.Finish)
		out[0].tape = false
		out[1].item = ItemOutside
		return out
	case run.EndInLine:
		x.item = jointItems[layout.CutJoint]
		return both(x, s, f.Finish)
	}
	// Structure, or nothing drawn and taken for it.
	x.item, x.spec, x.tape, x.len, x.level = ItemTrim, "against structure", false, s.exposed, f.Finish
	return []taped{x}
}

// meets returns which end of g names face id, -1 if none: the board of a wall
// that runs on behind a stem has no end there.
func meets(g *run.Face, id string) int {
	for k := range g.Ends {
		if g.Ends[k].Face == id {
			return k
		}
	}
	return -1
}
