package check

import (
	"math"
	"sort"

	"boardrun/internal/report"
)

// listedStagger is how far the joints of neighbouring plies are apart at least
// in walls after a listed fire design, in mm; a metric bay of 600 mm passes for
// 24 in.
// Source: Gypsum Association fire designs WP 1200, 1201 and 1204, as held in a
// city's public record: 24, 16 and 24 in.
var listedStagger = map[string]float64{"WP 1200": 609.6, "WP 1201": 406.4, "WP 1204": 609.6}

const metricBay = 10 // mm, a metric bay is shorter than that of the same name in inches

// staggers holds the joints of listed walls to their design's stagger: upright
// ones along the wall, level ones by height, through the wall from ply to ply.
func (j *judge) staggers() {
	type line struct {
		at      float64
		upright bool
		q       *report.Joint
	}
	plies := map[string]int{}
	for i := range j.t.Faces {
		if f := &j.t.Faces[i]; f.Side == "left" {
			plies[f.Run] = max(plies[f.Run], len(f.Plies))
		}
	}
	lines := map[string]map[int][]line{} // run → order through the wall → joints
	for i := range j.t.Joints {
		q := &j.t.Joints[i]
		f := j.face[q.Face]
		if f == nil || q.Kind == "control" || f.Side != "left" && f.Side != "right" {
			continue
		}
		r := j.run[f.Run]
		if r == nil || r.Arc != nil || listedStagger[r.Listing] == 0 {
			continue
		}
		l := line{at: float64(q.FromUV[1]), q: q}
		if l.upright = math.Abs(float64(q.FromUV[0]-q.ToUV[0])) < 0.01; l.upright {
			l.at = float64(f.StartMM + q.FromUV[0])
		}
		depth := plies[f.Run] - 1 + q.Ply
		if f.Side == "left" {
			depth = plies[f.Run] - q.Ply
			if l.upright {
				l.at = float64(f.StartMM + f.LengthMM - q.FromUV[0])
			}
		}
		if lines[f.Run] == nil {
			lines[f.Run] = map[int][]line{}
		}
		lines[f.Run][depth] = append(lines[f.Run][depth], l)
	}
	runs := make([]string, 0, len(lines))
	for id := range lines {
		runs = append(runs, id)
	}
	sort.Strings(runs)
	for _, id := range runs {
		r := j.run[id]
		least := listedStagger[r.Listing] - metricBay
		for depth, list := range lines[id] {
			for _, a := range list {
				for _, b := range lines[id][depth+1] {
					d := math.Abs(a.at - b.at)
					if a.upright != b.upright || d >= least || j.staggerExcused(a.q) || j.staggerExcused(b.q) {
						continue
					}
					j.object("stagger", id, "joints of %s and %s are %.0f mm apart, %s staggers them %.0f", a.q.Face, b.q.Face, d, r.Listing, listedStagger[r.Listing])
				}
			}
		}
	}
}

// staggerExcused reports whether joints that are too near are listed for the face.
func (j *judge) staggerExcused(q *report.Joint) bool {
	return j.excused("plies-near", q.Face) || j.excused("shared-stud", q.Face) || j.excused("tops-in-line", q.Face)
}
