package write

import (
	"math"

	"boardrun/internal/report"
)

// sideDrawing is one ply of one side, in whole millimetres. Lines and areas are
// [pen, fill, closed, x, y, dx, dy, …]; labels [text, size in tenths of a mm on
// paper, angle, align, bold, x, y].
type sideDrawing struct {
	Face   string   `json:"face"`
	Ply    int      `json:"ply"`
	Box    [4]int   `json:"box"`
	Shapes [][]int  `json:"shapes"`
	Labels [][]int  `json:"labels"`
	Texts  []string `json:"texts"`
}

// sidesOf draws every ply of every boarded side of a run.
func (p *page) sidesOf(r *report.Run) []sideDrawing {
	out := []sideDrawing{}
	for _, f := range p.faces[r.ID] {
		if !f.Boarded {
			continue
		}
		for _, y := range f.Plies {
			out = append(out, packSide(p.draft.Elevation(f, y.Ply, report.View{Scale: report.DefaultScale}), f.ID, y.Ply))
		}
	}
	return out
}

// pagePen is how a mark of an elevation is drawn: weight and dashes in
// millimetres on paper.
type pagePen struct {
	Width  float64   `json:"width"`
	Dash   []float64 `json:"dash"`
	Colour string    `json:"colour"`
}

// pagePens are the pens of the printed elevations, by number.
func pagePens() []pagePen {
	var most report.Pen
	for k := range pens {
		most = max(most, k)
	}
	out := make([]pagePen, int(most)+1)
	for k := range out {
		q := pens[report.Pen(k)]
		out[k] = pagePen{q.width, append([]float64{}, q.dash...), q.colour}
	}
	return out
}

func packSide(d *report.Picture, face string, ply int) sideDrawing {
	org := report.UV{report.MM(math.Floor(float64(d.Min[0]))), report.MM(math.Floor(float64(d.Min[1])))}
	mm := func(v report.MM) int { return int(math.Round(float64(v))) }
	s := sideDrawing{Face: face, Ply: ply, Box: [4]int{0, 0, mm(d.Max[0] - org[0]), mm(d.Max[1] - org[1])}, Shapes: [][]int{}, Labels: [][]int{}, Texts: []string{}}
	index := map[string]int{}
	for i := range d.Marks {
		m := &d.Marks[i]
		if len(m.Points) == 0 {
			continue
		}
		if m.Text != "" {
			n, ok := index[m.Text]
			if !ok {
				n = len(s.Texts)
				index[m.Text] = n
				s.Texts = append(s.Texts, m.Text)
			}
			s.Labels = append(s.Labels, []int{n, int(math.Round(m.Size * 10)), int(math.Round(m.Angle)), int(m.Align), one(m.Bold), mm(m.Points[0][0] - org[0]), mm(m.Points[0][1] - org[1])})
			continue
		}
		q := []int{int(m.Pen), int(m.Fill), one(m.Closed)}
		x, y := 0, 0
		for _, v := range m.Points {
			nx, ny := mm(v[0]-org[0]), mm(v[1]-org[1])
			q = append(q, nx-x, ny-y)
			x, y = nx, ny
		}
		s.Shapes = append(s.Shapes, q)
	}
	return s
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}
