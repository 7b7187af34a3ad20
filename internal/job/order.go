package job

import (
	"fmt"
	"strconv"
	"strings"

	"boardrun/internal/measure"
)

// Order says how the material is to come.
type Order struct {
	Longest Length  // longest length that fits the way in; 0 = any
	Floor   float64 // kPa that stacks may load the floor with, by whoever answers for the structure; 0 = not given
	Needed  string  // when it is needed on site, as written; "" = a line to fill in
}

// HeightLimit is one row of the user's table of limiting heights.
type HeightLimit struct {
	Stud    string // designator, "362S125-18"
	Spacing Length
	Height  Length
	Note    string
	Where   string
}

// order reads how the material is to come. What does not fit the way in is
// taken out of the sheets that can be bought.
func (r *reader) order(f *fields) {
	n := f.get("order")
	if n == nil {
		return
	}
	g := r.fields(n, "the order", "longest", "floor", "needed")
	if l := g.get("floor"); l != nil {
		kpa, err := measure.ParsePressure(l.text)
		if l.kind != scalar || err != nil {
			r.fail(l, "floor %q is no load on a floor: write 40 psf or 1.9 kPa, as the structure's engineer gives it", clip(l.text))
		}
		r.job.Order.Floor = kpa
	}
	r.job.Order.Needed = g.text("needed")
	if l := g.get("longest"); l != nil {
		r.job.Order.Longest = r.thickness(l, "the longest length")
		r.fitSheets(l)
	}
}

// fitSheets takes the sheets that are longer than the way in out of the stock.
func (r *reader) fitSheets(n *node) {
	longest := r.job.Order.Longest
	if longest <= 0 {
		return
	}
	for i := range r.job.Boards {
		b := &r.job.Boards[i]
		var out []string
		kept := b.Sheets[:0:0]
		for _, s := range b.Sheets {
			fits := s
			fits.Lengths = nil
			for _, l := range s.Lengths {
				if l <= longest {
					fits.Lengths = append(fits.Lengths, l)
				} else {
					out = append(out, measure.SheetName(s.Width, l, r.sys))
				}
			}
			if len(fits.Lengths) > 0 {
				kept = append(kept, fits)
			}
		}
		if len(out) == 0 {
			continue
		}
		if len(kept) == 0 {
			r.fail(n, "no sheet of %s is %s long or shorter, so none fits the way in", b.Name, measure.Human(longest, r.sys))
			continue
		}
		b.Sheets = kept
		r.doubt(n, "way-in", "order.longest", fmt.Sprintf("%s %s does not fit the way in and is not used", b.Name, strings.Join(out, ", ")))
	}
}

// limitingHeights reads the user's table: stud, spacing, height, note.
func (r *reader) limitingHeights(f *fields, find func(string) (string, error)) {
	n := f.get("limiting-heights")
	if n == nil {
		return
	}
	t := r.readTable(n, find)
	if t == nil {
		return
	}
	at, ok := r.tableColumns(t, "a table of limiting heights", []string{"stud", "spacing", "height", "note"}, nil, 3)
	if !ok {
		return
	}
	seen := map[string]string{}
	for _, row := range t.rows {
		h := HeightLimit{Stud: row.cell(at, "stud").text, Note: row.cell(at, "note").text, Where: t.where(row)}
		if h.Stud == "" {
			r.failCell(t, row, at["stud"], "a limit without a stud: write its designator, 362S125-18")
			continue
		}
		good := true
		for _, c := range []struct {
			name string
			into *Length
		}{{"spacing", &h.Spacing}, {"height", &h.Height}} {
			text := row.cell(at, c.name).text
			l, err := measure.Parse(text, r.sys)
			if err != nil || l <= 0 {
				r.failCell(t, row, at[c.name], "%s %q of %s is no length; write 16in, 13'-6\" or 4100mm", c.name, clip(text), h.Stud)
				good = false
			}
			*c.into = l
		}
		key := strings.ToLower(h.Stud) + "|" + strconv.FormatInt(int64(h.Spacing), 10)
		if first, twice := seen[key]; twice && good {
			r.failCell(t, row, at["stud"], "%s at %s stands here a second time, first at %s: delete one", h.Stud, measure.Human(h.Spacing, r.sys), first)
			continue
		}
		seen[key] = h.Where
		if good {
			r.job.Limits = append(r.job.Limits, h)
		}
	}
	if r.job.Limits == nil && len(r.errs) == 0 {
		r.failCell(t, t.head, 0, "the table of limiting heights has no row")
	}
}

// Limit returns the user's limiting height of a stud at a spacing: of that
// spacing, else of the next wider one in the table, which is on the safe side.
// ok is false where the table has neither.
func (j *Job) Limit(stud string, spacing Length) (h HeightLimit, ok bool) {
	for _, l := range j.Limits {
		if strings.EqualFold(l.Stud, stud) && l.Spacing >= spacing && (!ok || l.Spacing < h.Spacing) {
			h, ok = l, true
		}
	}
	return h, ok
}
