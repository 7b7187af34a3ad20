package job

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"boardrun/internal/measure"
)

// prices reads the user's money: what the job file says, then the list it
// names. Without the key there are none.
func (r *reader) prices(f *fields, find func(string) (string, error)) {
	n := f.get("prices")
	if n == nil {
		return
	}
	r.at["prices"] = n
	g := r.fields(n, "prices", "currency", "boards", "joints-per-ft", "joints-per-m", "cut", "added-stud", "screws-per-1000", "hour", "list", "add")
	p := &Prices{Currency: g.text("currency"), PerSheet: map[string]int64{}, PerM2: map[string]int64{}}
	keys, vals := g.pairs("boards")
	for i, k := range keys {
		r.boardPrices(p, k, vals[i])
	}
	for _, per := range []struct {
		key    string
		metres float64
	}{{"joints-per-ft", 0.3048}, {"joints-per-m", 1}} {
		if j := g.get(per.key); j != nil {
			r.jointPrices(p, j, per.metres)
		}
	}
	for key, into := range map[string]*int64{"cut": &p.Cut, "added-stud": &p.Stud, "screws-per-1000": &p.Screw, "hour": &p.Hour} {
		if m := g.get(key); m != nil {
			*into = r.money(m)
		}
	}
	p.Add = r.addOns(g)
	if l := g.get("list"); l != nil {
		if t := r.readTable(l, find); t != nil {
			p.List, p.ListFile = r.priceList(t), r.text(l)
			r.boardRows(p, p.List)
			if len(p.List) == 0 && len(r.errs) == 0 {
				r.failCell(t, t.head, 0, "the price list has no row")
			}
		}
	}
	r.job.Prices = p
}

// boardPrices reads "5/8 type X: {4x8: 14.20, per-sf: 0.44}".
func (r *reader) boardPrices(p *Prices, board, val *node) {
	r.use("board", board.text, board)
	if val.kind != mapping {
		r.fail(val, "prices of a board are by sheet or area: {4x8: 14.20, per-sf: 0.44}")
		return
	}
	for i, k := range val.keys {
		amount := r.money(val.vals[i])
		switch k.text {
		case "per-sf":
			p.PerM2[board.text] = int64(math.Round(float64(amount) / (0.3048 * 0.3048)))
			continue
		case "per-m2":
			p.PerM2[board.text] = amount
			continue
		}
		w, l, ok := r.sheetName(k.text)
		if !ok {
			r.fail(k, "%q is no sheet; write 4x10, 54x144in, 1200x3000, per-sf or per-m2", k.text)
			continue
		}
		p.PerSheet[SheetKey(board.text, w, l, r.sys)] = amount
	}
}

var sheetPattern = regexp.MustCompile(`^([0-9.]+)\s*[x×]\s*([0-9.]+)\s*(ft|in|mm)?$`)

// sheetName reads what a sheet is called: 4x10 in feet, 1200x3000 in
// millimetres, or with a unit.
func (r *reader) sheetName(text string) (w, l Length, ok bool) {
	m := sheetPattern.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, 0, false
	}
	unit := m[3]
	if unit == "" {
		unit = [2]string{"ft", "mm"}[r.sys]
	}
	w, errW := measure.Parse(m[1]+unit, r.sys)
	l, errL := measure.Parse(m[2]+unit, r.sys)
	return w, l, errW == nil && errL == nil && w > 0 && l > 0
}

func (r *reader) jointPrices(p *Prices, n *node, metres float64) {
	f := r.fields(n, "prices of joints", "tapered", "tapered-cut", "butt")
	for i, key := range []string{"tapered", "tapered-cut", "butt"} {
		if m := f.get(key); m != nil {
			p.Joint[i] = int64(math.Round(float64(r.money(m)) / metres))
		}
	}
}

// SheetKey is the key of a sheet in Prices.PerSheet: "5/8 type X 48x120in",
// "12.5 type A 1200x3000mm".
func SheetKey(board string, width, length Length, sys measure.System) string {
	unit, per := "in", measure.Inch
	if sys == measure.Metric {
		unit, per = "mm", measure.Millimetre
	}
	side := func(l Length) string { return strconv.FormatFloat(float64(l)/float64(per), 'f', -1, 64) }
	return board + " " + side(width) + "x" + side(length) + unit
}

// Sheet returns the price of one sheet in 1/10000 of the currency: its own,
// else by area. ok is false where the job gives neither.
func (p *Prices) Sheet(board string, width, length Length, sys measure.System) (amount int64, ok bool) {
	if amount, ok := p.PerSheet[SheetKey(board, width, length, sys)]; ok {
		return amount, true
	}
	perM2, ok := p.PerM2[board]
	return int64(math.Round(float64(perM2) * width.Metres() * length.Metres())), ok
}
