package app

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"

	"boardrun/internal/edit"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/run"
)

// editTable lists what of a set can be changed in the workbook. The set is that
// of the job and the drawings, before any edit.
func editTable(j *job.Job, set *run.Set) *report.EditTable {
	t := &report.EditTable{}
	for _, r := range set.Runs {
		v := wallValues(j, r.Make, j.Walls[r.ID])
		t.Walls = append(t.Walls, report.EditRow{ID: r.ID, Fingerprint: r.Fingerprint, Base: v, Now: v})
		for i := range r.Openings {
			if q := &r.Openings[i]; len(q.Shape) == 0 {
				v := []string{q.Kind.String(), q.Mark, exactly(q.RoughWidth, j), exactly(q.RoughHead, j), exactly(q.Sill, j)}
				t.Openings = append(t.Openings, report.EditRow{ID: q.ID, Fingerprint: r.Fingerprint, Base: v, Now: v})
			}
		}
	}
	return t
}

func exactly(l measure.Length, j *job.Job) string { return measure.Exact(l, j.System) }

// wallValues are the cells of a wall of a type: in the order of
// report.EditWallColumns without the first and the last.
func wallValues(j *job.Job, t *job.WallType, e job.WallEdit) []string {
	v := make([]string, len(report.EditWallColumns)-2)
	if t == nil {
		return v
	}
	v[0] = t.Name
	for side := range 2 {
		s := t.Sides[sideOf(side, e)]
		h := s.Height
		if e.Height[side] != nil {
			h = *e.Height[side]
		}
		v[1+side], v[3+side], v[5+side] = j.HeightText(h), boardsText(s.Plies), strconv.Itoa(s.Finish)
	}
	return v
}

// sideOf is the side of the type that stands on one side of the wall.
func sideOf(side int, e job.WallEdit) int {
	if e.Flip {
		return 1 - side
	}
	return side
}

func boardsText(plies []string) string {
	if len(plies) == 0 {
		return "not boarded"
	}
	return strings.Join(plies, " + ")
}

// edits reads an edited workbook and returns the job with its changes, what
// changed, and the table the next workbook shows. Every fault is told; one is
// enough to refuse the whole.
func (p *pipeline) edited(j *job.Job, pl *plan.Plan, old []run.OldRun) (*job.Job, error) {
	set, err := run.BuildFrom(pl, j, old)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(p.edits)
	if err != nil {
		return nil, fmt.Errorf("%s: can't be read: %w", p.edits, err)
	}
	defer f.Close()
	b, err := edit.Open(p.edits, f)
	if err != nil {
		return nil, err
	}
	defer b.Close()
	table := editTable(j, set)
	tables := []edit.Table{{Sheet: report.EditSheet, Columns: report.EditWallColumns}}
	if len(table.Openings) > 0 {
		tables = append(tables, edit.Table{Sheet: report.EditSheet, Columns: report.EditOpeningColumns})
	}
	rows, err := b.Read(tables...)
	if err != nil {
		return nil, many(err)
	}
	c := newChanges(p.edits, j, set, table)
	c.walls(rows[0])
	if len(rows) > 1 {
		c.openings(rows[1])
	}
	c.shown(b)
	if len(c.faults) > 0 {
		return nil, c.faults
	}
	p.table, p.overrides, p.done = table, c.overrides, c.done
	return c.job, nil
}

// many turns the faults of a workbook into lines of their own.
func many(err error) error {
	if f, ok := err.(edit.Faults); ok {
		return manyErrors(f)
	}
	return err
}

// changes gathers what an edited workbook changes.
type changes struct {
	file      string
	job       *job.Job
	table     *report.EditTable
	runs      map[string]*run.Run
	faults    manyErrors
	overrides []report.Override
	done      map[string]string // "1-W003 left": tacked, screwed, taped
	types     map[string]edit.Cell
}

func newChanges(file string, j *job.Job, set *run.Set, table *report.EditTable) *changes {
	clone := *j
	clone.Walls, clone.Openings, clone.Types = maps.Clone(j.Walls), maps.Clone(j.Openings), slices.Clone(j.Types)
	if clone.Walls == nil {
		clone.Walls = map[string]job.WallEdit{}
	}
	if clone.Openings == nil {
		clone.Openings = map[string]job.OpeningEdit{}
	}
	c := &changes{file: file, job: &clone, table: table, runs: map[string]*run.Run{}, done: map[string]string{}, types: map[string]edit.Cell{}}
	for _, r := range set.Runs {
		c.runs[r.ID] = r
	}
	return c
}

func (c *changes) fail(at, format string, args ...any) {
	c.faults = append(c.faults, fmt.Errorf("%s, %s: %s", c.file, at, fmt.Sprintf(format, args...)))
}

func (c *changes) note(target, field, was string, cell edit.Cell) {
	c.overrides = append(c.overrides, report.Override{Target: target, Field: field, Was: was, Now: cell.Text, File: c.file, Cell: cell.At, Kind: "edit"})
}

// match pairs the rows of a sheet with those of the table. It reports touched
// rows only, each with the values it was written against.
func (c *changes) match(rows []edit.Row, table []report.EditRow, columns []string, what string, touched func(row edit.Row, was *report.EditRow)) {
	at := map[string]*report.EditRow{}
	for i := range table {
		at[table[i].ID] = &table[i]
	}
	seen := map[string]bool{}
	for _, row := range rows {
		seen[row.ID] = true
		var values []string
		for _, name := range columns[1 : len(columns)-1] {
			values = append(values, row.Cells[name].Text)
		}
		key := row.Cells[report.EditKey]
		print, sum, ok := strings.Cut(key.Text, "-")
		switch was := at[row.ID]; {
		case !ok || len(print) != 8 || len(sum) != 4:
			c.fail(key.At, "%q is no key as boardrun writes it; take the job off anew and edit that workbook", key.Text)
		case sum == report.EditSum(values): // as it was written: nothing to read
		case was == nil:
			c.fail(row.At, "%s %s is changed here and is not in the job any more; take the job off anew and edit that workbook", what, row.ID)
		case print != was.Fingerprint:
			c.fail(row.At, "%s %s is not what it was when this workbook was written (its drawing or the job changed since), so the changes in its row are refused; take the job off anew and edit that workbook", what, row.ID)
		default:
			touched(row, was)
		}
	}
	for i := range table {
		if id := table[i].ID; !seen[id] && len(rows) > 0 {
			c.fail(rows[0].At, "%s %s has no row in this table; put it back (to leave a wall out, write why under Skip)", what, id)
		}
	}
	if len(rows) == 0 && len(table) > 0 {
		c.faults = append(c.faults, fmt.Errorf("%s: sheet %s has no rows of a %s; put them back", c.file, report.EditSheet, what))
	}
}

func (c *changes) walls(rows []edit.Row) {
	for _, r := range rows {
		c.types[r.ID] = r.Cells["Type"]
	}
	c.match(rows, c.table.Walls, report.EditWallColumns, "wall", c.wall)
}

// wall reads the cells of one wall. A cell that holds what the wall's type
// gives is no change.
func (c *changes) wall(row edit.Row, was *report.EditRow) {
	e := c.job.Walls[row.ID]
	t := c.runs[row.ID].Make
	before := len(c.faults)
	if cell := row.Cells["Type"]; cell.Text != was.Base[0] {
		switch now := c.job.Type(cell.Text); {
		case now == nil:
			c.fail(cell.At, "there is no wall type %q in the job; there is %s", cell.Text, strings.Join(typeNames(c.job), ", "))
			return
		case now.Leave != "":
			c.fail(cell.At, "walls of type %s are not taken off; to leave this wall out write why under Skip", cell.Text)
			return
		default:
			c.note(row.ID, "type", was.Base[0], cell)
			t, e.Type = now, now.Name
		}
	}
	of := wallValues(c.job, t, e)
	own := *t
	changed := false
	for i, name := range report.EditWallColumns[1 : len(report.EditWallColumns)-1] {
		cell := row.Cells[name]
		if i == 0 || cell.Text == was.Base[i] || cell.Text == of[i] {
			continue
		}
		side := (i - 1) % 2
		s := &own.Sides[sideOf(side, e)]
		switch (i - 1) / 2 {
		case 0:
			h, err := c.job.ParseHeight(cell.Text)
			if err != nil {
				c.fail(cell.At, "%v", err)
				continue
			}
			e.Height[side] = &h
		case 1:
			plies, ok := c.boards(cell)
			if !ok {
				continue
			}
			if s.Plies, changed = plies, true; len(plies) == 0 {
				s.Reason = "not boarded: " + c.file
			}
		case 2:
			n, err := strconv.Atoi(cell.Text)
			if err != nil || n < 0 || n > 5 {
				c.fail(cell.At, "%q is no level of finish; write 0 to 5", cell.Text)
				continue
			}
			s.Finish, changed = n, true
		case 3:
			if name == "Skip, and why" {
				e.Leave = cell.Text
			} else {
				c.finished(row.ID, "left", cell)
			}
		default:
			c.finished(row.ID, "right", cell)
		}
		c.note(row.ID, strings.ToLower(name), of[i], cell)
		of[i] = cell.Text
	}
	if len(c.faults) > before {
		return
	}
	if changed { // a make-up of its own: told as a type of its own
		own.Name, own.Match = t.Name+", "+row.ID, nil
		c.job.Types = append(c.job.Types, own)
		e.Type = own.Name
	}
	c.job.Walls[row.ID] = e
	was.Now = of
}

// finished reads how far a side is.
func (c *changes) finished(mark, side string, cell edit.Cell) {
	if !slices.Contains(report.DoneStages, cell.Text) {
		c.fail(cell.At, "%q is no stage of a side; write %s, or nothing", cell.Text, strings.Join(report.DoneStages, ", "))
		return
	}
	c.done[mark+" "+side] = cell.Text
}

// boards reads the boards of a side, base ply first.
func (c *changes) boards(cell edit.Cell) ([]string, bool) {
	if strings.EqualFold(cell.Text, "not boarded") {
		return nil, true
	}
	var out []string
	for name := range strings.SplitSeq(cell.Text, "+") {
		name = strings.TrimSpace(name)
		if c.job.Board(name) == nil {
			var names []string
			for i := range c.job.Boards {
				names = append(names, c.job.Boards[i].Name)
			}
			c.fail(cell.At, "there is no board %q in the job; there is %s", name, strings.Join(names, ", "))
			return nil, false
		}
		out = append(out, name)
	}
	if len(out) > 4 {
		c.fail(cell.At, "%d layers on one side; at most 4", len(out))
		return nil, false
	}
	return out, true
}

func typeNames(j *job.Job) []string {
	var out []string
	for i := range j.Types {
		out = append(out, j.Types[i].Name)
	}
	return out
}

func (c *changes) openings(rows []edit.Row) {
	c.match(rows, c.table.Openings, report.EditOpeningColumns, "opening", c.opening)
}

// opening reads the sizes of one opening.
func (c *changes) opening(row edit.Row, was *report.EditRow) {
	e := job.OpeningEdit{}
	now := slices.Clone(was.Base)
	before := len(c.faults)
	for i, name := range report.EditOpeningColumns[1 : len(report.EditOpeningColumns)-1] {
		cell := row.Cells[name]
		if cell.Text == was.Base[i] {
			continue
		}
		if slices.Contains(report.EditGiven, name) {
			c.fail(cell.At, "%s is told here, not read; put back %q", strings.ToLower(name), was.Base[i])
			continue
		}
		l, err := measure.Parse(cell.Text, c.job.System)
		if err != nil {
			c.fail(cell.At, "%v", err)
			continue
		}
		switch name {
		case "Rough width":
			e.RoughWidth = &l
		case "Rough height":
			e.RoughHead = &l
		case "Sill":
			e.Sill = &l
		}
		if now[i] = cell.Text; l < 0 || l == 0 && name != "Sill" {
			c.fail(cell.At, "%q: a size must be above 0", cell.Text)
		}
		c.note(row.ID, strings.ToLower(name), was.Base[i], cell)
	}
	if len(c.faults) > before {
		return
	}
	q := c.openingOf(row.ID)
	width, head, sill := pickLength(e.RoughWidth, q.RoughWidth), pickLength(e.RoughHead, q.RoughHead), pickLength(e.Sill, q.Sill)
	switch r := c.runs[row.ID[:strings.LastIndex(row.ID, "-O")]]; {
	case head <= sill:
		c.fail(row.At, "opening %s: its head would be at or below its sill", row.ID)
	case width > r.Length:
		c.fail(row.At, "opening %s: it would be wider than its wall is long", row.ID)
	case q.Width+width-q.RoughWidth <= 0 || q.Head+head-q.RoughHead <= sill:
		c.fail(row.At, "opening %s: no hole would be left in the board", row.ID)
	default:
		c.job.Openings[row.ID] = e
		was.Now = now
	}
}

func pickLength(l *measure.Length, otherwise measure.Length) measure.Length {
	if l != nil {
		return *l
	}
	return otherwise
}

func (c *changes) openingOf(id string) *run.Opening {
	for _, r := range c.runs {
		for i := range r.Openings {
			if r.Openings[i].ID == id {
				return &r.Openings[i]
			}
		}
	}
	return &run.Opening{}
}

// shown refuses a type that was changed on the sheet Walls, where nothing is
// read: the change would be lost without a word.
func (c *changes) shown(b *edit.Book) {
	if !b.Has("Walls") {
		return
	}
	rows, err := b.Read(edit.Table{Sheet: "Walls", Columns: []string{"Wall", "Type", "Storey", "Length"}})
	if err != nil {
		return // the sheet is for people; only a plain contradiction matters
	}
	for _, row := range rows[0] {
		cell, read := row.Cells["Type"], c.types[row.ID]
		r := c.runs[row.ID]
		if r == nil || read.At == "" || cell.Text == read.Text || cell.Text == r.Type || strings.HasSuffix(cell.Text, ", "+row.ID) {
			continue
		}
		c.fail(cell.At, "says %s is of type %s, and %s says %s; only the sheet %s is read: change it there, or make both the same", row.ID, cell.Text, read.At, read.Text, report.EditSheet)
	}
}
