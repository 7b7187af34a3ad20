package quantity

import (
	"fmt"
	"strings"

	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
)

// rowNote says where a price stands, from when it is and what is noted there.
func rowNote(r *job.PriceRow) string {
	parts := []string{r.Where}
	for _, s := range []string{r.Date, r.Note} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ", ")
}

// noteBoard says the same of the lines of board, whose prices the layout has
// weighed already.
func (t *taker) noteBoard(c *Cost, rows map[string]*job.PriceRow) {
	for i := range c.Lines {
		l := &c.Lines[i]
		if r := rows[job.PriceKey(strings.TrimPrefix(l.Item, "board "))+"|0"]; r != nil && l.Priced && r.Price == l.Price {
			l.Note = rowNote(r)
			if r.Section != "" {
				l.Section = r.Section
			}
		}
	}
}

// mostUnused is how many rows without a use are named.
const mostUnused = 12

// unusedRows lists what a price list prices and this job neither orders nor does:
// mostly the rest of a yard's list, sometimes a name that was meant otherwise. A
// line without a price is told the row that is named most like it.
func (t *taker) unusedRows(c *Cost, p *job.Prices, used map[*job.PriceRow]bool) {
	var idle []*job.PriceRow
	var names []string
	for i := range p.List {
		r := &p.List[i]
		if !used[r] && !t.boardRow(r) {
			idle, names = append(idle, r), append(names, r.Item)
		}
	}
	if len(idle) == 0 {
		return
	}
	for i := range c.Lines {
		l := &c.Lines[i]
		if l.Priced || l.Note != "" {
			continue
		}
		near := rules.Nearest(l.Item, names)
		for _, r := range idle {
			if near != "" && r.Item == near {
				l.Note = fmt.Sprintf("did you mean %q at %s?", r.Item, r.Where)
				break
			}
		}
	}
	var some []string
	for i, r := range idle {
		if i == mostUnused {
			some = append(some, fmt.Sprintf("and %d more", len(idle)-i))
			break
		}
		some = append(some, fmt.Sprintf("%q (%s)", r.Item, r.Where))
	}
	t.res.Exceptions = append(t.res.Exceptions, plan.Exception{Severity: plan.Note, Code: "price-unused",
		Message: fmt.Sprintf("%d of %d rows of the price list price nothing in this job: %s", len(idle), len(p.List), strings.Join(some, ", ")),
		Did:     "not in the total; an item is named as on the sheet Order, with or without its specification and length"})
}

// boardRow reports whether a row prices sheets of a board of the job.
func (t *taker) boardRow(r *job.PriceRow) bool {
	key := job.PriceKey(r.Item)
	for i := range t.in.Job.Boards {
		if name := job.PriceKey(t.in.Job.Boards[i].Name); key == name || strings.HasPrefix(key, name+" ") {
			return true
		}
	}
	return false
}
