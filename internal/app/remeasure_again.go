package app

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"boardrun/internal/cutting"
	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/quantity"
	"boardrun/internal/report"
	"boardrun/internal/run"
)

// same refuses where the walls that stay are not laid out as they were: what is
// hung would be at other places than the takeoff thinks.
func (m *remeasure) same(layouts []*layout.Layout) error {
	now := map[string]string{}
	for _, l := range layouts {
		if l != nil && !m.again[l.Run.ID] {
			for i := range l.Pieces {
				now[l.Pieces[i].ID] = l.Pieces[i].Fingerprint
			}
		}
	}
	for i := range m.was.Pieces {
		q := &m.was.Pieces[i]
		if mark := q.Face[:max(strings.LastIndex(q.Face, "-"), 0)]; !m.again[mark] && now[q.ID] != q.Fingerprint {
			return fmt.Errorf("%s: piece %s is not where the takeoff given with --from has it: the job, its drawings or the effort differ from those it was made with; give those", m.file, q.ID)
		}
	}
	return nil
}

// stretch moves the head of a piece by by[0] at its left edge and by[1] at its
// right, straight between.
func stretch(q *layout.Piece, by [2]measure.Length) bool {
	box := q.Outline.Bounds()
	at := func(x measure.Length) measure.Length {
		return by[0] + geom.MulDiv(by[1]-by[0], x-box.Min.X, max(box.W(), 1))
	}
	head := func(x measure.Length) measure.Length { // of the outline at x
		var top measure.Length
		for i, a := range q.Outline {
			b := q.Outline[(i+1)%len(q.Outline)]
			switch {
			case a.X == b.X:
				if a.X == x {
					top = max(top, a.Y, b.Y)
				}
			case x >= min(a.X, b.X) && x <= max(a.X, b.X):
				top = max(top, a.Y+geom.MulDiv(b.Y-a.Y, x-a.X, b.X-a.X))
			}
		}
		return top
	}
	out := slices.Clone(q.Outline)
	for i, p := range q.Outline {
		if p.Y == head(p.X) && p.Y > box.Min.Y {
			if out[i].Y = p.Y + at(p.X); out[i].Y <= box.Min.Y {
				return false
			}
		}
	}
	heights := slices.Clone(q.Heights)
	for i, h := range heights {
		heights[i].Y = h.Y + at(box.Min.X+h.X)
	}
	was := q.Area
	q.Area += out.Area() - q.Outline.Area()
	q.Outline, q.Heights = out, heights
	if was > 0 {
		q.MassKg *= q.Area.M2() / was.M2()
	}
	return q.Area > 0
}

// assemble cuts the measured tops, finds sheets for what is not hung, and tells
// it all.
func (m *remeasure) assemble(p *pipeline, pl *plan.Plan, set *run.Set, layouts []*layout.Layout) (*report.Takeoff, *report.Site, error) {
	site := &report.Site{}
	at := map[string]int{} // into site.Tops
	for i, l := range layouts {
		if l == nil {
			continue
		}
		own := *l
		own.Pieces = slices.Clone(l.Pieces)
		layouts[i] = &own
		for k := range own.Pieces {
			q := &own.Pieces[k]
			by, measured := m.tops[q.ID]
			if !measured || m.again[l.Run.ID] {
				continue
			}
			was := [2]report.MM{report.Millimetres(q.Heights[0].Y), report.Millimetres(q.Heights[len(q.Heights)-1].Y)}
			if !stretch(q, by) {
				return nil, nil, fmt.Errorf("%s: %s: nothing would be left of this top; measure again", m.file, q.ID)
			}
			now := [2]report.MM{report.Millimetres(q.Heights[0].Y), report.Millimetres(q.Heights[len(q.Heights)-1].Y)}
			at[q.ID] = len(site.Tops)
			site.Tops = append(site.Tops, report.SiteTop{Piece: q.ID, Was: was, Now: now})
		}
	}
	problem := cutProblem(m.job, set, layouts)
	problem.Pieces = slices.DeleteFunc(problem.Pieces, func(q cutting.Piece) bool { return m.hung[q.ID] })
	effort := cutting.Best
	if p.effort == "quick" {
		effort = cutting.Quick
	}
	cut := cutting.Solve(problem, effort)
	opened := m.opened()
	have := bought(set, layouts, &cut)
	for i := range opened {
		s := &opened[i]
		b := quantity.Bought{Board: s.Board, Width: s.WidthMM.Length(), Length: s.LengthMM.Length(), Group: s.Group, Count: 1, Storey: s.Storey}
		for _, q := range s.Placements {
			b.Pieces = append(b.Pieces, q.Piece)
		}
		have = append(have, b)
	}
	q := quantity.Take(quantity.Input{Job: m.job, Runs: set, Layouts: layouts, Bought: have, Cuts: cuts(&cut)})
	t := report.Build(report.Stages{Job: m.job, Plan: pl, Runs: set, Layouts: layouts, Cut: &cut, Exceptions: slices.Concat(jobExceptions(m.job), uncut(&cut), q.Exceptions)})
	report.AddQuantities(t, q)
	t.Job.Rules, t.Job.Stamp = ruleList(m.job), "BUILD"
	t.Overrides = m.overrides
	m.stockOn(t, site, opened)
	m.progress(t, site)
	site.Hours = m.hours
	for i := range t.Pieces {
		if k, ok := at[t.Pieces[i].ID]; ok {
			site.Tops[k].Sheet = t.Pieces[i].Sheet
		}
	}
	return report.Normalise(t), site, nil
}

// opened are the sheets of the earlier takeoff that anything hung came from,
// with the placements of what is hung.
func (m *remeasure) opened() []report.Sheet {
	var out []report.Sheet
	for i := range m.was.Sheets {
		s := m.was.Sheets[i]
		s.Placements = slices.DeleteFunc(slices.Clone(s.Placements), func(p report.Placement) bool { return !m.hung[p.Piece] })
		if len(s.Placements) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// stockOn puts the opened sheets back into the takeoff, new ones under names of
// their own, and compares what is needed with what is on hand.
func (m *remeasure) stockOn(t *report.Takeoff, site *report.Site, opened []report.Sheet) {
	need, done := map[string]int{}, map[string]int{}
	sheetOf := map[string]string{}
	for i := range t.Sheets {
		s := &t.Sheets[i]
		s.ID = "N" + s.ID
		need[report.StockName(t, s)]++
	}
	for i := range t.Pieces {
		if q := &t.Pieces[i]; q.Sheet != "" {
			q.Sheet = "N" + q.Sheet
		}
	}
	for i := range opened {
		done[report.StockName(t, &opened[i])]++
		for _, p := range opened[i].Placements {
			sheetOf[p.Piece] = opened[i].ID
		}
	}
	for i := range t.Pieces {
		if id, ok := sheetOf[t.Pieces[i].ID]; ok {
			t.Pieces[i].Sheet = id
		}
	}
	t.Sheets = append(opened, t.Sheets...)
	lines := report.StockOf(m.was)
	for _, name := range slices.Sorted(maps.Keys(need)) {
		if !slices.ContainsFunc(lines, func(l report.StockLine) bool { return l.Name == name }) {
			lines = append(lines, report.StockLine{Name: name})
		}
	}
	var usedM2, hungM2 float64
	for i := range t.Pieces {
		if m.hung[t.Pieces[i].ID] {
			hungM2 += float64(t.Pieces[i].AreaM2)
		}
	}
	for _, l := range lines {
		s := report.SiteStockLine{StockLine: l, Opened: done[l.Name], Need: need[l.Name]}
		left := s.Count - s.Opened
		if v, ok := m.stock[l.Name]; ok {
			s.Count = v[0]
			if left = s.Count - s.Opened; v[1] >= 0 {
				site.Counted = true
				left = v[1]
				s.Opened = s.Count - left
				usedM2 += float64(s.Opened) * float64(l.WidthMM) * float64(l.Length) / 1e6
			}
		}
		s.More, s.Spare = max(0, s.Need-left), max(0, left-s.Need)
		site.Stock = append(site.Stock, s)
	}
	if usedM2 > 0 {
		site.Waste = max(0, 1-hungM2/usedM2)
	} else {
		site.Counted = false
	}
}

// progress sums up how far each side is.
func (m *remeasure) progress(t *report.Takeoff, site *report.Site) {
	at := map[string]*report.Progress{}
	plies := map[string]int{}
	for i := range t.Faces {
		if f := &t.Faces[i]; f.Boarded {
			at[f.ID] = &report.Progress{Face: f.ID, Run: f.Run}
			plies[f.ID] = len(f.Plies)
		}
	}
	for i := range t.Pieces {
		if q := &t.Pieces[i]; at[q.Face] != nil {
			at[q.Face].AreaM2 += q.AreaM2
			if m.hung[q.ID] {
				at[q.Face].Tacked += q.AreaM2
			}
			if m.screwed[q.ID] {
				at[q.Face].Screwed += q.AreaM2
			}
		}
	}
	for i := range t.Joints {
		if q := &t.Joints[i]; q.Ply == plies[q.Face] && at[q.Face] != nil {
			at[q.Face].JointsMM += report.JointLengthMM(q)
			if m.taped[q.Face] {
				at[q.Face].Taped += report.JointLengthMM(q)
			}
		}
	}
	for i := range t.Faces {
		if p := at[t.Faces[i].ID]; p != nil {
			site.Progress = append(site.Progress, *p)
		}
	}
}
