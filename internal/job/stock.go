package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// stock reads the boards and the sheets of them that can be bought.
func (r *reader) stock(f *fields) {
	keys, vals := f.pairs("stock")
	for i, k := range keys {
		r.job.Boards = append(r.job.Boards, r.board(k, vals[i]))
		r.at["board "+k.text] = k
	}
}

func (r *reader) board(key, val *node) Board {
	b := Board{Name: key.text, Line: key.line}
	product := rules.FindProduct(r.sys, key.text)
	f := r.fields(val, "a board", "kind", "thickness", "mass", "edges", "special-order", "sheets")
	if product != nil {
		b.Kind, b.Thickness, b.MassM2, b.Square = product.Kind, product.Thickness, product.MassM2, product.Square
	}
	if n := f.get("kind"); n != nil {
		b.Kind = r.text(n)
	}
	if n := f.get("thickness"); n != nil {
		b.Thickness = r.thickness(n, "board thickness")
	} else if product == nil {
		r.fail(key, "board %q is not in the catalogue; give its thickness, for example thickness: %s", key.text, [2]string{"5/8in", "12.5mm"}[r.sys])
	}
	if n := f.get("mass"); n != nil {
		b.MassM2 = r.massPerArea(n)
	} else if product == nil && b.Thickness > 0 {
		b.MassM2, _ = rules.MassFor(r.sys, b.Kind, b.Thickness)
		r.assume("stock."+b.Name+".mass", fmt.Sprintf("%.1f kg/m²", b.MassM2), "nobody gave it; by kind and thickness", false)
	}
	if n := f.get("edges"); n != nil {
		b.Square = r.choice(n, "tapered", "square") == 1
	}
	b.Special = f.yes("special-order")
	b.Sheets = r.sheets(f)
	if len(b.Sheets) == 0 && f.get("sheets") == nil {
		b.Sheets = r.usualSheets(product)
		r.assume("stock."+b.Name+".sheets", sheetWords(b.Sheets, r.sys), "nobody said which sheets can be bought", false)
	}
	return b
}

// massPerArea reads "2.2 psf" or "10.7 kg/m2" to kg/m².
func (r *reader) massPerArea(n *node) float64 {
	text := strings.ToLower(r.text(n))
	for _, u := range []struct {
		word string
		kg   float64
	}{{"psf", rules.PSF}, {"kg/m2", 1}, {"kg/m²", 1}} {
		if num, ok := strings.CutSuffix(text, u.word); ok {
			if v, err := strconv.ParseFloat(strings.TrimSpace(num), 64); err == nil && v > 0 && v < 1000 {
				return v * u.kg
			}
		}
	}
	r.fail(n, "%q is no mass per area; write 2.2 psf or 10.7 kg/m2", n.text)
	return 0
}

// sheets reads "sheets: {48in: [8ft, 10ft]}"; widths and lengths come back
// sorted.
func (r *reader) sheets(f *fields) []SheetSize {
	keys, vals := f.pairs("sheets")
	var out []SheetSize
	for i, k := range keys {
		s := SheetSize{Width: r.thickness(k, "sheet width")}
		if step := [2]Length{measure.EighthInch, measure.Millimetre}[r.sys]; s.Width%step != 0 {
			r.doubt(k, "mixed-systems", "stock", "a sheet "+k.text+" wide in a job in "+r.sys.String()+" units: the two systems' sheets and stud modules do not agree")
		}
		items := []*node{vals[i]}
		if vals[i].kind == list {
			items = vals[i].items
		}
		for _, n := range items {
			l := r.thickness(n, "sheet length")
			if l > 0 && l < s.Width {
				r.fail(n, "a sheet %s long is shorter than it is wide", n.text)
			}
			if l > 0 && !slices.Contains(s.Lengths, l) {
				s.Lengths = append(s.Lengths, l)
			}
		}
		if len(items) == 0 {
			r.fail(k, "no length given for sheets %s wide", k.text)
		}
		slices.Sort(s.Lengths)
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b SheetSize) int { return int(min(max(a.Width-b.Width, -1), 1)) })
	return out
}

// usualSheets are the sheets of a product that need no special order, of its
// widest usual width; 48 in (1200 mm) sheets 8 to 12 ft (2400 to 3600 mm)
// for a board that is in no catalogue.
func (r *reader) usualSheets(p *rules.Product) []SheetSize {
	if p == nil {
		p = &rules.Catalogue(r.sys)[2]
	}
	usual := [2]Length{48 * measure.Inch, 1200 * measure.Millimetre}[r.sys]
	var out []SheetSize
	for _, s := range p.Sheets {
		if s.Width != usual && len(p.Sheets) > 1 {
			continue
		}
		size := SheetSize{Width: s.Width}
		for _, l := range s.Lengths {
			if !rules.SpecialOrder(s.Width, l, r.sys) {
				size.Lengths = append(size.Lengths, l)
			}
		}
		out = append(out, size)
	}
	return out
}

func sheetWords(sheets []SheetSize, sys measure.System) string {
	var out []string
	for _, s := range sheets {
		for _, l := range s.Lengths {
			out = append(out, measure.SheetName(s.Width, l, sys))
		}
	}
	return strings.Join(out, ", ")
}

// boardNamed sees that a board named by a type or zone is in stock: out of the
// catalogue where the job does not describe it. n is where the name stands,
// nil for a default.
func (r *reader) boardNamed(n *node, name string) {
	if name == "" || r.job.Board(name) != nil {
		return
	}
	p := rules.FindProduct(r.sys, name)
	if p == nil {
		var names []string
		for _, b := range r.job.Boards {
			names = append(names, b.Name)
		}
		for _, c := range rules.Catalogue(r.sys) {
			if !slices.Contains(names, c.Name) {
				names = append(names, c.Name)
			}
		}
		if n != nil {
			r.known(n, "board", name, names)
		}
		return
	}
	b := Board{Name: p.Name, Kind: p.Kind, Thickness: p.Thickness, MassM2: p.MassM2, Square: p.Square, Sheets: r.usualSheets(p)}
	r.job.Boards = append(r.job.Boards, b)
	r.assume("stock."+name, sheetWords(b.Sheets, r.sys), "nobody said which sheets can be bought", false)
}

// zones reads where another board goes.
func (r *reader) zones(f *fields) {
	for _, n := range f.list("zones") {
		g := r.fields(n, "a zone", "room", "type", "side", "from", "to", "ply", "board")
		z := Zone{Room: g.text("room"), Type: g.text("type"), Bottom: g.length("from"), Top: g.length("to"), Line: n.line}
		if t := g.get("type"); t != nil {
			r.use("type", z.Type, t)
		}
		if s := g.get("side"); s != nil {
			z.Side = []string{"left", "right"}[r.choice(s, "left", "right")]
		}
		if p := g.get("ply"); p != nil {
			switch text := r.text(p); text {
			case "face":
			case "base":
				z.Ply = 1
			default:
				z.Ply = r.whole(p, 1, 4)
			}
		}
		if b := g.must("board", "5/8 moisture-resistant type X"); b != nil {
			z.Board = r.text(b)
			r.boardNamed(b, z.Board)
		}
		if to := g.get("to"); to != nil && z.Top <= z.Bottom {
			r.fail(to, "the zone ends at %s, not above where it begins", to.text)
		}
		if z.Room == "" && z.Type == "" && n.kind == mapping {
			r.fail(n, "a zone names a room or a type")
		}
		r.job.Zones = append(r.job.Zones, z)
	}
}
