package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// startText says where a side starts, in the words of the trade.
func startText(f *Face) string {
	if f.HangFrom == "" {
		return ""
	}
	return f.HangFrom + " end"
}

// pieceSize is the box of a piece: width along the wall, left and right height.
func pieceSize(q *Piece) (w, l, r MM) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range q.OutlineUV {
		lo, hi = math.Min(lo, float64(p[0])), math.Max(hi, float64(p[0]))
	}
	if h := q.Blank(); len(h) > 0 {
		l, r = h[0][1], h[len(h)-1][1]
	}
	return MM(hi - lo), l, r
}

// centres lists the stud centres of a piece from its starting edge.
func (p *paper) centres(q *Piece) string {
	w, _, _ := pieceSize(q)
	f := p.fac[q.Face]
	out := make([]string, 0, len(q.CentresMM))
	for i := range q.CentresMM {
		c := q.CentresMM[i]
		if f != nil && f.HangFrom == "right" {
			c = w - q.CentresMM[len(q.CentresMM)-1-i]
		}
		if c > 1 && c < w-1 { // a stud at the very edge needs no mark
			out = append(out, p.cut(c).Text)
		}
	}
	return join(out)
}

// shape says in words how a piece differs from a plain rectangle.
func (p *paper) shape(q *Piece) string {
	var s []string
	if n := len(q.Hooks); n > 0 {
		s = append(s, "hooks "+join(q.Hooks))
	}
	if _, l, r := pieceSize(q); math.Abs(float64(l-r)) > 0.5 {
		s = append(s, "sloped top")
	}
	if n := len(q.CutoutsUV); n > 0 {
		s = append(s, strconvI(n)+" cut-out"+plural(n))
	}
	if q.Uncut {
		s = append(s, "uncut")
	}
	return strings.Join(s, "; ")
}

func plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// schedule is the board schedule: like pieces of a side in one row.
func (p *paper) schedule() Tab {
	b := Block{Key: "schedule", Title: "Board, side by side of each wall, in hanging order", Columns: []Column{
		col("face", "Side", 14, Words), col("room", "Faces", 15, Words), col("start", "Start at", 10, Words), col("ply", "Layer", 7, Whole), col("board", "Board", 14, Words),
		col("role", "Piece", 9, Words), col("count", "Count", 7, Whole), col("width", "Width", 10, Lengths), col("left", "Left", 10, Lengths), col("right", "Right", 10, Lengths),
		col("marks", "Centres from the starting edge", 26, Words), col("shape", "Shape", 22, Words), col("ids", "Marks", 30, Words), col("two", "Two people", 10, Words),
	}}
	type group struct {
		first *Piece
		ids   []string
		row   []Cell
	}
	var order []string
	by := map[string]*group{}
	for _, q := range p.hanging() {
		f := p.fac[q.Face]
		if f == nil {
			continue
		}
		w, l, r := pieceSize(q)
		row := []Cell{T(q.Face).As(Strong), T(f.Room), T(startText(f)), I(q.Ply), T(q.Board), T(q.Role), I(0), p.cut(w), p.cut(l), p.cut(r), T(p.centres(q)), T(p.shape(q)), T(""), T(q.TwoPeople)}
		key := ""
		for _, c := range row {
			key += c.Text + "|"
		}
		key += strconvI(q.Ply)
		g := by[key]
		if g == nil {
			g = &group{first: q, row: row}
			by[key] = g
			order = append(order, key)
		}
		g.ids = append(g.ids, q.ID)
	}
	for _, k := range order {
		g := by[k]
		g.row[6] = I(len(g.ids))
		g.row[12] = T(shortIDs(g.ids))
		b.Rows = append(b.Rows, g.row)
	}
	b.Total = totalRow(b, "All", "count")
	return Tab{Name: "Board schedule", Landscape: true, Blocks: []Block{b}}
}

// shortIDs writes the marks of one side's pieces without repeating the side.
func shortIDs(ids []string) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		if k := strings.Index(id, "/"); i > 0 && k >= 0 {
			id = id[k:]
		}
		out[i] = id
	}
	return several(out, 8)
}

// hanging lists the pieces by face and hanging order.
func (p *paper) hanging() []*Piece {
	out := make([]*Piece, len(p.t.Pieces))
	for i := range p.t.Pieces {
		out[i] = &p.t.Pieces[i]
	}
	sort.SliceStable(out, func(i, k int) bool {
		a, b := out[i], out[k]
		switch {
		case a.Face != b.Face:
			return a.Face < b.Face
		case a.Ply != b.Ply:
			return a.Ply < b.Ply
		case a.Order != b.Order:
			return a.Order < b.Order
		}
		return a.ID < b.ID
	})
	return out
}

// tops is the list for the cutting station: like cuts together.
func (p *paper) tops() Tab {
	b := Block{Key: "tops", Title: "Tops, like cuts together", Columns: []Column{
		col("id", "Mark", 17, Words), col("board", "Board", 14, Words), col("left", "Left", 10, Lengths), col("right", "Right", 10, Lengths), col("width", "Width", 10, Lengths),
		col("head", "Head", 9, Words), col("marks", "Centres from the starting edge", 22, Words), col("cut", "Cut-outs", 18, Words), col("sheet", "From sheet", 10, Words), col("two", "Two people", 10, Words), col("ok", "Cut", 6, Box), col("hung", "Hung", 6, Box),
	}}
	var list []*Piece
	for _, q := range p.hanging() {
		if q.Role == "top" {
			list = append(list, q)
		}
	}
	sort.SliceStable(list, func(i, k int) bool {
		wi, li, ri := pieceSize(list[i])
		wk, lk, rk := pieceSize(list[k])
		switch {
		case list[i].Board != list[k].Board:
			return list[i].Board < list[k].Board
		case max(li, ri) != max(lk, rk):
			return max(li, ri) > max(lk, rk)
		case wi != wk:
			return wi > wk
		}
		return list[i].ID < list[k].ID
	})
	straight := 0
	for _, q := range list {
		w, l, r := pieceSize(q)
		head := "angled"
		if math.Abs(float64(l-r)) < 0.5 {
			head = "straight"
			straight++
		}
		b.Rows = append(b.Rows, []Cell{T(q.ID).As(Strong), T(q.Board), p.cut(l), p.cut(r), p.cut(w), T(head), T(p.centres(q)), T(p.shape(q)), T(q.Sheet), T(q.TwoPeople), T(""), T("")})
	}
	s := Tab{Name: "Tops", Landscape: true, Blocks: []Block{b}}
	if len(list) > 0 {
		s.Lead = []string{
			strconvI(straight) + " tops straight, " + strconvI(len(list)-straight) + " cut to an angle. Lengths are rounded down; left and right as seen facing the wall.",
			"Measure left and right of each top on site before cutting; a lift or a top over the limit takes two people, local law first.",
		}
	}
	return s
}

func (p *paper) cutList() Tab {
	b := Block{Key: "cuts", Title: "Cut list, sheet by sheet", Columns: []Column{
		col("sheet", "Sheet", 14, Words), col("board", "Board", 18, Words), col("size", "Size", 12, Words), col("id", "Piece", 20, Words), col("width", "Width", 10, Lengths),
		col("left", "Left", 10, Lengths), col("right", "Right", 10, Lengths), col("shape", "Shape", 26, Words), col("turned", "Turned", 8, Whole), col("kept", "Offcut kept", 22, Words), col("ok", "Cut", 6, Box),
	}}
	piece := map[string]*Piece{}
	for i := range p.t.Pieces {
		piece[p.t.Pieces[i].ID] = &p.t.Pieces[i]
	}
	for i := range p.t.Sheets {
		s := &p.t.Sheets[i]
		for k := range s.Placements {
			pl := &s.Placements[k]
			q := piece[pl.Piece]
			if q == nil {
				continue
			}
			w, l, r := pieceSize(q)
			id, board, size, kept := T(s.ID).As(Strong), T(s.Board), T(p.size(s.WidthMM, s.LengthMM)), T(p.kept(s))
			if k > 0 {
				id, board, size, kept = T(s.ID).As(Muted), T(""), T(""), T("")
			}
			b.Rows = append(b.Rows, []Cell{id, board, size, T(q.ID), p.cut(w), p.cut(l), p.cut(r), T(p.shape(q)), I(pl.Turned), kept, T("")})
		}
	}
	return Tab{Name: "Cut list", Landscape: true, Blocks: []Block{b}}
}

func (p *paper) kept(s *Sheet) string {
	var out []string
	for _, o := range s.Offcuts {
		if !o.Kept {
			continue
		}
		var lo, hi UV
		for i, q := range o.OutlineMM {
			for k := range q {
				if i == 0 || q[k] < lo[k] {
					lo[k] = q[k]
				}
				if i == 0 || q[k] > hi[k] {
					hi[k] = q[k]
				}
			}
		}
		out = append(out, p.cut(hi[0]-lo[0]).Text+" × "+p.cut(hi[1]-lo[1]).Text)
	}
	return join(out)
}

func (p *paper) fasteners() Tab {
	type key struct{ item, place string }
	n, tack := map[key]int{}, map[key]int{}
	for _, s := range p.t.Screws {
		k := key{s.Item, s.Place}
		n[k] += s.Count
		tack[k] += s.Tack
	}
	keys := make([]key, 0, len(n))
	for k := range n {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool {
		return keys[a].item < keys[b].item || keys[a].item == keys[b].item && keys[a].place < keys[b].place
	})
	b := Block{Key: "screws", Title: "Board screws by place", Columns: []Column{
		col("item", "Screw", 34, Words), col("place", "Place", 14, Words), col("count", "Count", 11, Whole), col("tack", "of them in the tack pass", 14, Whole),
	}}
	for _, k := range keys {
		b.Rows = append(b.Rows, []Cell{T(k.item), T(k.place), I(n[k]), I(tack[k])})
	}
	b.Total = totalRow(b, "All", "count", "tack")
	return Tab{Name: "Fasteners", Blocks: []Block{b, p.fastenersByFace()}}
}

func (p *paper) fastenersByFace() Block {
	b := Block{Key: "bySide", Title: "Side by side", Columns: []Column{
		col("face", "Side", 16, Words), col("ply", "Layer", 7, Whole), col("item", "Screw", 30, Words), col("edge", "edge", 9, Whole), col("field", "field", 9, Whole),
		col("opening", "opening", 9, Whole), col("track", "track", 9, Whole), col("top", "top", 9, Whole), col("all", "All", 9, Whole), col("tack", "tack pass", 9, Whole),
	}}
	places := []string{"edge", "field", "opening", "track", "top"}
	at := map[string]int{}
	for _, s := range p.t.Screws {
		k := s.Face + "|" + strconvI(s.Ply) + "|" + s.Item
		i, ok := at[k]
		if !ok {
			i = len(b.Rows)
			at[k] = i
			b.Rows = append(b.Rows, []Cell{T(s.Face), I(s.Ply), T(s.Item), I(0), I(0), I(0), I(0), I(0), F("SUM({edge}:{top})", 0), I(0)})
		}
		for c, place := range places {
			if place == s.Place {
				b.Rows[i][3+c].Num += float64(s.Count)
			}
		}
		b.Rows[i][8].Num += float64(s.Count)
		b.Rows[i][9].Num += float64(s.Tack)
	}
	return b
}

// itemBlock lists lines of framing, finishing, order or stocking.
func (p *paper) itemBlock(key, title string, items []Item, stick func(MM) Cell) Block {
	b := Block{Key: key, Title: title, Columns: []Column{
		col("item", "Item", 18, Words), col("spec", "Specification", 26, Words), col("size", "Size", 11, Words), col("storey", "Storey", 8, Words), col("area", "Set down", 14, Words),
		col("count", "Count", 9, Whole), col("allow", "Allowance", 10, Whole), col("order", "Order", 9, Whole), col("length", p.lfName(), 10, Whole), col("sf", p.sfName(), 10, Whole),
		col("mass", p.lbName(), 10, Whole), col("runs", "Walls", 20, Words), col("note", "Note", 24, Words),
	}}
	allowed := slices.ContainsFunc(items, func(it Item) bool { return it.Allowance > 0 })
	for i := range items {
		row := p.item(&items[i], stick)
		if !allowed { // the order is the count: one column says it
			row[7] = T("")
		}
		b.Rows = append(b.Rows, row)
	}
	return b
}

func (p *paper) item(it *Item, stick func(MM) Cell) []Cell {
	size, length := "", Cell{}
	switch {
	case it.WidthMM > 0 && it.LengthMM > 0:
		size = p.size(it.WidthMM, it.LengthMM)
	case it.LengthMM > 0 && it.Count > 0:
		size = stick(it.LengthMM).Text
	case it.LengthMM > 0:
		length = N(p.lf(float64(it.LengthMM)))
	}
	blank := func(v float64) Cell {
		if v == 0 {
			return T("")
		}
		return N(v)
	}
	order := T("")
	if it.Count > 0 {
		order = F("{count}+N({allow})", float64(it.Count+it.Allowance))
	}
	return []Cell{
		T(it.Item), T(it.Spec), T(size), T(it.Storey), T(it.Area), blank(float64(it.Count)), blank(float64(it.Allowance)), order.As(Strong), length,
		blank(p.sf(float64(it.AreaM2))), blank(p.mass(float64(it.MassKg))), T(several(it.Runs, 4)), T(boardNote(it)),
	}
}

// boardNote adds to a board's note what the yard asks: how many pairs, as board
// comes face to face in twos (common practice, no source).
func boardNote(it *Item) string {
	if it.Item != "board" {
		return it.Note
	}
	n := it.Count + it.Allowance
	parts := []string{strconvI(n/2) + " pair" + plural(n/2)}
	if n%2 == 1 {
		parts[0] += " and one"
	}
	if it.Note != "" {
		parts = append(parts, it.Note)
	}
	return strings.Join(parts, "; ")
}

func (p *paper) order() Tab {
	s := Tab{Name: "Order", Landscape: true, Lead: []string{"Order = what the layout needs + the allowance for damage. It is not a waste percentage: waste is already in the layout."}}
	for i, items := range p.dropsOf() {
		s.Blocks = append(s.Blocks, p.itemBlock(orderKeyOf(i), storeyTitle(items[0].Storey), items, p.wall))
	}
	return s
}

func (p *paper) stocking() Tab {
	return Tab{Name: "Stocking", Landscape: true, Lead: []string{
		"Stand out only the full sheets of the side hung first; the other side follows inspection and insulation. Stock for tops goes to the cutting station.",
		"Stack flat, in pairs; check the floor's capacity before stacking board on it.",
	}, Blocks: []Block{p.itemBlock("stocking", "What is set down where", p.t.Stocking, p.wall)}}
}

func (p *paper) items(name, key string, list []Item) Tab {
	return Tab{Name: name, Landscape: true, Blocks: []Block{p.itemBlock(key, name, list, p.wall)}}
}

func (p *paper) prices() Tab {
	b := Block{Key: "price", Title: "Prices", Columns: []Column{
		col("section", "Section", 10, Words), col("item", "Item", 44, Words), col("unit", "Unit", 10, Words), col("quantity", "Quantity", 12, Decimal), col("price", "Price", 12, Money), col("amount", "Amount", 14, Money), col("note", "", 56, Words),
	}}
	if c := p.t.Cost; c != nil {
		b.Title = "Prices in " + c.Currency
		for i, l := range c.Lines {
			note, look := l.Note, Input
			if !l.Priced {
				note, look = "no price given: not in the total", Alert
				if l.Note != "" {
					note += "; " + l.Note
				}
			}
			quantity := N(l.Quantity)
			if l.Unit == "%" && i > 0 { // hundredths of what stands above, live
				first, last := 0, i-1
				for ; l.Of != "" && first < i && c.Lines[first].Kind != l.Of; first++ {
				}
				for ; l.Of != "" && last > first && c.Lines[last].Kind != l.Of; last-- {
				}
				if first < i {
					quantity = F(fmt.Sprintf("SUM({amount#%d}:{amount#%d})/100", first, last), l.Quantity)
				}
			}
			b.Rows = append(b.Rows, []Cell{T(l.Section), T(l.Item), T(l.Unit), quantity, N(l.Price).As(look), F("ROUND({quantity}*{price},2)", l.Amount), T(note)})
		}
		b.Total = totalRow(b, "Total", "amount")
	}
	return Tab{Name: "Prices", Landscape: true, Blocks: []Block{b}}
}
