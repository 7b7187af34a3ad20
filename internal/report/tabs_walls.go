package report

import (
	"math"
	"sort"
	"strings"
)

func (p *paper) wallTypes() Tab {
	unit := p.sfName()
	b := Block{Key: "types", Title: "Wall types", Columns: []Column{
		col("type", "Type", 10, Words), col("make", "Make-up", 44, Words), col("walls", "Walls", 8, Whole), col("lf", p.lfName(), 9, Whole),
		col("hl", "Height left: least, mean, most", 26, Words), col("hr", "Height right", 26, Words),
		col("left", unit+" left", 10, Whole), col("right", unit+" right", 10, Whole), col("both", unit+" both", 10, Whole),
		col("studs", "Studs", 8, Whole), col("doors", "Openings", 9, Whole), col("seen", "Joints to finish, "+p.lfName(), 12, Whole), col("hidden", "above ceiling, "+p.lfName(), 12, Whole),
	}}
	for i := range p.t.Job.Types {
		y := &p.t.Job.Types[i]
		w := p.sumsOf(y.Name)
		if w.walls == 0 {
			continue
		}
		l, r := p.sf(w.net[0]), p.sf(w.net[1])
		b.Rows = append(b.Rows, []Cell{
			T(y.Name).As(Strong), T(p.makeUp(y)), I(w.walls), N(p.lf(w.length)), T(w.h[0].text(p)), T(w.h[1].text(p)),
			N(l), N(r), F("{left}+{right}", l+r), I(w.studs), I(w.openings), N(p.lf(w.seen)), N(p.lf(w.hidden)),
		})
	}
	b.Total = totalRow(b, "All", "walls", "lf", "left", "right", "both", "studs", "doors", "seen", "hidden")
	return Tab{Name: "Wall types", Landscape: true, Blocks: []Block{b, p.boardHung()}}
}

// boardHung is the board hung of each kind, wall type by wall type.
func (p *paper) boardHung() Block {
	b := Block{Key: "hung", Title: "Board hung, by wall type", Columns: []Column{
		col("type", "Type", 10, Words), col("board", "Board", 44, Words), col("pieces", "Pieces", 8, Whole), col("area", p.sfName(), 9, Whole),
	}}
	type key struct{ typ, board string }
	n, area := map[key]int{}, map[key]float64{}
	var keys []key
	for i := range p.t.Pieces {
		q := &p.t.Pieces[i]
		f := p.fac[q.Face]
		if f == nil || p.run[f.Run] == nil {
			continue
		}
		k := key{p.run[f.Run].Type, q.Board}
		if n[k] == 0 {
			keys = append(keys, k)
		}
		n[k]++
		area[k] += float64(q.AreaM2)
	}
	sort.Slice(keys, func(i, k int) bool {
		return keys[i].typ < keys[k].typ || keys[i].typ == keys[k].typ && keys[i].board < keys[k].board
	})
	for _, k := range keys {
		b.Rows = append(b.Rows, []Cell{T(k.typ).As(Strong), T(k.board), I(n[k]), N(p.sf(area[k]))})
	}
	b.Total = totalRow(b, "All", "pieces", "area")
	return b
}

// totalRow sums the named columns with live formulas.
func totalRow(b Block, label string, keys ...string) []Cell {
	row := make([]Cell, len(b.Columns))
	row[0] = T(label).As(Strong)
	for i, c := range b.Columns {
		for _, k := range keys {
			if c.Key != k {
				continue
			}
			sum := 0.0
			for _, r := range b.Rows {
				sum += r[i].Num
			}
			row[i] = F("SUM({"+k+"*})", sum).As(Strong)
		}
	}
	return row
}

type heightSums struct{ lo, hi, area, length float64 }

func (h *heightSums) add(f *Face) {
	lo, _, hi := height(f)
	if h.length == 0 || lo < h.lo {
		h.lo = lo
	}
	h.hi = math.Max(h.hi, hi)
	h.area, h.length = h.area+float64(f.GrossM2)*1e6, h.length+float64(f.LengthMM)
}

func (h heightSums) text(p *paper) string {
	if h.length == 0 {
		return "not boarded"
	}
	return p.wall(MM(h.lo)).Text + ", " + p.wall(MM(h.area/h.length)).Text + ", " + p.wall(MM(h.hi)).Text
}

type typeSums struct {
	walls, studs, openings int
	length, seen, hidden   float64
	net                    [2]float64
	h                      [2]heightSums
}

// sumsOf adds up the walls of a type.
func (p *paper) sumsOf(typ string) (w typeSums) {
	for i := range p.t.Runs {
		if r := &p.t.Runs[i]; r.Type == typ {
			w.add(p, r)
		}
	}
	return w
}

func (w *typeSums) add(p *paper, r *Run) {
	w.walls++
	w.length += float64(r.LengthMM)
	w.studs += len(r.Studs)
	w.openings += p.openings[r.ID]
	for _, f := range p.sides[r.ID] {
		if !f.Boarded {
			continue
		}
		switch f.Side {
		case "left":
			w.net[0] += float64(f.NetM2)
			w.h[0].add(f)
		case "right":
			w.net[1] += float64(f.NetM2)
			w.h[1].add(f)
		}
	}
	w.seen += p.seen[r.ID]
	w.hidden += p.hidden[r.ID]
}

// makeUp writes a type's make-up as the trade does.
func (p *paper) makeUp(y *TypeInfo) string {
	parts := []string{p.cut(y.StudDepthMM).Text + " " + p.inName() + " stud, " + strconvI(y.Mil) + " mil, " + p.cut(y.SpacingMM).Text + " centres"}
	if strings.Join(y.Left, "|") == strings.Join(y.Right, "|") {
		parts = append(parts, strings.Join(y.Left, " + ")+" both sides")
	} else {
		parts = append(parts, "left "+orNone(y.Left), "right "+orNone(y.Right))
	}
	if y.HeightLeft == y.HeightRight {
		parts = append(parts, y.HeightLeft)
	} else {
		parts = append(parts, "left "+y.HeightLeft+", right "+y.HeightRight)
	}
	for _, s := range []string{y.Insulation, y.Rating, y.Listing} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "; ")
}

func orNone(s []string) string {
	if len(s) == 0 {
		return "none"
	}
	return strings.Join(s, " + ")
}

func (p *paper) walls() Tab {
	b := Block{Key: "walls", Title: "Walls", Columns: []Column{
		col("run", "Wall", 11, Words), col("type", "Type", 9, Words), col("storey", "Storey", 9, Words), col("length", "Length", 13, Lengths),
		col("left", "Left side", 13, Lengths), col("hleft", "left height", 16, Words), col("right", "Right side", 13, Lengths), col("hright", "right height", 16, Words),
		col("net", "Net "+p.sfName()+", both", 11, Whole), col("board", "Board pieces", 9, Whole), col("studs", "Studs", 8, Whole), col("start", "Stud start", 11, Lengths),
		col("open", "Openings", 9, Whole), col("assumed", "Inputs assumed", 9, Whole),
	}}
	why := Block{Key: "why", Title: "Why each wall is hung this way, and where it stands in the drawing", Columns: []Column{
		col("run", "Wall", 11, Words), col("source", "Entity", 9, Words), col("file", "Drawing", 9, Words), flow("why", "Why", 13),
	}}
	pieces := count{}
	for i := range p.t.Pieces {
		if f := p.fac[p.t.Pieces[i].Face]; f != nil {
			pieces[f.Run]++
		}
	}
	for i := range p.t.Runs {
		r := &p.t.Runs[i]
		var w typeSums
		w.add(p, r)
		var face [2]MM
		for _, f := range p.sides[r.ID] {
			switch f.Side {
			case "left":
				face[0] += f.LengthMM
			case "right":
				face[1] += f.LengthMM
			}
		}
		src := make([]string, 0, len(r.Source))
		for _, s := range r.Source {
			src = append(src, s.Ref)
		}
		start := T("")
		if len(r.Studs) > 0 {
			start = p.cut(r.StudStartMM)
		}
		b.Rows = append(b.Rows, []Cell{
			T(r.ID).As(Strong), T(r.Type), T(r.Storey), p.wall(r.LengthMM), p.wall(face[0]), T(w.h[0].range2(p)), p.wall(face[1]), T(w.h[1].range2(p)),
			N(p.sf(w.net[0] + w.net[1])), I(pieces[r.ID]), I(len(r.Studs)), start, I(w.openings), I(len(r.Assumed)),
		})
		file := ""
		if len(r.Source) > 0 {
			file = r.Source[0].File
		}
		why.Rows = append(why.Rows, []Cell{T(r.ID).As(Strong), T(several(src, 2)), T(file), T(r.Why)})
	}
	b.Total = totalRow(b, "All", "net", "board", "studs", "open")
	return Tab{Name: "Walls", Landscape: true, Blocks: []Block{b, why}}
}

// range2 is the least and greatest height, or one where they agree.
func (h heightSums) range2(p *paper) string {
	if h.length == 0 {
		return "not boarded"
	}
	a, b := p.cut(MM(h.lo)).Text, p.cut(MM(h.hi)).Text
	if a == b {
		return a
	}
	return a + " to " + b
}

func (p *paper) roomsSheet() Tab {
	b := Block{Key: "rooms", Title: "Rooms", Columns: []Column{
		col("number", "Number", 10, Words), col("name", "Name", 28, Words), col("storey", "Storey", 9, Words), col("perimeter", "Perimeter", 14, Lengths),
		col("area", "Floor "+p.sfName(), 11, Whole), col("ceiling", "Ceiling", 12, Lengths),
	}}
	for i := range p.t.Rooms {
		r := &p.t.Rooms[i]
		ceil := T("unknown").As(Muted)
		if r.CeilingMM > 0 {
			ceil = p.wall(r.CeilingMM)
		}
		b.Rows = append(b.Rows, []Cell{T(r.Number), T(r.Name), T(r.Storey), p.wall(r.PerimeterMM), N(p.sf(float64(r.AreaM2))), ceil})
	}
	return Tab{Name: "Rooms", Blocks: []Block{b}}
}

func (p *paper) openingsSheet() Tab {
	b := Block{Key: "openings", Title: "Openings", Columns: []Column{
		col("id", "Opening", 14, Words), col("mark", "Mark", 10, Words), col("run", "Wall", 11, Words), col("kind", "Kind", 11, Words), col("frame", "Frame", 16, Words),
		col("nominal", "As the drawing has it", 18, Words), col("basis", "which is", 10, Words), col("rough", "Rough opening", 18, Words), col("hole", "Hole in the board", 18, Words),
		col("sill", "Sill", 9, Lengths), col("installed", "Frame set", 12, Words), col("head", "Head from", 22, Words),
	}}
	pair := func(w, h MM) string { return p.cut(w).Text + " × " + p.cut(h).Text }
	for i := range p.t.Openings {
		o := &p.t.Openings[i]
		set := "after board"
		if o.Installed == "before" {
			set = "before board"
		}
		head := o.HeadBy
		if head == "" {
			head = "assumed"
		}
		b.Rows = append(b.Rows, []Cell{
			T(o.ID).As(Strong), T(o.Mark), T(o.Run), T(o.Kind), T(o.Frame), T(pair(o.NominalMM[0], o.NominalMM[1])), T(o.Basis),
			T(pair(o.RoughMM[0], o.RoughMM[1])), T(pair(o.WidthMM, o.HeadMM-o.SillMM)), p.cut(o.SillMM), T(set), T(head),
		})
	}
	return Tab{Name: "Openings", Landscape: true, Blocks: []Block{b}}
}

func (p *paper) studList() Tab {
	type key struct {
		storey, typ, kind, length string
		mil                       int
	}
	n, exact, runs := map[key]int{}, map[key]MM{}, map[key]map[string]bool{}
	mil := map[string]int{}
	for i := range p.t.Job.Types {
		mil[p.t.Job.Types[i].Name] = p.t.Job.Types[i].Mil
	}
	for i := range p.t.Runs {
		r := &p.t.Runs[i]
		for _, s := range r.Studs {
			k := key{r.Storey, r.Type, s.Kind, p.cut(s.LengthMM).Text, s.Mil}
			if k.mil == 0 {
				k.mil = mil[r.Type]
			}
			n[k]++
			exact[k] = s.LengthMM
			if runs[k] == nil {
				runs[k] = map[string]bool{}
			}
			runs[k][r.ID] = true
		}
	}
	keys := make([]key, 0, len(n))
	for k := range n {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool {
		x, y := keys[a], keys[b]
		switch {
		case x.storey != y.storey:
			return x.storey < y.storey
		case x.typ != y.typ:
			return x.typ < y.typ
		case exact[x] != exact[y]:
			return exact[x] > exact[y]
		case x.kind != y.kind:
			return x.kind < y.kind
		}
		return x.mil < y.mil
	})
	b := Block{Key: "studs", Title: "Studs to cut, longest first", Columns: []Column{
		col("storey", "Storey", 9, Words), col("type", "Wall type", 10, Words), col("mil", "mil", 6, Whole), col("kind", "Kind", 10, Words),
		col("length", "Length", 12, Lengths), col("count", "Count", 8, Whole), col("runs", "Walls", 60, Words), col("ok", "Cut", 6, Box),
	}}
	for _, k := range keys {
		var rs []string
		for r := range runs[k] {
			rs = append(rs, r)
		}
		sort.Strings(rs)
		b.Rows = append(b.Rows, []Cell{T(k.storey), T(k.typ), I(k.mil), T(k.kind), T(k.length), I(n[k]), T(several(rs, 8)), T("")})
	}
	b.Total = totalRow(b, "All", "count")
	var other []Item // its studs are those of the list
	for _, it := range p.t.Framing {
		if it.Item != "stud" {
			other = append(other, it)
		}
	}
	return Tab{Name: "Stud list", Landscape: true, Blocks: []Block{p.itemBlock("framing", "Framing beside studs", other, p.cut), b}}
}
