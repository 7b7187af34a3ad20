package ifc

import (
	"errors"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// readCurtains reads curtain walls: not boarded, but partitions end at them and
// nobody should wonder where they went. Only their box is told.
func (m *model) readCurtains(g *geo) []*found {
	var out []*found
	for _, id := range m.f.Of(ifcCurtainWall) {
		rec, err := g.r.Get(id)
		if err != nil {
			m.settle(id, "unreadable")
			continue
		}
		w, err := m.readCurtain(g, rec)
		if err != nil {
			m.noteOf(plan.Note, CodeCurtainUnread, rec, "curtain wall "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out; it would not be boarded")
			m.settle(id, "curtain wall without a shape that can be used")
			continue
		}
		out = append(out, w)
		m.settle(id, "")
		g.r.Reset()
	}
	return out
}

func (m *model) readCurtain(g *geo, rec *part21.Record) (*found, error) {
	p, err := g.product(rec)
	if errors.Is(err, errNoBody) {
		p, _, err = m.fromParts(g, rec, p)
	}
	if err != nil {
		return nil, err
	}
	st, err := stand(p)
	if err != nil {
		return nil, err
	}
	w := &found{id: rec.ID, guid: rec.Arg(0).Text(), storey: m.storeyOf(rec.ID), round: true}
	own := affine{x: vec{st.along.x, st.left.x, 0}, y: vec{st.along.y, st.left.y, 0}, z: vec{0, 0, 1}, o: vec{0, 0, p.place.o.z - m.storeyZ(w.storey)}}
	var moved []solid
	for _, s := range p.solids {
		moved = append(moved, s.moved(own))
	}
	lo, hi := box3(moved)
	back := own.inverse()
	mid := (lo.y + hi.y) / 2
	for i, u := range []float64{lo.x, hi.x} {
		w.wall.Axis[i] = gridXY(back.point(vec{u, mid, 0}).add(p.place.o))
	}
	w.q.LengthMM, w.q.ThicknessMM, w.q.HeightMM = hi.x-lo.x, hi.y-lo.y, hi.z-lo.z
	w.wall.Thickness, w.wall.Base = measure.FromMM(hi.y-lo.y), measure.FromMM(lo.z)
	w.wall.Height = measure.FromMM(hi.z) - w.wall.Base
	w.wall.Storey = m.storeyName(w.storey)
	w.wall.Sources = []plan.Source{m.source(rec.ID, rec)}
	w.wall.TypeName = m.typeName(g, rec)
	w.wall.Tag, w.wall.Kind = tagOf(w.wall.TypeName), plan.Curtain
	return w, nil
}
