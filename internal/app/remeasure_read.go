package app

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"boardrun/internal/edit"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/report"
)

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
	var rows [6][]edit.Row
	for i, t := range []edit.Table{
		{Sheet: report.SiteSides, Columns: report.SiteSideColumns}, {Sheet: report.SiteWalls, Columns: report.SiteWallColumns},
		{Sheet: report.SiteOpenings, Columns: report.SiteOpeningColumns}, {Sheet: report.SiteTops, Columns: report.SiteTopColumns},
		{Sheet: report.SiteStock, Columns: report.SiteStockColumns}, {Sheet: report.SiteHours, Columns: report.SiteHourColumns},
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
	m.spent(rows[5])
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

// spent takes the hours the crew wrote down, and how much of each phase is done.
func (m *remeasure) spent(rows []edit.Row) {
	planned := map[string]float64{}
	for i := range m.was.Phases {
		planned[m.was.Phases[i].Work()] = m.was.Phases[i].Hours
	}
	for _, row := range rows {
		if !filled(row, "Hours so far", "Done, per cent") {
			continue
		}
		p, ok := planned[row.ID]
		if !ok {
			m.fail(row.At, "the takeoff has no work %q", row.ID)
			continue
		}
		h := report.SiteHour{Work: row.ID, Planned: p}
		for _, x := range []struct {
			column string
			into   *float64
			most   float64
			say    string
		}{{"Hours so far", &h.Spent, 1e6, "a number of hours, 42.5"}, {"Done, per cent", &h.Done, 100, "a number from 0 to 100"}} {
			c := row.Cells[x.column]
			if c.Text == "" {
				continue
			}
			v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(c.Text, "%")), 64)
			if err != nil || !(v >= 0 && v <= x.most) {
				m.fail(c.At, "%q: write %s", c.Text, x.say)
				continue
			}
			*x.into = v
			m.site(row.ID, strings.ToLower(x.column), "", c)
		}
		h.Done /= 100
		m.hours = append(m.hours, h)
	}
}
