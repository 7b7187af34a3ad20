package report

import (
	"math"
	"sort"
)

// The tables of the site sheet, a sheet each, by their headers. The first
// column names the row, the last is its key.
var (
	SiteTopColumns     = []string{"Top", "Left planned", "Right planned", "Left measured", "Right measured", EditKey}
	SiteWallColumns    = []string{"Wall", "First stud planned", "First stud measured", EditKey}
	SiteOpeningColumns = []string{"Opening", "Width planned", "Height planned", "Width measured", "Height measured", EditKey}
	SiteSideColumns    = []string{"Side", "Tacked", "Screwed", "Taped", EditKey}
	SiteStockColumns   = []string{"Sheet", "Bought planned", "Bought", "Left on site", EditKey}
	SiteHourColumns    = []string{"Work", "Hours planned", "Hours so far", "Done, per cent", EditKey}
)

// Sheets of the site sheet.
const (
	SiteTops, SiteWalls, SiteOpenings, SiteSides, SiteStock, SiteHours = "Tops", "First studs", "Rough openings", "Sides", "Stock", "Hours"
)

// SiteTabs returns the sheet to take along and fill in, of a takeoff. gap is
// what stays open under the deck: heights are measured to the deck itself.
func SiteTabs(t *Takeoff, gap MM) []Tab {
	p := newPaper(t)
	table := func(name, key, title string, columns []string, rows [][]Cell, lead ...string) Tab {
		b := Block{Key: key, Title: title, Rows: rows}
		for i, c := range columns {
			w := 16.0
			if i == 0 {
				w = 22
			}
			b.Columns = append(b.Columns, col(key+strconvI(i), c, w, Words))
		}
		return Tab{Name: name, Blocks: []Block{b}, Lead: lead}
	}
	blank := T("").As(Input)
	var tops, walls, openings, sides, stock, hours [][]Cell
	for i := range t.Phases {
		f := &t.Phases[i]
		planned := T("")
		if f.Hours > 0 {
			planned = N(math.Round(f.Hours*10) / 10)
		}
		hours = append(hours, []Cell{T(f.Work()).As(Strong), planned, blank, blank, T("hours").As(Muted)})
	}
	for i := range t.Pieces {
		if q := &t.Pieces[i]; q.Role == "top" {
			l, r := TopPlanned(t, q, gap)
			tops = append(tops, []Cell{T(q.ID).As(Strong), p.cut(l), p.cut(r), blank, blank, T(q.Fingerprint).As(Muted)})
		}
	}
	for i := range t.Runs {
		r := &t.Runs[i]
		walls = append(walls, []Cell{T(r.ID).As(Strong), p.cut(r.StudStartMM), blank, T(r.Fingerprint).As(Muted)})
	}
	prints := map[string]string{}
	for i := range t.Runs {
		prints[t.Runs[i].ID] = t.Runs[i].Fingerprint
	}
	for i := range t.Openings {
		o := &t.Openings[i]
		openings = append(openings, []Cell{T(o.ID).As(Strong), p.cut(o.RoughMM[0]), p.cut(o.RoughMM[1]), blank, blank, T(prints[o.Run]).As(Muted)})
	}
	for i := range t.Faces {
		if f := &t.Faces[i]; f.Boarded {
			sides = append(sides, []Cell{T(f.ID).As(Strong), blank, blank, blank, T(prints[f.Run]).As(Muted)})
		}
	}
	for _, s := range StockOf(t) {
		stock = append(stock, []Cell{T(s.Name).As(Strong), I(s.Count), blank, blank, T("stock").As(Muted)})
	}
	return []Tab{
		table(SiteTops, "tops", "Tops: heights as they are", SiteTopColumns, tops,
			"Measure each top's left and right by itself, never the right from its neighbour's left: from the edge the piece stands on straight up, to the deck where the side goes to the deck (the gap under it is taken off for you), else to where the board ends."),
		table(SiteWalls, "walls", "First stud from the start of the wall, centre", SiteWallColumns, walls, "Fill in where the stud stands elsewhere. Only a wall of which nothing is hung is laid out anew."),
		table(SiteOpenings, "openings", "Rough openings as framed", SiteOpeningColumns, openings),
		table(SiteSides, "sides", "What is done: all; or sheets, for all but the tops", SiteSideColumns, sides),
		table(SiteStock, "stock", "Board on site, sheets", SiteStockColumns, stock, "Bought where it is not as planned; left on site counts whole sheets."),
		table(SiteHours, "hours", "Hours of the crew", SiteHourColumns, hours, "Hours of all hands together, and how much of the work is done."),
	}
}

// TopPlanned is what a top's left and right would measure as planned.
func TopPlanned(t *Takeoff, q *Piece, gap MM) (l, r MM) {
	h := q.Blank()
	if len(h) == 0 {
		return 0, 0
	}
	for i := range t.Faces {
		if t.Faces[i].ID == q.Face && t.Faces[i].Top != "slip" {
			gap = 0
		}
	}
	return h[0][1] + gap, h[len(h)-1][1] + gap
}

// StockLine is the sheets of one size.
type StockLine struct {
	Name, Board     string
	WidthMM, Length MM
	Count           int
}

// StockOf returns the sheets ordered, the allowance with them, by board and
// size.
func StockOf(t *Takeoff) []StockLine {
	at := map[string]int{}
	var out []StockLine
	for _, it := range t.Order {
		if it.Item != "board" {
			continue
		}
		name := it.Spec + " " + sheetName(t, it.WidthMM, it.LengthMM)
		i, ok := at[name]
		if !ok {
			i = len(out)
			at[name] = i
			out = append(out, StockLine{Name: name, Board: it.Spec, WidthMM: it.WidthMM, Length: it.LengthMM})
		}
		out[i].Count += it.Count + it.Allowance
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Name < out[b].Name })
	return out
}

// Site is what a filled-in site sheet comes to.
type Site struct {
	Tops     []SiteTop
	Stock    []SiteStockLine
	Progress []Progress
	Hours    []SiteHour
	Waste    float64 // of board used so far, real; meaningful where Counted
	Counted  bool
}

// SiteHour is the hours of one phase: planned, spent so far, and the part that is
// done, 0 to 1; 0 of what nobody gave.
type SiteHour struct {
	Work                 string
	Planned, Spent, Done float64
}

// SiteTop is one top cut anew.
type SiteTop struct {
	Piece    string
	Was, Now [2]MM // left and right of the piece itself
	Sheet    string
}

// SiteStockLine compares sheets of one size: what is on hand, what the pieces
// not yet cut need.
type SiteStockLine struct {
	StockLine
	Opened, Need, More, Spare int
}

// Progress is how far one side is, by area of board and length of joints.
type Progress struct {
	Face, Run               string
	AreaM2, Tacked, Screwed M2
	JointsMM, Taped         MM
}

// SiteReport returns the sheets of remeasure.xlsx.
func SiteReport(t *Takeoff, s *Site) []Tab {
	p := newPaper(t)
	more := Block{Key: "more", Title: "Sheets to order more", Columns: []Column{
		col("name", "Sheet", 28, Words), col("bought", "Bought", 10, Whole), col("opened", "Cut so far", 11, Whole), col("need", "Still needed", 12, Whole),
		col("more", "Order more", 11, Whole), col("spare", "To spare", 10, Whole),
	}}
	for _, l := range s.Stock {
		look := Plain
		if l.More > 0 {
			look = Alert
		}
		more.Rows = append(more.Rows, []Cell{T(l.Name), I(l.Count), I(l.Opened), I(l.Need), I(l.More).As(look), I(l.Spare)})
	}
	more.Total = totalRow(more, "All", "bought", "opened", "need", "more", "spare")
	tops := Block{Key: "tops", Title: "Tops to cut anew, sizes of the piece", Columns: []Column{
		col("piece", "Top", 22, Words), col("lwas", "Left was", 12, Lengths), col("rwas", "Right was", 12, Lengths),
		col("l", "Left", 12, Lengths), col("r", "Right", 12, Lengths), col("sheet", "Sheet", 12, Words), col("ok", "Cut", 7, Box),
	}}
	for _, q := range s.Tops {
		tops.Rows = append(tops.Rows, []Cell{T(q.Piece).As(Strong), p.cut(q.Was[0]), p.cut(q.Was[1]), p.cut(q.Now[0]).As(Strong), p.cut(q.Now[1]).As(Strong), T(q.Sheet), T("")})
	}
	done := Block{Key: "progress", Title: "How far it is", Columns: []Column{
		col("face", "Side", 14, Words), col("area", "Board "+p.sfName(), 11, Whole), col("tacked", "tacked", 10, Whole), col("screwed", "screwed", 10, Whole),
		col("joints", "Joints "+p.lfName(), 11, Whole), col("taped", "taped", 10, Whole), col("hung", "Board screwed", 10, Percent), col("finished", "Joints taped", 10, Percent),
	}}
	var sum Progress
	for _, q := range s.Progress {
		done.Rows = append(done.Rows, []Cell{T(q.Face).As(Strong), N(p.sf(float64(q.AreaM2))), N(p.sf(float64(q.Tacked))), N(p.sf(float64(q.Screwed))),
			N(p.lf(float64(q.JointsMM))), N(p.lf(float64(q.Taped))), F("IF({area}=0,0,{screwed}/{area})", ratio(float64(q.Screwed), float64(q.AreaM2))),
			F("IF({joints}=0,0,{taped}/{joints})", ratio(float64(q.Taped), float64(q.JointsMM)))})
		sum.AreaM2, sum.Screwed, sum.JointsMM, sum.Taped = sum.AreaM2+q.AreaM2, sum.Screwed+q.Screwed, sum.JointsMM+q.JointsMM, sum.Taped+q.Taped
	}
	done.Total = totalRow(done, "All", "area", "tacked", "screwed", "joints", "taped")
	set := func(key, formula string, v float64) {
		for i, c := range done.Columns {
			if c.Key == key {
				done.Total[i] = F(formula, v)
			}
		}
	}
	set("hung", "IF({area+}=0,0,{screwed+}/{area+})", ratio(float64(sum.Screwed), float64(sum.AreaM2)))
	set("finished", "IF({joints+}=0,0,{taped+}/{joints+})", ratio(float64(sum.Taped), float64(sum.JointsMM)))
	if s.Counted {
		done.Notes = append(done.Notes, "Real waste so far, of the board used, by the sheets counted on site: "+strconvI(int(math.Round(100*s.Waste)))+" %. Offcuts kept count as waste until they are hung.")
	}
	hours := Block{Key: "hours", Title: "Hours", Columns: []Column{
		col("work", "Work", 26, Words), col("planned", "Planned", 10, Decimal), col("spent", "So far", 10, Decimal), col("done", "Done", 9, Percent),
		col("pace", "In all, at this pace", 12, Decimal), col("over", "over what was planned", 12, Decimal),
	}}
	for _, h := range s.Hours {
		pace, over := T(""), T("")
		if h.Done > 0 && h.Spent > 0 {
			pace = F("{spent}/{done}", h.Spent/h.Done)
			if h.Planned > 0 {
				over = F("{pace}-{planned}", h.Spent/h.Done-h.Planned)
			}
		}
		hours.Rows = append(hours.Rows, []Cell{T(h.Work).As(Strong), N(h.Planned), N(h.Spent), N(h.Done), pace, over})
	}
	hours.Total = totalRow(hours, "All", "planned", "spent", "pace", "over")
	return []Tab{
		{Name: "Order more", Blocks: []Block{more}, Lead: []string{"Sheets with a piece already hung count as cut; what is left of them is not planned with. The rest is cut from whole sheets on hand first."}},
		{Name: "New tops", Blocks: []Block{tops}},
		{Name: "Progress", Landscape: true, Blocks: []Block{done}, Lead: []string{"Two shares to bill by: board screwed by area, joints taped by length."}},
		{Name: "Hours", Blocks: []Block{hours}, Lead: []string{"What the crew wrote down beside what the price list's hours gave. A pace of little work says little."}},
	}
}

// JointLengthMM is the length of a joint.
func JointLengthMM(q *Joint) MM { return q.length() }

// StockName is what the sheets of StockOf call a sheet.
func StockName(t *Takeoff, s *Sheet) string {
	return s.Board + " " + sheetName(t, s.WidthMM, s.LengthMM)
}
