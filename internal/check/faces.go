package check

import (
	"math"

	"boardrun/internal/report"
)

// runs holds each run's studs and each face's frame to the contract.
func (j *judge) runs() {
	for i := range j.t.Runs {
		r := &j.t.Runs[i]
		ids := map[string]bool{}
		for _, s := range r.Studs {
			if ids[s.ID] {
				j.object("unique", r.ID, "stud %s stands twice", s.ID)
			}
			ids[s.ID] = true
			if s.LengthMM <= 0 {
				j.object("stud", r.ID, "stud %s has length %g mm", s.ID, float64(s.LengthMM))
			}
		}
		if len(r.AxisMM) == 2 && r.Arc == nil {
			d := math.Hypot(float64(r.AxisMM[1][0]-r.AxisMM[0][0]), float64(r.AxisMM[1][1]-r.AxisMM[0][1]))
			if math.Abs(d-float64(r.LengthMM)) > 0.5 {
				j.object("length", r.ID, "length_mm is %.3f but the axis is %.3f long", float64(r.LengthMM), d)
			}
		}
	}
}

// faces holds invariant 1: the pieces of each ply tile its boardable outline
// less the holes.
func (j *judge) faces() {
	for i := range j.t.Faces {
		f := &j.t.Faces[i]
		j.faceFrame(f)
		if !f.Boarded {
			if f.Reason == "" {
				j.object("reason", f.ID, "not boarded and no reason given")
			}
			continue
		}
		holes := rings(f.HolesUV)
		unlaid := j.excused("no-legal-layout", f.ID)
		for _, ply := range f.Plies {
			ps := j.byPly[plyKey{f.ID, ply.Ply}]
			if len(ps) == 0 && unlaid {
				continue
			}
			j.tile(f, ply, holes, ps)
		}
	}
}

func (j *judge) faceFrame(f *report.Face) {
	r := j.run[f.Run]
	if r == nil || r.Arc != nil {
		return
	}
	at := map[string]float64{}
	for _, s := range r.Studs {
		at[s.ID] = float64(s.StationMM)
	}
	for _, s := range f.Studs {
		st, ok := at[s.Stud]
		if !ok {
			j.object("reference", f.ID, "names stud %s, which run %s has not", s.Stud, r.ID)
			continue
		}
		if f.Side == "end" || f.Side == "reveal" {
			continue
		}
		u := st - float64(f.StartMM)
		if f.Side == "left" {
			u = float64(f.StartMM) + float64(f.LengthMM) - st
		}
		if math.Abs(u-float64(s.UMM)) > 0.01 {
			j.object("frame", f.ID, "stud %s stands at u %.3f, should be %.3f", s.Stud, float64(s.UMM), u)
		}
	}
	if a := ringOf(f.OutlineUV).area(); a > 0 {
		if math.Abs(a-float64(f.GrossM2)*1e6) > 1+1e-6*a {
			j.object("area", f.ID, "gross_area_m2 is %.6f, the outline's is %.6f", float64(f.GrossM2), a/1e6)
		}
	} else if f.Boarded {
		j.object("outline", f.ID, "outline_uv is not counter-clockwise or empty")
	}
}

func rings(ps []report.Poly) []ring {
	out := make([]ring, len(ps))
	for i, p := range ps {
		out[i] = ringOf(p)
	}
	return out
}

func (j *judge) tile(f *report.Face, ply report.Ply, holes []ring, ps []*report.Piece) {
	region := []ring{ringOf(ply.OutlineUV)}
	var pieces [][]ring
	for _, p := range ps {
		r := ringOf(p.OutlineUV)
		a := r.area()
		if a <= 0 {
			j.object("outline", p.ID, "outline_uv is not counter-clockwise")
		}
		cut := rings(p.CutoutsUV)
		for _, c := range cut {
			a -= math.Abs(c.area())
		}
		if math.Abs(a-float64(p.AreaM2)*1e6) > 1+1e-6*a {
			j.object("area", p.ID, "area_m2 is %.6f, its outline's is %.6f", float64(p.AreaM2), a/1e6)
		}
		j.heights(p, r)
		pieces = append(pieces, append([]ring{r}, cut...))
		j.zone(ply, p, r)
	}
	bare, twice, outside := cover(region, holes, pieces)
	slack := math.Max(1, 0.0001*float64(f.LengthMM))
	if bare > slack {
		j.object("tiling", f.ID, "ply %d: %.1f mm² of its boardable area carry no piece", ply.Ply, bare)
	}
	if twice > slack {
		j.object("tiling", f.ID, "ply %d: pieces overlap on %.1f mm²", ply.Ply, twice)
	}
	if outside > slack {
		j.object("tiling", f.ID, "ply %d: pieces cover %.1f mm² outside its boardable area", ply.Ply, outside)
	}
}

// zone: the board of a piece is the board of the zone it lies in.
func (j *judge) zone(ply report.Ply, p *report.Piece, r ring) {
	for _, z := range ply.Zones {
		_, _, outside := cover([]ring{ringOf(z.OutlineUV)}, nil, [][]ring{{r}})
		if inside := r.area() - outside; inside > 10 && z.Board != p.Board {
			j.object("zone", p.ID, "is of %s but lies in a zone of %s", p.Board, z.Board)
		}
	}
}

// heights: heights_mm begins at the left edge, ends at the right edge and is
// top − bottom of the outline there.
func (j *judge) heights(p *report.Piece, r ring) {
	lo, hi := r.box()
	h := p.HeightsMM
	if len(h) < 2 || math.Abs(float64(h[0][0])) > tol || math.Abs(float64(h[len(h)-1][0])-(hi.x-lo.x)) > tol {
		j.object("heights", p.ID, "heights_mm does not run from the left edge to the right")
		return
	}
	for _, q := range h {
		// Beside a step a height is anything between those a hair to either side.
		x := lo.x + float64(q[0])
		least, most := math.Inf(1), math.Inf(-1)
		for _, d := range [...]float64{-2e-4, 0, 2e-4} {
			if ys := at([]ring{r}, math.Min(math.Max(x+d, lo.x+1e-4), hi.x-1e-4)); len(ys) > 0 {
				top := ys[len(ys)-1] - ys[0]
				least, most = math.Min(least, top), math.Max(most, top)
			}
		}
		if h := float64(q[1]); h < least-0.05 || h > most+0.05 {
			j.object("heights", p.ID, "height at %.3f is %.3f, the outline's is %.3f", float64(q[0]), h, most)
		}
	}
	for i, c := range p.CentresMM {
		if c < -tol || float64(c) > hi.x-lo.x+tol || i > 0 && c <= p.CentresMM[i-1] {
			j.object("centres", p.ID, "centre %.3f is off the piece or out of order", float64(c))
		}
	}
}
