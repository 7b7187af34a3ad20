package report

import "sort"

// Draft is a takeoff looked through once for drawing: what stands on which
// side, in hanging order. The pictures and pages of a job of a thousand sides
// are asked of one Draft.
type Draft struct {
	t      *Takeoff
	p      *paper
	pieces map[sidePly][]*Piece
	joints map[sidePly][]*Joint
	screws map[sidePly][]*Screw
	piece  map[string]*Piece
	sheet  map[string]*Sheet
	open   map[string][]*Opening // by run
	said   map[string][]*Exception
	rule   map[string]string
	types  map[string]*TypeInfo
	bases  map[string]*Picture // key plans by storey
}

type sidePly struct {
	face string
	ply  int
}

// NewDraft looks a takeoff through.
func NewDraft(t *Takeoff) *Draft {
	w := &Draft{
		t: t, p: newPaper(t), pieces: map[sidePly][]*Piece{}, joints: map[sidePly][]*Joint{}, screws: map[sidePly][]*Screw{},
		piece: map[string]*Piece{}, sheet: map[string]*Sheet{}, open: map[string][]*Opening{}, said: map[string][]*Exception{},
		rule: map[string]string{}, types: map[string]*TypeInfo{}, bases: map[string]*Picture{},
	}
	for i := range t.Pieces {
		q := &t.Pieces[i]
		w.piece[q.ID] = q
		k := sidePly{q.Face, q.Ply}
		w.pieces[k] = append(w.pieces[k], q)
	}
	for _, l := range w.pieces {
		sort.SliceStable(l, func(a, b int) bool { return l[a].Order < l[b].Order })
	}
	for i := range t.Joints {
		k := sidePly{t.Joints[i].Face, t.Joints[i].Ply}
		w.joints[k] = append(w.joints[k], &t.Joints[i])
	}
	for i := range t.Screws {
		k := sidePly{t.Screws[i].Face, t.Screws[i].Ply}
		w.screws[k] = append(w.screws[k], &t.Screws[i])
	}
	for i := range t.Sheets {
		w.sheet[t.Sheets[i].ID] = &t.Sheets[i]
	}
	for i := range t.Openings {
		o := &t.Openings[i]
		w.open[o.Run] = append(w.open[o.Run], o)
	}
	for i := range t.Exceptions {
		e := &t.Exceptions[i]
		w.said[e.Target] = append(w.said[e.Target], e)
	}
	for _, r := range t.Job.Rules {
		w.rule[r.ID] = r.Value
	}
	for i := range t.Job.Types {
		w.types[t.Job.Types[i].Name] = &t.Job.Types[i]
	}
	return w
}

// Pieces are those of one ply of a side in hanging order.
func (w *Draft) Pieces(f *Face, ply int) []*Piece { return w.pieces[sidePly{f.ID, ply}] }

// Hung tells whether a face has pieces.
func (w *Draft) Hung(f *Face) bool {
	for _, y := range f.Plies {
		if len(w.Pieces(f, y.Ply)) > 0 {
			return true
		}
	}
	return false
}

// Storey is the storey of a face's run.
func (w *Draft) Storey(f *Face) string {
	if r := w.p.run[f.Run]; r != nil {
		return r.Storey
	}
	return ""
}

// Top is the highest thing drawn over a face: its board or the deck.
func (w *Draft) Top(f *Face) MM {
	_, hi := bounds(f.OutlineUV)
	for _, y := range f.Plies {
		_, q := bounds(y.OutlineUV)
		hi[1] = max(hi[1], q[1])
	}
	if r := w.p.run[f.Run]; r != nil && f.Top == "slip" {
		for _, q := range r.Deck {
			hi[1] = max(hi[1], q[1])
		}
	}
	return hi[1]
}
