package quantity

import (
	"math"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// arm is one run leaving a junction. A run that goes through leaves it twice.
type arm struct {
	run     *run.Run
	angle   float64 // of the direction away from the junction, degrees in [0, 360)
	forward bool    // that direction is the axis's own
	station Length  // on its axis, at the junction
}

// arms returns the runs leaving a junction, counter-clockwise.
func (t *taker) arms(j *run.Junction) []arm {
	var out []arm
	for _, id := range j.Runs {
		r := t.runs[id]
		if r == nil || len(r.Axis) < 2 {
			continue
		}
		a, b := r.Axis[0], r.Axis[len(r.Axis)-1]
		da, db := distance(a, j.At), distance(b, j.At)
		reach := t.thickest(j) + inch
		ahead := heading(b.Sub(a))
		switch {
		case da <= db && da <= reach:
			out = append(out, arm{r, ahead, true, 0})
		case db < da && db <= reach:
			out = append(out, arm{r, turn(ahead + 180), false, r.Length})
		default:
			out = append(out, arm{r, ahead, true, da}, arm{r, turn(ahead + 180), false, da})
		}
	}
	sort.SliceStable(out, func(i, k int) bool {
		return out[i].angle < out[k].angle || out[i].angle == out[k].angle && out[i].run.ID < out[k].run.ID
	})
	return out
}

func (t *taker) thickest(j *run.Junction) Length {
	var w Length
	for _, id := range j.Runs {
		if r := t.runs[id]; r != nil {
			w = max(w, r.Thickness)
		}
	}
	return w
}

func distance(a, b geom.Pt) Length {
	d := a.Sub(b)
	x, y := d.X.Metres(), d.Y.Metres()
	return Length(math.Round(math.Sqrt(float64(x*x)+float64(y*y)) * float64(1000*mm)))
}

// heading is the direction of v in whole thousandths of a degree, so that
// equal directions compare equal.
func heading(v geom.Pt) float64 {
	return turn(math.Round(math.Atan2(float64(v.Y), float64(v.X))*180/math.Pi*1000) / 1000)
}

func turn(deg float64) float64 {
	for deg >= 360 {
		deg -= 360
	}
	for deg < 0 {
		deg += 360
	}
	return deg
}

// face returns the boarded face of the arm that looks to the left or right of
// its direction, nearest to the junction; nil if it is not boarded.
func (a arm) face(left bool) *run.Face {
	side := run.Right
	if left == a.forward {
		side = run.Left
	}
	var best *run.Face
	var gap Length
	for _, f := range a.run.Faces {
		if f.Side != side || !f.Boarded || len(f.Plies) == 0 {
			continue
		}
		d := max(f.Start-a.station, a.station-f.Start-f.Length, 0)
		if best == nil || d < gap {
			best, gap = f, d
		}
	}
	return best
}

// rise is the board of one face beside a junction: from its bottom to its top.
func rise(f *run.Face, station Length) (lo, hi Length) {
	u := min(max(f.U(station), 0), f.Length)
	return f.Bottom, f.Top.At(u)
}

// cornerLines are inside corners to tape, outside corners to bead, trim where
// board ends against structure. Two neighbouring arms less than 180° apart make
// an inside corner as high as the lower of both; more than 180° an outside one.
func (t *taker) cornerLines() []taped {
	var out []taped
	laid := map[string]bool{}
	for _, l := range t.layouts {
		laid[l.Run.ID] = true
	}
	for i := range t.in.Runs.Junctions {
		j := &t.in.Runs.Junctions[i]
		var as []arm
		for _, a := range t.arms(j) {
			if laid[a.run.ID] {
				as = append(as, a)
			}
		}
		switch {
		case len(as) == 0:
		case j.Kind == run.AgainstStructure:
			for _, a := range as {
				out = append(out, t.trim(a)...)
			}
		case len(as) == 1:
			if j.Kind == run.FreeEnd {
				out = append(out, t.corner(as[0], as[0], true)...)
				out = append(out, t.corner(as[0], as[0], true)...)
			}
		default:
			for k := range as {
				b := as[(k+1)%len(as)]
				out = append(out, t.between(as[k], b, j.Kind)...)
			}
		}
	}
	return out
}

// between is what stands in the angle from one arm counter-clockwise to the
// next.
func (t *taker) between(a, b arm, kind run.JunctionKind) []taped {
	const flat = 5 // degrees from straight that still finish as a flat joint
	angle := turn(b.angle - a.angle)
	switch {
	case math.Abs(angle-180) <= flat:
		if kind == run.InLine {
			return t.flat(a, b)
		}
		return nil
	case angle < 180:
		return t.corner(a, b, false)
	}
	return t.corner(a, b, true)
}

// corner is the corner between the left face of a and the right face of b,
// going counter-clockwise from a to b. A free wall end is the corner of a run
// with itself, on either side.
func (t *taker) corner(a, b arm, outside bool) []taped {
	f, g := a.face(true), b.face(false)
	if f == nil || g == nil {
		return nil
	}
	lo, hi := rise(f, a.station)
	lo2, hi2 := rise(g, b.station)
	lo, hi = max(lo, lo2), min(hi, hi2)
	if hi <= lo {
		return nil
	}
	s := splitAt(lo, hi, hi-lo, max(f.Ceiling, g.Ceiling))
	x := taped{item: ItemInside, run: a.run.ID, store: a.run.Storey, tape: true}
	level := max(finishLevel(a.run, f), finishLevel(b.run, g))
	out := both(x, s, level)
	if outside {
		out[0].item, out[0].tape = ItemBead, false
		out[1].item = "outside corner"
	}
	return out
}

// flat is the joint between two types in line, on one side.
func (t *taker) flat(a, b arm) []taped {
	f, g := a.face(true), b.face(false)
	if f == nil || g == nil {
		return nil
	}
	lo, hi := rise(f, a.station)
	lo2, hi2 := rise(g, b.station)
	lo, hi = max(lo, lo2), min(hi, hi2)
	if hi <= lo {
		return nil
	}
	x := taped{item: jointItems[layout.CutJoint], run: a.run.ID, store: a.run.Storey, tape: true}
	return both(x, splitAt(lo, hi, hi-lo, max(f.Ceiling, g.Ceiling)), finishLevel(a.run, f))
}

func (t *taker) trim(a arm) []taped {
	var out []taped
	for _, left := range []bool{true, false} {
		if f := a.face(left); f != nil {
			lo, hi := rise(f, a.station)
			if f.Ceiling > 0 {
				hi = min(hi, max(f.Ceiling, lo))
			}
			out = append(out, taped{item: ItemTrim, spec: "J, against structure", run: a.run.ID, store: a.run.Storey, level: finishLevel(a.run, f), len: hi - lo})
		}
	}
	return out
}
