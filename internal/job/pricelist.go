package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// PriceRow is one row of the user's price list: what a unit of an item costs
// and how many hours it takes. Item and Length are what it is looked up by.
type PriceRow struct {
	Item    string // as written
	Key     string // Item in lower case, single spaces, without the length at its end
	Length  Length // at the end of Item: "stud 362S125-18 12ft"; 0 for none
	Unit    string // one of Units
	Price   int64  // of one unit, in 1/10000 of the currency
	Priced  bool   // Price was given
	Hours   float64
	Rate    int64 // of an hour of this work; 0 = Prices.Hour
	Section string
	Date    string
	Note    string
	Where   string // "prices.csv:12"
}

// AddOn is one row of the user's below the costs: overhead, profit, tax.
// Either Percent or Amount is given.
type AddOn struct {
	Name    string
	Percent int64  // in 1/10000 per cent
	Amount  int64  // in 1/10000 of the currency
	Of      string // "", material, labour: what Percent is of; "" = all that stands above it
}

// Units are the words a price list may use, first the one that is kept. The
// metric ones come last.
var Units = [][]string{
	{"each", "ea", "pc", "pcs", "piece", "pieces", "sheet", "sheets", "length", "lengths", "box", "roll", "pail", "cartridge", "tube", "stud", "storey", "pair of one"},
	{"1000", "per 1000", "thousand"},
	{"lf", "ft", "lin ft", "foot"},
	{"sf", "sq ft", "sqft", "ft2", "ft²"},
	{"1000 sf"},
	{"lb", "lbs"},
	{"gal", "gallon"},
	{"m"},
	{"m²", "m2", "sqm"},
	{"kg"},
	{"L", "l", "litre", "liter"},
}

// unitWord returns the kept word of a unit.
func unitWord(text string) (string, bool) {
	text = strings.TrimSuffix(strings.Join(strings.Fields(strings.ToLower(text)), " "), ".")
	for _, words := range Units {
		for _, w := range words {
			if strings.ToLower(w) == text {
				return words[0], true
			}
		}
	}
	return "", false
}

// PriceKey is how items are compared: lower case, single spaces.
func PriceKey(text string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(text, ",", " "))), " ")
}

// splitLength takes the length off the end of an item's name: its last word or
// two.
func splitLength(key string, sys measure.System) (string, Length) {
	words := strings.Split(key, " ")
	for _, n := range []int{2, 1} {
		if len(words) <= n {
			continue
		}
		tail := strings.Join(words[len(words)-n:], " ")
		if !strings.ContainsAny(tail[:1], "0123456789") || !strings.ContainsAny(tail, "'\"mfi") {
			continue
		}
		if l, err := measure.Parse(tail, sys); err == nil && l > 0 {
			return strings.Join(words[:len(words)-n], " "), l
		}
	}
	return key, 0
}

// priceColumns are the columns of a price list; all but the first three may be
// left out.
var priceColumns = []string{"item", "unit", "price", "hours", "labour rate", "section", "date", "note"}

// columnWords are other spellings of them.
var columnWords = map[string]string{"labor rate": "labour rate", "labour": "labour rate", "labor": "labour rate", "masterformat": "section", "hours per unit": "hours"}

// priceList turns a table into rows. Every fault is told with its cell.
func (r *reader) priceList(t *table) []PriceRow {
	at, ok := r.tableColumns(t, "a price list", priceColumns, columnWords, 3)
	if !ok {
		return nil
	}
	var out []PriceRow
	seen := map[string]string{}
	for i, row := range t.rows {
		cell := func(name string) tableCell { return row.cell(at, name) }
		item := cell("item")
		if item.text == "" {
			if !row.blank() {
				r.failCell(t, row, at["item"], "a price without an item: name what it is the price of")
			}
			continue
		}
		_ = i
		p := PriceRow{Item: item.text, Section: cell("section").text, Date: cell("date").text, Note: cell("note").text, Where: t.where(row)}
		p.Key, p.Length = splitLength(PriceKey(item.text), r.sys)
		unit, ok := unitWord(cell("unit").text)
		if !ok {
			var words []string
			for _, u := range Units {
				words = append(words, u[0])
			}
			r.failCell(t, row, at["unit"], "unit %q of %s is none of: %s", cell("unit").text, item.text, strings.Join(words, ", "))
			continue
		}
		p.Unit = unit
		good := true
		for _, m := range []struct {
			name string
			into *int64
		}{{"price", &p.Price}, {"labour rate", &p.Rate}} {
			c := cell(m.name)
			if c.text == "" {
				continue
			}
			v, msg := listMoney(c)
			if msg != "" {
				r.failCell(t, row, at[m.name], "%s of %s: %s", m.name, item.text, msg)
				good = false
				continue
			}
			*m.into = v
			p.Priced = p.Priced || m.name == "price"
		}
		if c := cell("hours"); c.text != "" {
			v, err := strconv.ParseFloat(c.text, 64)
			switch {
			case c.formula:
				r.failCell(t, row, at["hours"], "hours of %s: a formula; write the number itself", item.text)
				good = false
			case err != nil || !(v >= 0 && v < 1e4):
				r.failCell(t, row, at["hours"], "hours of %s: %q is not a number of hours for one unit; write it as 0.045", item.text, c.text)
				good = false
			}
			p.Hours = v
		}
		key := p.Key + "|" + strconv.FormatInt(int64(p.Length), 10)
		if first, twice := seen[key]; twice {
			r.failCell(t, row, at["item"], "%s stands here a second time, first at %s: delete one", item.text, first)
			continue
		}
		seen[key] = p.Where
		if good {
			out = append(out, p)
		}
	}
	return out
}

// listMoney reads an amount of a price list to 1/10000; the message says what
// is wrong, "" for nothing.
func listMoney(c tableCell) (int64, string) {
	text := c.text
	switch {
	case c.formula:
		return 0, "a formula; write the amount itself"
	case strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−") || strings.HasPrefix(text, "("):
		return 0, fmt.Sprintf("%q is negative; a price is 0 or more", text)
	}
	v, err := strconv.ParseFloat(text, 64)
	switch {
	case err != nil && strings.Count(text, ",") == 1 && !strings.Contains(text, "."):
		return 0, fmt.Sprintf("%q: write a point for the decimals, 14.20, and no commas", text)
	case err != nil || math.IsNaN(v) || strings.ContainsAny(text, "xXpP_"):
		return 0, fmt.Sprintf("%q is not an amount; write it as 14.20, the currency apart", text)
	case v >= 1e9:
		return 0, fmt.Sprintf("%q is more than any item costs", text)
	}
	out := math.Round(v * 1e4)
	if math.Abs(v*1e4-out) > 1e-3 {
		return 0, fmt.Sprintf("%q has more than 4 decimals; give the price of 1000", text)
	}
	return int64(out), ""
}

// boardRows takes the rows that price sheets into the prices the layout weighs.
func (r *reader) boardRows(p *Prices, rows []PriceRow) {
	for i := range rows {
		row := &rows[i]
		for _, b := range r.job.Boards {
			rest, ok := strings.CutPrefix(PriceKey(row.Item), PriceKey(b.Name))
			if !ok || rest != "" && rest[0] != ' ' {
				continue
			}
			if rest = strings.TrimSpace(rest); rest == "" {
				switch row.Unit {
				case "sf":
					p.PerM2[b.Name] = int64(math.Round(float64(row.Price) / (0.3048 * 0.3048)))
				case "1000 sf":
					p.PerM2[b.Name] = int64(math.Round(float64(row.Price) / 1000 / (0.3048 * 0.3048)))
				case "m²":
					p.PerM2[b.Name] = row.Price
				}
				continue
			}
			if w, l, ok := r.sheetName(rest); ok && row.Unit == "each" && row.Priced {
				if _, twice := p.PerSheet[SheetKey(b.Name, w, l, r.sys)]; !twice { // the job file's own word counts
					p.PerSheet[SheetKey(b.Name, w, l, r.sys)] = row.Price
				}
			}
		}
	}
}

// addOns reads the rows below the costs.
func (r *reader) addOns(f *fields) []AddOn {
	var out []AddOn
	for _, n := range f.list("add") {
		g := r.fields(n, "a row to add", "name", "percent", "amount", "of")
		a := AddOn{}
		if k := g.must("name", "Overhead"); k != nil {
			a.Name = r.text(k)
		}
		pct, amount := g.get("percent"), g.get("amount")
		switch {
		case pct != nil && amount != nil:
			r.fail(amount, "%s has a percentage and an amount: keep one", a.Name)
		case pct != nil:
			if a.Percent = r.money(pct); a.Percent > 1000*10000 {
				r.fail(pct, "%s%% is over 1000%%", pct.text)
			}
		case amount != nil:
			a.Amount = r.money(amount)
		case n.kind == mapping:
			r.fail(n, "a row to add gives percent: 10 or amount: 450")
		}
		if k := g.get("of"); k != nil {
			a.Of = []string{"", "material", "labour"}[r.choice(k, "all above", "material", "labour")]
			if pct == nil {
				r.fail(k, "of: goes with percent:")
			}
		}
		out = append(out, a)
	}
	return out
}

// tableColumns finds the columns of a table by its first row. It reports false
// where one of the first needed is missing.
func (r *reader) tableColumns(t *table, what string, known []string, other map[string]string, needed int) (map[string]int, bool) {
	at, ok := map[string]int{}, true
	for k, c := range t.head.cells {
		name := strings.ToLower(strings.Join(strings.Fields(c.text), " "))
		if word := other[name]; word != "" {
			name = word
		}
		if name == "" {
			continue
		}
		found := false
		for _, w := range known {
			found = found || w == name
		}
		switch {
		case !found:
			hint := ""
			if near := rules.Nearest(name, known); near != "" {
				hint = fmt.Sprintf(": did you mean %q?", near)
			}
			r.failCell(t, t.head, k, "column %q is none of %s%s", clip(c.text), strings.Join(known, ", "), hint)
			ok = false
		default:
			if _, twice := at[name]; twice {
				r.failCell(t, t.head, k, "column %q stands here a second time", c.text)
				ok = false
			}
			at[name] = k
		}
	}
	for _, w := range known[:needed] {
		if _, there := at[w]; !there {
			r.failCell(t, t.head, 0, "%s has a column %q; its first row names the columns: %s", what, w, strings.Join(known, ", "))
			ok = false
		}
	}
	return at, ok
}

func clip(s string) string {
	if utf8.RuneCountInString(s) > 40 {
		return string([]rune(s)[:39]) + "…"
	}
	return s
}
