package app

import (
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boardrun/internal/cutting"
	"boardrun/internal/edit"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/quantity"
	"boardrun/internal/report"
	"boardrun/internal/run"
	"boardrun/internal/write"
)

type remeasureOptions struct {
	job, site, dir, from, effort string
}

func remeasureCommand(e *env) *cobra.Command {
	var o remeasureOptions
	c := &cobra.Command{
		Use:   "remeasure JOB [SITE.xlsx] -o DIR --from OLD.json",
		Short: "Heights measured on site in, new tops list out",
		Long: `Without SITE.xlsx: write DIR/site.xlsx, a sheet to print or fill in on site, from the
takeoff OLD.json: left and right of each top, first studs, rough openings, what of each
side is tacked, screwed and taped, sheets on hand.

With it, filled in: cut the tops that are not hung yet to what was measured, lay out anew
the walls of which nothing is hung and whose first stud or openings stand elsewhere, and
say what sheets must be ordered more. What is hung stays, and the sheets it came from with
it. DIR gets remeasure.xlsx (order more, new tops, progress), tops.html and takeoff.json
with every measured value under overrides.`,
		Example: `  boardrun remeasure job.yaml -o site --from out/takeoff.json
  boardrun remeasure job.yaml site/site.xlsx -o again --from out/takeoff.json`,
		Args: args(cobra.RangeArgs(1, 2)),
		RunE: func(c *cobra.Command, a []string) error {
			o.job = a[0]
			if len(a) > 1 {
				o.site = a[1]
			}
			return runRemeasure(c.Context(), e, o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.dir, "out", "o", "", "folder to write into (made if missing)")
	f.StringVar(&o.from, "from", "", "takeoff.json of the takeoff that was hung from")
	f.StringVar(&o.effort, "effort", "best", "quick or best, as that takeoff was made")
	return c
}

func runRemeasure(ctx context.Context, e *env, o remeasureOptions) error {
	switch {
	case o.dir == "":
		return usagef("say where to write: -o DIR")
	case o.from == "":
		return usagef("say which takeoff was hung from: --from OLD.json")
	case o.effort != "quick" && o.effort != "best":
		return usagef("--effort %q: say quick or best", o.effort)
	}
	was, err := earlier(o.from)
	if err != nil {
		return err
	}
	p := &pipeline{effort: o.effort, out: e.err}
	j, pl, err := p.read(ctx, o.job)
	if err != nil {
		return err
	}
	p.inputs = append(p.inputs, o.from)
	if o.site == "" {
		return writeFiles(o.dir, write.SiteNames, p.inputs, func(f *write.Folder) error {
			return f.Write("site.xlsx", func(w io.Writer) error { return write.SiteXLSX(w, was, report.Millimetres(j.Rules.DeckGap)) })
		})
	}
	p.inputs = append(p.inputs, o.site)
	set, err := run.BuildFrom(pl, j, oldRuns(was))
	if err != nil {
		return fmt.Errorf("%s: %w", o.job, err)
	}
	m := &remeasure{changes: newChanges(o.site, j, set, nil), was: was, hung: map[string]bool{}, screwed: map[string]bool{}, taped: map[string]bool{}, again: map[string]bool{}}
	if err := m.read(); err != nil {
		return err
	}
	if len(m.again) > 0 {
		if set, err = run.BuildFrom(pl, m.job, oldRuns(was)); err != nil {
			return fmt.Errorf("%s: %w", o.job, err)
		}
	}
	choices, err := p.layouts(ctx, m.job, set)
	if err != nil {
		return err
	}
	layouts := hungAs(choices, was)
	if err := m.same(layouts); err != nil {
		return err
	}
	t, site, err := m.assemble(p, pl, set, layouts)
	if err != nil {
		return err
	}
	err = writeFiles(o.dir, write.TakeoffNames, p.inputs, func(f *write.Folder) error {
		for _, w := range []struct {
			name string
			fill func(io.Writer) error
		}{
			{"remeasure.xlsx", func(w io.Writer) error { return write.RemeasureXLSX(w, t, site) }},
			{"takeoff.json", func(w io.Writer) error { return write.JSON(w, t) }},
			{"tops.html", func(w io.Writer) error { return write.Tops(w, t) }},
		} {
			if err := f.Write(w.name, w.fill); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	more := 0
	for _, s := range site.Stock {
		more += s.More
	}
	fmt.Fprintf(e.err, "%s: %d values measured, %d tops to cut anew, %d sheets to order more; written to %s\n", o.job, len(m.overrides), len(site.Tops), more, o.dir)
	return nil
}

// writeFiles renews the files of one kind in dir.
func writeFiles(dir string, names, inputs []string, fill func(*write.Folder) error) error {
	if err := sparesInputs(dir, names, inputs); err != nil {
		return err
	}
	f, err := write.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := fill(f); err != nil {
		return err
	}
	return f.Commit()
}

// remeasure carries one site sheet into the takeoff.
type remeasure struct {
	*changes
	was     *report.Takeoff
	hung    map[string]bool // pieces tacked, by id
	screwed map[string]bool
	taped   map[string]bool              // faces
	tops    map[string][2]measure.Length // measured less planned, by piece
	stock   map[string][2]int            // bought, left (−1: not counted), by sheet
	again   map[string]bool              // walls laid out anew
}

func (m *remeasure) site(target, field, was string, c edit.Cell) {
	m.overrides = append(m.overrides, report.Override{Target: target, Field: field, Was: was, Now: c.Text, File: m.file, Cell: c.At, Kind: "site"})
}

// read takes the filled-in cells of the sheet.
func (m *remeasure) read() error {
	f, err := os.Open(m.file)
	if err != nil {
		return fmt.Errorf("%s: can't be read: %w", m.file, err)
	}
	defer f.Close()
	b, err := edit.Open(m.file, f)
	if err != nil {
		return err
	}
	defer b.Close()
	var rows [5][]edit.Row
	for i, t := range []edit.Table{
		{Sheet: report.SiteSides, Columns: report.SiteSideColumns}, {Sheet: report.SiteWalls, Columns: report.SiteWallColumns},
		{Sheet: report.SiteOpenings, Columns: report.SiteOpeningColumns}, {Sheet: report.SiteTops, Columns: report.SiteTopColumns},
		{Sheet: report.SiteStock, Columns: report.SiteStockColumns},
	} {
		if i > 1 && !b.Has(t.Sheet) {
			continue // a job without openings, tops or orders has no such sheet
		}
		r, err := b.Read(t)
		if err != nil {
			return many(err)
		}
		rows[i] = r[0]
	}
	m.sides(rows[0])
	m.firstStuds(rows[1])
	m.roughOpenings(rows[2])
	m.measuredTops(rows[3])
	m.counted(rows[4])
	if len(m.faults) > 0 {
		return m.faults
	}
	return nil
}

// fresh reports whether a row was written against what the takeoff has, and
// says so where it was not.
func (m *remeasure) fresh(row edit.Row, print string, known bool, filled bool) bool {
	switch {
	case !filled:
		return false
	case !known:
		m.fail(row.At, "%s is not in the takeoff given with --from", row.ID)
	case row.Cells[report.EditKey].Text != print:
		m.fail(row.At, "%s is not what it was when this sheet was written, so what was measured is refused; write a new site sheet from the takeoff that is hung from", row.ID)
	default:
		return true
	}
	return false
}

func filled(row edit.Row, columns ...string) bool {
	return slices.ContainsFunc(columns, func(c string) bool { return row.Cells[c].Text != "" })
}

func (m *remeasure) sides(rows []edit.Row) {
	prints := map[string]string{}
	for i := range m.was.Runs {
		prints[m.was.Runs[i].ID] = m.was.Runs[i].Fingerprint
	}
	face := map[string]*report.Face{}
	for i := range m.was.Faces {
		face[m.was.Faces[i].ID] = &m.was.Faces[i]
	}
	for _, row := range rows {
		f := face[row.ID]
		print := ""
		if f != nil {
			print = prints[f.Run]
		}
		if !m.fresh(row, print, f != nil, filled(row, "Tacked", "Screwed", "Taped")) {
			continue
		}
		for _, stage := range []string{"Tacked", "Screwed", "Taped"} {
			c := row.Cells[stage]
			switch {
			case c.Text == "":
				continue
			case stage == "Taped" && c.Text != "all", c.Text != "all" && c.Text != "sheets":
				m.fail(c.At, "%q: write all, or sheets for all but the tops (taped: all), or nothing", c.Text)
				continue
			case stage == "Taped":
				m.taped[row.ID] = true
			}
			for i := range m.was.Pieces {
				if q := &m.was.Pieces[i]; q.Face == row.ID && (c.Text == "all" || q.Role != "top") {
					m.hung[q.ID] = true
					if stage != "Tacked" {
						m.screwed[q.ID] = true
					}
				}
			}
			m.site(row.ID, strings.ToLower(stage), "", c)
		}
	}
}

// started reports whether anything hangs on a wall.
func (m *remeasure) started(mark string) bool {
	return slices.ContainsFunc(m.was.Pieces, func(q report.Piece) bool { return m.hung[q.ID] && strings.HasPrefix(q.Face, mark+"-") })
}

func (m *remeasure) length(c edit.Cell) (measure.Length, bool) {
	l, err := measure.Parse(c.Text, m.job.System)
	if err != nil || l < 0 {
		if err == nil {
			err = fmt.Errorf("%q is negative", c.Text)
		}
		m.fail(c.At, "%v", err)
		return 0, false
	}
	return l, true
}

func (m *remeasure) firstStuds(rows []edit.Row) {
	for _, row := range rows {
		c := row.Cells["First stud measured"]
		r := m.runs[row.ID]
		print := ""
		if r != nil {
			print = r.Fingerprint
		}
		if !m.fresh(row, print, r != nil, c.Text != "") {
			continue
		}
		l, ok := m.length(c)
		switch {
		case !ok:
		case m.started(row.ID):
			m.fail(c.At, "%s has board hung already: its studs stand as they were laid out", row.ID)
		case l > r.Length:
			m.fail(c.At, "%s is %s long", row.ID, measure.Human(r.Length, m.job.System))
		default:
			own, framed := *r.Make, job.BoardAsFramed
			own.Name, own.Match, own.FirstStud, own.Framing = own.Name+", "+row.ID, nil, l, &framed
			m.job.Types = append(m.job.Types, own)
			w := m.job.Walls[row.ID]
			w.Type = own.Name
			m.job.Walls[row.ID] = w
			m.again[row.ID] = true
			m.site(row.ID, "first stud", row.Cells["First stud planned"].Text, c)
		}
	}
}

func (m *remeasure) roughOpenings(rows []edit.Row) {
	for _, row := range rows {
		mark, _, _ := strings.Cut(row.ID, "-O")
		r := m.runs[mark]
		print := ""
		if r != nil {
			print = r.Fingerprint
		}
		if !m.fresh(row, print, r != nil, filled(row, "Width measured", "Height measured")) {
			continue
		}
		if m.started(mark) {
			m.fail(row.At, "%s has board hung already: an opening of it cannot be laid out anew", mark)
			continue
		}
		q, e := m.openingOf(row.ID), m.job.Openings[row.ID]
		for _, s := range []struct {
			name string
			into **measure.Length
			hole measure.Length // what would be left of the hole by 0
		}{{"Width", &e.RoughWidth, q.RoughWidth - q.Width}, {"Height", &e.RoughHead, q.RoughHead - q.Head + q.Sill}} {
			c := row.Cells[s.name+" measured"]
			if c.Text == "" {
				continue
			}
			l, ok := m.length(c)
			switch {
			case !ok:
			case l <= s.hole || l > r.Length && s.name == "Width":
				m.fail(c.At, "%q cannot be: no hole would be left, or it is wider than its wall", c.Text)
			default:
				*s.into = &l
				m.site(row.ID, "rough "+strings.ToLower(s.name), row.Cells[s.name+" planned"].Text, c)
			}
		}
		m.job.Openings[row.ID] = e
		m.again[mark] = true
	}
}

func (m *remeasure) measuredTops(rows []edit.Row) {
	m.tops = map[string][2]measure.Length{}
	pieces := map[string]*report.Piece{}
	for i := range m.was.Pieces {
		pieces[m.was.Pieces[i].ID] = &m.was.Pieces[i]
	}
	for _, row := range rows {
		q := pieces[row.ID]
		print := ""
		if q != nil {
			print = q.Fingerprint
		}
		if !m.fresh(row, print, q != nil, filled(row, "Left measured", "Right measured")) {
			continue
		}
		mark := q.Face[:max(strings.LastIndex(q.Face, "-"), 0)]
		if m.hung[row.ID] {
			m.fail(row.At, "%s is hung: it stays as it is", row.ID)
			continue
		}
		if m.again[mark] {
			m.fail(row.At, "%s is laid out anew, because its first stud or openings stand elsewhere; hang its sheets by the new pages, then measure its tops", mark)
			continue
		}
		l, r := report.TopPlanned(m.was, q, report.Millimetres(m.job.Rules.DeckGap))
		var by [2]measure.Length
		for i, s := range []struct {
			name    string
			planned measure.Length
		}{{"Left", l.Length()}, {"Right", r.Length()}} {
			c := row.Cells[s.name+" measured"]
			if c.Text == "" {
				continue
			}
			v, ok := m.length(c)
			switch {
			case !ok:
			case v <= m.job.Rules.DeckGap || (v-s.planned).Abs() > 2*measure.Foot:
				m.fail(c.At, "%s measured against %s planned cannot be this top; measure again, or correct the deck in the job file", measure.Human(v, m.job.System), measure.Human(s.planned, m.job.System))
			default:
				by[i] = v - s.planned
				m.site(row.ID, strings.ToLower(s.name)+" height", row.Cells[s.name+" planned"].Text, c)
			}
		}
		m.tops[row.ID] = by
	}
}

func (m *remeasure) counted(rows []edit.Row) {
	m.stock = map[string][2]int{}
	known := map[string]int{}
	for _, s := range report.StockOf(m.was) {
		known[s.Name] = s.Count
	}
	for _, row := range rows {
		n, ok := known[row.ID]
		if !ok && filled(row, "Bought", "Left on site") {
			m.fail(row.At, "the takeoff orders no sheets %q", row.ID)
			continue
		}
		v := [2]int{n, -1}
		for i, name := range []string{"Bought", "Left on site"} {
			c := row.Cells[name]
			if c.Text == "" {
				continue
			}
			k, err := strconv.Atoi(c.Text)
			if err != nil || k < 0 || k > 1_000_000 {
				m.fail(c.At, "%q is no count of sheets", c.Text)
				continue
			}
			v[i] = k
			m.site(row.ID, strings.ToLower(name), row.Cells["Bought planned"].Text, c)
		}
		if v[1] > v[0] {
			m.fail(row.At, "%d sheets left of %d bought", v[1], v[0])
		}
		m.stock[row.ID] = v
	}
}

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
