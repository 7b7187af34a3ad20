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

// sidesOf draws every ply of every boarded side of a run. The drawing is asked
// of a takeoff that holds this run alone, so that its work does not grow with
// the job.
func (p *page) sidesOf(r *report.Run) []sideDrawing {
	alone := &report.Takeoff{Job: p.t.Job, Runs: []report.Run{*r}}
	for _, f := range p.faces[r.ID] {
		alone.Faces = append(alone.Faces, *f)
		alone.Pieces = append(alone.Pieces, p.pieces[f.ID]...)
		alone.Joints = append(alone.Joints, p.joints[f.ID]...)
	}
	alone.Openings = p.opens[r.ID]
	out := []sideDrawing{}
	for i := range alone.Faces {
		f := &alone.Faces[i]
		if !f.Boarded {
			continue
		}
		for _, y := range f.Plies {
			out = append(out, packSide(report.Elevation(alone, f, y.Ply), f.ID, y.Ply))
		}
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
