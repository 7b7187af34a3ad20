package report

import "math"

// Layers of plan.dxf: our own, beside nothing of the architect's.
const (
	LayerWall     = "A-BORD-WALL"
	LayerWallLeft = "A-BORD-WALL-OUTS" // not taken off
	LayerWallStay = "A-BORD-WALL-E"    // existing, E and D as the standard's status field has them
	LayerWallGone = "A-BORD-WALL-D"    // to be demolished
	LayerObstacle = "A-BORD-OBST"
	LayerOpening  = "A-BORD-OPNG"
	LayerMark     = "A-BORD-IDEN"
	LayerRoom     = "A-BORD-ROOM"
	LayerDoubt    = "A-BORD-DOUB"
)

// Plan draws the found walls, openings and marks of one storey in the drawing's
// own coordinates, so that a wrong import is seen when it is laid over the
// original.
func Plan(t *Takeoff, storey string) *Picture {
	d := &Picture{Name: "plan " + storey, Title: "Walls found, " + storey}
	p := newPaper(t)
	for i := range t.Rooms {
		if r := &t.Rooms[i]; r.Storey == storey && len(r.OutlineMM) > 2 {
			d.area(PenRoom, LayerRoom, NoFill, r.OutlineMM)
		}
	}
	for i := range t.Standing {
		s := &t.Standing[i]
		if s.Storey != storey || len(s.OutlineMM) < 3 {
			continue
		}
		layer := LayerObstacle
		switch s.Kind {
		case "existing":
			layer = LayerWallStay
		case "demolish":
			layer = LayerWallGone
		case "left out":
			layer = LayerWallLeft
		}
		d.area(PenGround, layer, NoFill, s.OutlineMM)
	}
	for i := range t.Runs {
		r := &t.Runs[i]
		if r.Storey != storey {
			continue
		}
		layer := LayerWall
		if r.Status != "new" {
			layer = LayerWallLeft
		}
		d.area(PenWall, layer, NoFill, Band(r)).Ref = r.ID
		at, angle := along(r, r.LengthMM/2)
		m := d.label(LayerMark, r.ID+" "+r.Type, 2.5, at)
		m.Angle, m.Ref = readable(angle), r.ID
	}
	for i := range t.Openings {
		o := &t.Openings[i]
		r := p.run[o.Run]
		if r == nil || r.Storey != storey {
			continue
		}
		s := o.UMM
		if len(o.Faces) > 0 {
			if f := p.fac[o.Faces[0]]; f != nil {
				s = station(f, o.UMM)
			}
		}
		a, _ := along(r, s-o.WidthMM/2)
		b, _ := along(r, s+o.WidthMM/2)
		d.line(PenHole, LayerOpening, a, b).Ref = o.ID
		for _, e := range []MM{s - o.WidthMM/2, s + o.WidthMM/2} {
			c, ang := along(r, e)
			nx, ny := MM(-math.Sin(ang))*r.ThicknessMM/2, MM(math.Cos(ang))*r.ThicknessMM/2
			d.line(PenHole, LayerOpening, UV{c[0] + nx, c[1] + ny}, UV{c[0] - nx, c[1] - ny})
		}
	}
	for i := range t.Exceptions {
		if e := &t.Exceptions[i]; e.AtMM != nil && e.Severity == "person" {
			q := *e.AtMM
			d.label(LayerDoubt, "?", 4, q).Ref = e.Target
		}
	}
	d.fit()
	return d
}

func station(f *Face, u MM) MM {
	if f.Side == "left" {
		return f.StartMM + f.LengthMM - u
	}
	return f.StartMM + u
}

// readable turns an angle in radians so that text is not upside down, in
// degrees.
func readable(a float64) float64 {
	d := a * 180 / math.Pi
	for d > 90.01 {
		d -= 180
	}
	for d <= -89.99 {
		d += 180
	}
	return d
}

// along returns the point of a run's axis at a station, and its direction in
// radians.
func along(r *Run, s MM) (UV, float64) {
	if r.Arc != nil && len(r.AxisMM) > 0 {
		c := r.Arc.CentreMM
		a0 := math.Atan2(float64(r.AxisMM[0][1]-c[1]), float64(r.AxisMM[0][0]-c[0]))
		turn := 1.0
		if r.Arc.SweepDeg < 0 {
			turn = -1
		}
		a := a0 + turn*float64(s)/float64(r.Arc.RadiusMM)
		return UV{c[0] + r.Arc.RadiusMM*MM(math.Cos(a)), c[1] + r.Arc.RadiusMM*MM(math.Sin(a))}, a + turn*math.Pi/2
	}
	if len(r.AxisMM) < 2 {
		return UV{}, 0
	}
	a, b := r.AxisMM[0], r.AxisMM[1]
	l := math.Hypot(float64(b[0]-a[0]), float64(b[1]-a[1]))
	if l == 0 {
		return a, 0
	}
	k := MM(float64(s) / l)
	return UV{a[0] + (b[0]-a[0])*k, a[1] + (b[1]-a[1])*k}, math.Atan2(float64(b[1]-a[1]), float64(b[0]-a[0]))
}

// Band is the outline of a run in plan; a curved one is a polygon.
func Band(r *Run) Poly {
	n := 1
	if r.Arc != nil {
		n = max(4, int(math.Abs(r.Arc.SweepDeg)/3))
	}
	var left, right Poly
	for i := 0; i <= n; i++ {
		c, a := along(r, r.LengthMM*MM(i)/MM(n))
		nx, ny := MM(-math.Sin(a))*r.ThicknessMM/2, MM(math.Cos(a))*r.ThicknessMM/2
		left = append(left, UV{c[0] + nx, c[1] + ny})
		right = append(right, UV{c[0] - nx, c[1] - ny})
	}
	for i := len(left) - 1; i >= 0; i-- {
		right = append(right, left[i])
	}
	return right
}
