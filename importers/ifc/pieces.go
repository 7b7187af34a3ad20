package ifc

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// inPieces says that a straight wall falls into pieces along its length: the
// body is cut through from foot to top where something tall stands in it.
type inPieces struct {
	ends  [][2]float64 // from and to of each piece along the wall
	own   affine       // frame of the product → frame of the wall
	along vec
	half  float64
}

func (e *inPieces) Error() string { return fmt.Sprintf("falls into %d pieces", len(e.ends)) }

// leastGap is how far in mm two pieces of a wall are apart at least. Common
// practice, no source.
const leastGap = 1

// pieces returns the stretches of the wall along its length in which there is
// anything of it, in order.
func (w *found) pieces() [][2]float64 {
	var all [][2]float64
	for _, g := range []region{w.body.left, w.body.right, w.body.mid} {
		for _, s := range g {
			b := s.outer.bounds()
			all = append(all, [2]float64{b.lo.u, b.hi.u})
		}
	}
	slices.SortFunc(all, func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var out [][2]float64
	for _, a := range all {
		if n := len(out); n > 0 && a[0] < out[n-1][1]+leastGap {
			out[n-1][1] = max(out[n-1][1], a[1])
		} else {
			out = append(out, a)
		}
	}
	return out
}

// shapePieces reads each piece as a wall of its own.
func (m *model) shapePieces(g *geo, base *found, rec *part21.Record, p product, ids []part21.ID, e *inPieces) ([]*found, error) {
	back := e.own.inverse()
	body := p.solids
	var out []*found
	for _, end := range e.ends {
		var r ring
		for _, c := range []pt{{end[0], -e.half}, {end[1], -e.half}, {end[1], e.half}, {end[0], e.half}} {
			q := back.point(vec{c.u, c.v, 0})
			r = append(r, pt{q.x, q.y})
		}
		piece := p
		piece.solids = nil
		for _, s := range body {
			one := p
			one.solids = []solid{s}
			leg := legProduct(one, r)
			piece.solids, piece.pillar = append(piece.solids, leg.solids...), leg.pillar
		}
		piece.body, piece.toward, piece.axis = body, e.along, nil
		w, err := m.shapeLeg(g, base, rec, piece, ids)
		if err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	m.noteAt(g, plan.Note, CodeWallLegs, rec, fmt.Sprintf("wall %s falls into %d pieces", quote(rec.Arg(2).Text()), len(out)), "each piece is a wall of its own")
	return out, nil
}
