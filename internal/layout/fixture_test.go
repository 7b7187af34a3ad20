package layout

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

const (
	in = measure.Inch
	mm = measure.Millimetre
)

func inch(x float64) Length { return measure.FromInches(x) }

// stock is a board in one width.
func stock(name string, thickness, width Length, lengths ...Length) *job.Board {
	return &job.Board{Name: name, Kind: "type X", Thickness: thickness, MassM2: 10.7,
		Sheets: []job.SheetSize{{Width: width, Lengths: lengths}}}
}

// fourFoot is 5/8 in board in 48 in sheets of 8, 10 and 12 ft.
func fourFoot() *job.Board { return stock("5/8 type X", inch(0.625), 48*in, 96*in, 120*in, 144*in) }

// sketch is a wall as the cases give it, lengths by its system of units.
type sketch struct {
	length, spacing Length
	deck            geom.Profile // over stations
	plies           int          // a side
	board           *job.Board
	openings        []run.Opening
	ceiling         Length
	fixedTop        bool // stops at the deck profile without a gap
	oneSided        bool
	system          measure.System
	edit            func(*run.Run, *rules.Set)
}

func level(height Length) geom.Profile { return geom.Level(0, 1, height) }

func slope(length, from, to Length) geom.Profile {
	return geom.Profile{{X: 0, Y: from}, {X: length, Y: to}}
}

func door(from, to, head Length) run.Opening {
	return run.Opening{Kind: plan.Door, Centre: (from + to) / 2, Width: to - from, Head: head,
		RoughWidth: to - from, RoughHead: head}
}

func window(from, to, sill, head Length) run.Opening {
	o := door(from, to, head)
	o.Kind, o.Sill = plan.Window, sill
	return o
}

// wall builds a run from a sketch: free ends, one stud at each.
func (s sketch) run() (*run.Run, Env) {
	set := rules.Default(s.system)
	set.FitSlack = 0
	r := &run.Run{ID: "1-W001", Storey: "1", Length: s.length, Spacing: s.spacing, Deck: s.deck, Openings: s.openings,
		Fixed: []run.Fixed{{Station: 0, Kind: "end"}, {Station: s.length, Kind: "end"}}}
	if s.edit != nil {
		s.edit(r, set)
	}
	gap := set.DeckGap
	head := run.Slip
	if s.fixedTop {
		gap, head = 0, run.FixedTop
		r.Deck = nil
	}
	for i := range r.Openings {
		r.Openings[i].ID = fmt.Sprintf("O%d", i+1)
	}
	sides := []run.Side{run.Left, run.Right}
	if s.oneSided {
		sides = sides[:1]
	}
	for _, side := range sides {
		f := &run.Face{ID: "1-W001-L1", Run: r, Side: side, Boarded: true, Length: s.length, Finished: s.length,
			Bottom: set.FloorGap, Head: head, Ceiling: s.ceiling}
		f.Top = s.deck.Shift(0, -gap)
		if side == run.Left {
			f.Top = f.Top.Mirror(s.length)
		} else {
			f.ID = "1-W001-R1"
		}
		for i := range r.Openings {
			o := &r.Openings[i]
			clear := Length(0)
			if o.Kind == plan.Penetration {
				clear = set.Cutout
			}
			x0, x1 := o.Centre-o.Width/2-clear, o.Centre+o.Width/2+clear
			u0, u1 := f.U(x0), f.U(x1)
			y0 := o.Sill - clear
			if o.Sill == 0 {
				y0 = f.Bottom
			}
			rect := geom.Rect{Min: geom.Pt{X: min(u0, u1), Y: y0}, Max: geom.Pt{X: max(u0, u1), Y: o.Head + clear}}
			f.Holes = append(f.Holes, run.Hole{Opening: i, First: o.First, Sealed: o.Kind == plan.Penetration,
				Rect: rect.Intersect(geom.Rect{Min: geom.Pt{X: 0, Y: f.Bottom}, Max: geom.Pt{X: s.length, Y: f.Top.Max(0, s.length)}})})
		}
		for n := range max(1, s.plies) {
			f.Plies = append(f.Plies, run.Ply{Number: n + 1, Board: s.board.Name, U0: 0, U1: s.length})
		}
		r.Faces = append(r.Faces, f)
	}
	board := s.board
	return r, Env{Rules: set, Effort: Best, Boards: func(name string) *job.Board {
		if name == board.Name {
			return board
		}
		return nil
	}}
}

// best solves a sketch and returns its best layout.
func (s sketch) best(t *testing.T) Layout {
	t.Helper()
	r, env := s.run()
	all := Solve(r, env)
	if len(all) == 0 {
		t.Fatal("no layout")
	}
	return all[0]
}

// stationsOf returns the stations of the joints along the studs of a side, by
// ply, in whole and decimal inches or mm.
func stationsOf(l Layout, side run.Side, ply int, unit Length) string {
	var at []Length
	for _, j := range l.Joints {
		if j.Face.Side == side && j.Ply == ply && j.From.X == j.To.X {
			at = append(at, j.Face.Station(j.From.X))
		}
	}
	slices.Sort(at)
	return list(slices.Compact(at), unit)
}

func list(at []Length, unit Length) string {
	out := make([]string, len(at))
	for i, x := range at {
		out[i] = fmt.Sprintf("%g", float64(x)/float64(unit))
	}
	return strings.Join(out, " ")
}

func ofSide(l Layout, side run.Side) []Piece {
	var out []Piece
	for _, p := range l.Pieces {
		if p.Face.Side == side {
			out = append(out, p)
		}
	}
	return out
}

func squareFeet(ps []Piece) float64 {
	var a measure.Area
	for _, p := range ps {
		a += p.Area
	}
	return a.SqFt()
}

// noControl leaves control joints out.
func noControl(_ *run.Run, set *rules.Set) { set.ControlJointEvery = maxLength }
