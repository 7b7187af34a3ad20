package quantity

import "sort"

// CutRow is one piece of the cut list, in hanging order. Left, Right and Width
// are exact; paper rounds them down.
type CutRow struct {
	Run, Storey, Face string
	Ply               int
	Piece             string
	Board             string
	Role              string
	Uncut             bool
	Hooks             []string
	Left, Right       Length
	Width             Length
	Straight          bool
	Centres           []Length // from the starting edge
	CutOuts           []CutOut
	AreaM2            float64
	MassKg            float64
	TwoPeople         string
	Order             int
}

func (t *taker) cutList() {
	for _, l := range t.layouts {
		var rows []CutRow
		for i := range l.Pieces {
			p := &l.Pieces[i]
			left, right, straight := ends(p)
			rows = append(rows, CutRow{Run: l.Run.ID, Storey: l.Run.Storey, Face: p.Face.ID, Ply: p.Ply, Piece: p.ID, Board: p.Board,
				Role: p.Role.String(), Uncut: p.Uncut, Hooks: p.Hooks, Left: left, Right: right, Width: p.Outline.Bounds().W(), Straight: straight,
				Centres: centres(l, p), CutOuts: cutOuts(l, p), AreaM2: p.Area.M2(), MassKg: p.MassKg, TwoPeople: t.res.Lifting[p.ID], Order: p.Order})
		}
		sort.SliceStable(rows, func(i, k int) bool {
			a, b := &rows[i], &rows[k]
			switch {
			case a.Face != b.Face:
				return a.Face < b.Face
			case a.Ply != b.Ply:
				return a.Ply < b.Ply
			case a.Order != b.Order:
				return a.Order < b.Order
			}
			return a.Piece < b.Piece
		})
		t.res.CutList = append(t.res.CutList, rows...)
	}
}

// ScheduleRow is a group of like pieces of one side: the board schedule.
type ScheduleRow struct {
	Run, Storey, Face string
	Side              string
	Ply               int
	Board             string
	Role              string
	Width             Length
	Left, Right       Length // rounded down, as cut
	CutOuts           int
	Count             int
	AreaM2            float64 // of all of them
	Pieces            []string
}

// schedule groups the cut list; like pieces of a side are one row.
func (t *taker) schedule() {
	type key struct {
		face, board, role  string
		ply, cuts          int
		width, left, right Length
	}
	at := map[key]int{}
	step := t.sys.CutStep()
	side := map[string]string{}
	for _, l := range t.layouts {
		for _, f := range l.Run.Faces {
			side[f.ID] = f.Side.String()
		}
	}
	for i := range t.res.CutList {
		c := &t.res.CutList[i]
		k := key{c.Face, c.Board, c.Role, c.Ply, len(c.CutOuts), c.Width, c.Left.FloorTo(step), c.Right.FloorTo(step)}
		n, ok := at[k]
		if !ok {
			n = len(t.res.Schedule)
			at[k] = n
			t.res.Schedule = append(t.res.Schedule, ScheduleRow{Run: c.Run, Storey: c.Storey, Face: c.Face, Side: side[c.Face], Ply: c.Ply, Board: c.Board,
				Role: c.Role, Width: c.Width, Left: k.left, Right: k.right, CutOuts: k.cuts})
		}
		s := &t.res.Schedule[n]
		s.Count++
		s.AreaM2 += c.AreaM2
		s.Pieces = append(s.Pieces, c.Piece)
	}
}

// TopCuts returns how many tops are cut straight and how many to an angle.
func (r *Result) TopCuts() (straight, angled int) {
	for i := range r.Tops {
		if r.Tops[i].Straight {
			straight++
		} else {
			angled++
		}
	}
	return straight, angled
}
