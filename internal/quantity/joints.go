package quantity

import (
	"math"

	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// Items of finishing. Joints and corners are given twice: exposed, and above
// the ceiling, where they get fire tape (Level 1) only.
const (
	ItemInside      = "inside corner"
	ItemBead        = "corner bead"
	ItemControlBead = "control joint bead"
	ItemOutside     = "outside corner" // above the ceiling: tape, no bead
	ItemTrim        = "trim"
	ItemTape        = "tape"
	ItemCompound    = "joint compound"
	SpecExposed     = "exposed"
	SpecAbove       = "above the ceiling, fire tape"
)

var jointItems = [...]string{
	layout.TaperedJoint: "tapered joint", layout.TaperedCut: "tapered-to-cut joint", layout.Butt: "butt joint",
	layout.CutJoint: "cut joint", layout.ControlJoint: ItemControlBead,
}

// split is a length below and above the ceiling.
type split struct{ exposed, above Length }

// splitAt divides a straight line on a face at the ceiling; everything is
// exposed where the ceiling is not known.
func splitAt(lo, hi, length, ceiling Length) split {
	switch {
	case ceiling == 0 || hi <= ceiling:
		return split{length, 0}
	case lo >= ceiling:
		return split{0, length}
	}
	below := Length(math.Round(float64(length) * float64(ceiling-lo) / float64(hi-lo)))
	return split{below, length - below}
}

// jointSplit is the taped length of one joint.
func jointSplit(j *layout.Joint) split {
	d := j.To.Sub(j.From)
	length := Length(math.Round(math.Sqrt(float64(d.X*d.X + d.Y*d.Y))))
	if d.X == 0 || d.Y == 0 {
		length = d.X.Abs() + d.Y.Abs()
	}
	if !j.Exposed {
		return split{0, length}
	}
	lo, hi := min(j.From.Y, j.To.Y), max(j.From.Y, j.To.Y)
	if lo == hi { // level: hidden or not as the layout says
		return split{length, 0}
	}
	return splitAt(lo, hi, length, j.Face.Ceiling)
}

// facePly is the number of a face's outermost ply: the one that is taped.
func facePly(f *run.Face) int {
	n := 1
	for _, p := range f.Plies {
		n = max(n, p.Number)
	}
	return n
}

// taped is one kind of line to finish, for tape and compound.
type taped struct {
	item  string
	spec  string
	run   string
	store string
	level int
	len   Length
	tape  bool
}

// finishing fills in Result.Finishing: joints by kind, corners, beads, trim,
// then tape and compound.
func (t *taker) finishing() {
	var lines []taped
	for _, l := range t.layouts {
		lines = append(lines, t.jointLines(l)...)
		lines = append(lines, t.wrappedLines(l.Run)...)
	}
	lines = append(lines, t.cornerLines()...)

	t.beads = map[grouped][]Length{}
	var sum tally
	for _, x := range lines {
		if x.len > 0 && (x.item == ItemBead || x.item == ItemControlBead || x.item == ItemTrim) {
			k := grouped{x.store, x.item, ""}
			if t.beads[k] == nil {
				t.beadKeys = append(t.beadKeys, k)
			}
			t.beads[k] = append(t.beads[k], x.len)
		}
		if x.len > 0 {
			sum.add(Item{Item: x.item, Spec: x.spec, Length: x.len, Storey: x.store, Sum: true}, x.run)
		}
		if x.tape && x.len > 0 {
			sum.add(Item{Item: ItemTape, Length: x.len, Storey: x.store, Sum: true}, x.run)
		}
	}
	t.compound(lines, &sum)
	t.res.Finishing = sum.sorted()
	t.volumeNote(t.res.Finishing)
}

func both(x taped, s split, level int) []taped {
	a, b := x, x
	a.spec, a.len, a.level = SpecExposed, s.exposed, level
	b.spec, b.len, b.level = SpecAbove, s.above, min(level, 1)
	return []taped{a, b}
}

func (t *taker) jointLines(l *layout.Layout) []taped {
	var out []taped
	for i := range l.Joints {
		j := &l.Joints[i]
		if j.Ply != facePly(j.Face) {
			continue
		}
		x := taped{item: jointItems[j.Kind], run: l.Run.ID, store: l.Run.Storey, tape: j.Kind != layout.ControlJoint}
		if j.Kind == layout.ControlJoint {
			s := jointSplit(j)
			x.len, x.level = s.exposed+s.above, j.Face.Finish
			out = append(out, x)
			continue
		}
		out = append(out, both(x, jointSplit(j), j.Face.Finish)...)
	}
	return out
}

// wrappedLines are the beads round openings without a frame: both sides and the
// head on each face, the sill of one that does not stand on the floor.
func (t *taker) wrappedLines(r *run.Run) []taped {
	var out []taped
	for _, f := range r.Faces {
		if !f.Boarded {
			continue
		}
		for i := range f.Holes {
			h := &f.Holes[i]
			if !h.Wrapped {
				continue
			}
			n := 2*h.Rect.H() + h.Rect.W()
			if h.Rect.Min.Y > f.Bottom+inch/2 {
				n += h.Rect.W()
			}
			out = append(out, taped{item: ItemBead, spec: SpecExposed, run: r.ID, store: r.Storey, level: f.Finish, len: n})
		}
	}
	return out
}
