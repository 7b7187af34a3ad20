package write

import (
	"strings"

	"boardrun/internal/report"
)

// wallOf tells one run.
func (p *page) wallOf(i int) pageWall {
	r := &p.t.Runs[i]
	s := p.storey[r.Storey]
	w := pageWall{
		ID: r.ID, Storey: s, Status: r.Status, Path: path(p.band[i], p.out.Storeys[s].org), Thick: unit(r.ThicknessMM), Len: unit(r.LengthMM),
		Rows: [][2]string{}, Sides: []pageSide{}, Source: []string{}, Assumed: append([]string{}, r.Assumed...), Rooms: []string{},
	}
	for k := range p.out.Types {
		if p.out.Types[k].Name == r.Type {
			w.Type = k
		}
	}
	for _, a := range r.Assumed {
		w.Guess = w.Guess || strings.Contains(a, "height")
	}
	add := func(k, v string) {
		if v != "" {
			w.Rows = append(w.Rows, [2]string{k, v})
		}
	}
	add("Length", p.long(r.LengthMM))
	add("Thickness", p.long(r.ThicknessMM))
	if lo, hi := span(r.Deck); hi > 0 {
		add("Structure above", p.range2(lo, hi))
	}
	if r.SpacingMM > 0 && len(r.Studs) > 0 {
		add("Studs", itoa(len(r.Studs))+" at "+p.long(r.SpacingMM)+", open sides to the "+r.Flange)
	}
	add("Rating", strings.TrimSpace(r.Rating+" "+r.Listing))
	if r.Status != "new" {
		add("Status", r.Status)
	}
	if r.Status2 != "none" {
		add("Layout", strings.TrimSpace(r.Status2+" "+r.Gap))
	}
	add("Chosen because", r.Why)
	var high []string
	for _, f := range p.faces[r.ID] {
		w.Sides = append(w.Sides, p.side(f))
		if f.Room != "" && !has(w.Rooms, f.Room) {
			w.Rooms = append(w.Rooms, f.Room)
		}
		if h := p.heightOn(f, r); h != "" && (f.Side == "left" || f.Side == "right") && !has(high, h) {
			high = append(high, h)
		}
	}
	if w.Height = strings.Join(high, " | "); w.Height == "" {
		w.Height = "not boarded"
	}
	for _, s := range r.Source {
		w.Source = append(w.Source, handle(&s))
	}
	return w
}

func has(ss []string, s string) bool {
	for _, x := range ss {
		if x == s {
			return true
		}
	}
	return false
}

func handle(s *report.Source) string {
	t := strings.TrimSpace(s.Ref + " " + s.GUID)
	if s.Layer != "" {
		t += " on " + s.Layer
	}
	if s.File != "" {
		t += ", " + base(s.File)
	}
	return strings.TrimPrefix(t, ", ")
}

// base is a file's name without its folders.
func base(file string) string { return file[strings.LastIndexAny(file, `/\`)+1:] }

// span is the lowest and highest v of an outline or a profile.
func span(o []report.UV) (lo, hi report.MM) {
	for i, q := range o {
		if i == 0 {
			lo, hi = q[1], q[1]
		}
		lo, hi = min(lo, q[1]), max(hi, q[1])
	}
	return lo, hi
}

// range2 is one length, or two where they differ as written.
func (p *page) range2(lo, hi report.MM) string {
	a, b := p.long(lo), p.long(hi)
	if a == b {
		return b
	}
	return a + " to " + b
}

// heightOn is the height of a side as it is written on the wall: of the
// structure where the side goes up to it, else of the side's top.
func (p *page) heightOn(f *report.Face, r *report.Run) string {
	if !f.Boarded || len(f.OutlineUV) < 3 {
		return ""
	}
	lo, hi := span(f.OutlineUV[2:])
	if f.Top == "slip" && len(r.Deck) > 0 {
		lo, hi = span(r.Deck)
	}
	a, b := p.long(lo), p.long(hi)
	if a == b {
		return b
	}
	return a + "–" + b
}

func (p *page) side(f *report.Face) pageSide {
	s := pageSide{ID: f.ID, From: f.HangFrom, Name: f.Side, Rows: [][2]string{}}
	if f.Room != "" {
		s.Name += ", " + f.Room
	}
	add := func(k, v string) { s.Rows = append(s.Rows, [2]string{k, v}) }
	if !f.Boarded {
		add("Not boarded", f.Reason)
		return s
	}
	add("Length", p.long(f.FinishedMM))
	if o := f.OutlineUV; len(o) > 2 {
		first, last := o[len(o)-1][1], o[2][1]
		high := p.long(first)
		if p.long(last) != high {
			high += " at its left, " + p.long(last) + " at its right"
		}
		add("Top of board", high)
	}
	add("Height from", f.HeightBy)
	if f.CeilingMM > 0 {
		add("Ceiling", p.long(f.CeilingMM))
	}
	for _, y := range f.Plies {
		var names []string
		for _, z := range y.Zones {
			if !has(names, z.Board) {
				names = append(names, z.Board)
			}
		}
		add(layerName(y.Ply, len(f.Plies)), strings.Join(names, ", "))
	}
	add("Laid", f.Layout+", from the "+f.HangFrom)
	return s
}

// openings lists openings with the stretch of the wall's path they take.
func (p *page) openings() {
	face := map[string]*report.Face{}
	for i := range p.t.Faces {
		face[p.t.Faces[i].ID] = &p.t.Faces[i]
	}
	for i := range p.t.Openings {
		o := &p.t.Openings[i]
		w, ok := p.wall[o.Run]
		if !ok {
			continue
		}
		s := o.UMM
		if len(o.Faces) > 0 {
			if f := face[o.Faces[0]]; f != nil {
				s = f.StartMM + o.UMM
				if f.Side == "left" {
					s = f.StartMM + f.LengthMM - o.UMM
				}
			}
		}
		q := pageOpen{
			ID: o.ID, Wall: w, Kind: o.Kind, Mark: o.Mark, From: unit(s - o.WidthMM/2), To: unit(s + o.WidthMM/2),
			Size: p.long(o.WidthMM) + " × " + p.long(o.HeadMM-o.SillMM),
		}
		add := func(k, v string) {
			if v != "" {
				q.Rows = append(q.Rows, [2]string{k, v})
			}
		}
		add("Hole in the board", q.Size)
		add("Sill, head", p.long(o.SillMM)+", "+p.long(o.HeadMM))
		if o.RoughMM[0] > 0 {
			add("Between jamb studs", p.long(o.RoughMM[0]))
		}
		add("Width from", o.Basis)
		add("Head from", o.HeadBy)
		add("Frame", o.Frame)
		for k := range o.Source {
			if k == 2 && len(o.Source) > 3 {
				add("", "and "+itoa(len(o.Source)-2)+" more")
				break
			}
			add("Drawn as", handle(&o.Source[k]))
		}
		p.out.Openings = append(p.out.Openings, q)
	}
}

// layerName is what paper calls a ply of n: base layer, face layer.
func layerName(ply, n int) string {
	switch {
	case n == 1:
		return "Board"
	case ply == 1:
		return "Base layer"
	case ply == n:
		return "Face layer"
	}
	return "Layer " + itoa(ply)
}
