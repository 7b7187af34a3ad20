package report

import (
	"fmt"
	"sort"
)

// MostPictures is how many sides a workbook shows: enough to see what the
// layout is like, few enough that a job of thousands of walls opens as fast as a
// small one. Every side is in walls.pdf.
const MostPictures = 12

// Chart is a picture of the numbers of a block: a bar for each row, of one
// column or of several on top of one another.
type Chart struct {
	Title   string
	Block   string
	Names   string   // key of the column that names the bars
	Columns []string // keys of those that are drawn
}

// SidePicture is one side shown in a workbook.
type SidePicture struct {
	Mark    string
	Picture *Picture
}

// Pictures is the sheet of charts and drawings of a workbook; a takeoff that
// hangs nothing has no blocks.
func Pictures(t *Takeoff) (Tab, []Chart, []SidePicture) {
	p := newPaper(t)
	types, storeys := p.boardByType(), p.boardByStorey()
	s := Tab{Name: "Pictures", Landscape: true}
	if len(types.Rows) == 0 {
		return s, nil, nil
	}
	s.Blocks = append(s.Blocks, types, storeys)
	charts := []Chart{
		{"Board hung by wall type, " + p.sfName(), types.Key, "type", []string{"hung"}},
		{"Board bought by storey, " + p.sfName() + ": hung, offcuts kept, waste", storeys.Key, "storey", []string{"hung", "kept", "waste"}},
	}
	sides := p.sidesToShow()
	s.Lead = []string{
		"The charts draw the numbers of this sheet. Colours only help: the bars' order and darkness tell the same.",
		fmt.Sprintf("Below them one side of each wall type, that with most pieces, at most %d sides. Every side is in walls.pdf, to scale.", MostPictures),
	}
	w, out := NewDraft(t), make([]SidePicture, 0, len(sides))
	for _, f := range sides {
		out = append(out, SidePicture{f.ID, w.sideForSheet(f)})
	}
	return s, charts, out
}

// boardByType sums what is hung on the walls of each type.
func (p *paper) boardByType() Block {
	b := Block{Key: "bytype", Title: "Board hung by wall type", Columns: []Column{
		col("type", "Type", 24, Words), col("sides", "Sides", 12, Whole), col("pieces", "Pieces", 12, Whole), col("hung", "Hung, "+p.sfName(), 14, Whole),
	}}
	type sum struct {
		sides, pieces int
		hung          float64
	}
	of := map[string]*sum{}
	face := map[string]string{}
	for i := range p.t.Faces {
		f := &p.t.Faces[i]
		if r := p.run[f.Run]; r != nil && f.Boarded {
			face[f.ID] = r.Type
			if of[r.Type] == nil {
				of[r.Type] = &sum{}
			}
			of[r.Type].sides++
		}
	}
	for i := range p.t.Pieces {
		q := &p.t.Pieces[i]
		if s := of[face[q.Face]]; s != nil {
			s.pieces++
			s.hung += float64(q.AreaM2)
		}
	}
	names := make([]string, 0, len(of))
	for n := range of {
		names = append(names, n)
	}
	sort.Slice(names, func(i, k int) bool {
		a, b := of[names[i]], of[names[k]]
		if a.hung != b.hung {
			return a.hung > b.hung
		}
		return names[i] < names[k]
	})
	for _, n := range names {
		b.Rows = append(b.Rows, []Cell{T(n), I(of[n].sides), I(of[n].pieces), N(p.sf(of[n].hung))})
	}
	b.Total = totalRow(b, "All", "sides", "pieces", "hung")
	return b
}

// boardByStorey accounts for the sheets set down on each storey.
func (p *paper) boardByStorey() Block {
	b := Block{Key: "bystorey", Title: "Board bought by storey, by the first piece cut from each sheet", Columns: []Column{
		col("storey", "Storey", 24, Words), col("sheets", "Sheets", 12, Whole), col("bought", "Bought, "+p.sfName(), 12, Whole), col("hung", "Hung", 14, Whole),
		col("kept", "Offcuts kept", 12, Whole), col("waste", "Waste", 12, Whole), col("share", "Waste of bought", 12, Percent),
	}}
	area, storey := map[string]float64{}, map[string]string{}
	for i := range p.t.Pieces {
		q := &p.t.Pieces[i]
		area[q.ID] = float64(q.AreaM2)
		if f := p.fac[q.Face]; f != nil && p.run[f.Run] != nil {
			storey[q.ID] = p.run[f.Run].Storey
		}
	}
	type sum struct {
		sheets             int
		bought, hung, kept float64
	}
	of := map[string]*sum{}
	for i := range p.t.Sheets {
		s := &p.t.Sheets[i]
		name := s.Storey
		if name == "" && len(s.Placements) > 0 { // of the first piece cut from it
			name = storey[s.Placements[0].Piece]
		}
		q := of[name]
		if q == nil {
			q = &sum{}
			of[name] = q
		}
		q.sheets++
		q.bought += float64(s.WidthMM) * float64(s.LengthMM) / 1e6
		for _, x := range s.Placements {
			q.hung += area[x.Piece]
		}
		for _, o := range s.Offcuts {
			if o.Kept {
				q.kept += ringArea(o.OutlineMM) / 1e6
			}
		}
	}
	names := make([]string, 0, len(of))
	for n := range of {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		q := of[n]
		bought, hung, kept := p.sf(q.bought), p.sf(q.hung), p.sf(q.kept)
		b.Rows = append(b.Rows, []Cell{
			T(n), I(q.sheets), N(bought), N(hung), N(kept),
			F("{bought}-{hung}-{kept}", bought-hung-kept), F("IF({bought}=0,0,{waste}/{bought})", ratio(bought-hung-kept, bought)),
		})
	}
	b.Total = totalRow(b, "All", "sheets", "bought", "hung", "kept", "waste")
	return b
}

func ringArea(o Poly) float64 {
	s := 0.0
	for i, a := range o {
		b := o[(i+1)%len(o)]
		s += float64(a[0]-o[0][0])*float64(b[1]-o[0][1]) - float64(b[0]-o[0][0])*float64(a[1]-o[0][1])
	}
	if s < 0 {
		s = -s
	}
	return s / 2
}

// sidesToShow picks one side of each type, that with most pieces of those short
// enough to be read; types in the order of what they hang.
func (p *paper) sidesToShow() []*Face {
	const readable = 15000 // mm
	pieces, hung := map[string]int{}, map[string]float64{}
	for i := range p.t.Pieces {
		q := &p.t.Pieces[i]
		pieces[q.Face]++
		if f := p.fac[q.Face]; f != nil && p.run[f.Run] != nil {
			hung[p.run[f.Run].Type] += float64(q.AreaM2)
		}
	}
	best := map[string]*Face{}
	better := func(f, g *Face) bool {
		if a, b := f.LengthMM <= readable, g.LengthMM <= readable; a != b {
			return a
		}
		return pieces[f.ID] > pieces[g.ID]
	}
	for i := range p.t.Faces {
		f := &p.t.Faces[i]
		r := p.run[f.Run]
		if r == nil || !f.Boarded || Strip(f) || pieces[f.ID] == 0 || len(f.Plies) == 0 {
			continue
		}
		if g := best[r.Type]; g == nil || better(f, g) {
			best[r.Type] = f
		}
	}
	names := make([]string, 0, len(best))
	for n := range best {
		names = append(names, n)
	}
	sort.Slice(names, func(i, k int) bool {
		if hung[names[i]] != hung[names[k]] {
			return hung[names[i]] > hung[names[k]]
		}
		return names[i] < names[k]
	})
	var out []*Face
	for _, n := range names[:min(len(names), MostPictures)] {
		out = append(out, best[n])
	}
	return out
}

// sideForSheet draws the outermost ply of a side, as wide as a sheet's paper,
// under its name. A long side is shown from its starting end.
func (w *Draft) sideForSheet(f *Face) *Picture {
	const wide, high, most = 190, 110, 15000
	ply := f.Plies[len(f.Plies)-1].Ply
	u0, u1 := Span(f, ply)
	v := View{From: u0, To: u1}
	part := ""
	if u1-u0 > most {
		if _, left := Start(f, ply); left {
			v.To = u0 + most
		} else {
			v.From = u1 - most
		}
		part = ", the first " + w.p.wall(most).Text
	}
	v.Scale = max(float64(v.To-v.From)/wide, float64(w.Top(f))/high, 16)
	d := w.Elevation(f, ply, v)
	name := f.ID
	if r := w.p.run[f.Run]; r != nil {
		name += ", " + r.Type
	}
	if n := plyName(len(f.Plies), ply); n != "" {
		name += ", " + n
	}
	m := d.label(LayerNote, name+", "+FaceName(f)+part, 3.4, UV{d.Min[0], d.Max[1] + MM(4*v.Scale)})
	m.Bold, m.Align = true, AlignLeft
	d.fit()
	return d
}
