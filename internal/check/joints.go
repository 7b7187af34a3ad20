package check

import (
	"math"
	"sort"

	"boardrun/internal/report"
)

// seam is a stretch of boundary that two pieces share.
type seam struct {
	a, b     string
	from, to pt
}

// joints holds invariant 2.
func (j *judge) joints() {
	listed := map[plyKey][]*report.Joint{}
	for i := range j.t.Joints {
		q := &j.t.Joints[i]
		k := plyKey{q.Face, q.Ply}
		listed[k] = append(listed[k], q)
	}
	keys := make([]plyKey, 0, len(j.byPly))
	for k := range j.byPly {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool {
		return keys[a].face < keys[b].face || keys[a].face == keys[b].face && keys[a].ply < keys[b].ply
	})
	for _, k := range keys {
		j.seams(k, listed[k])
		delete(listed, k)
	}
	for k := range listed {
		j.object("joint", k.face, "ply %d has joints but no pieces", k.ply)
	}
	for i := range j.t.Joints {
		j.joint(&j.t.Joints[i])
	}
	j.sharedStuds()
}

// seams compares the joints listed for a ply with the boundaries its pieces
// really share.
func (j *judge) seams(k plyKey, listed []*report.Joint) {
	type pair struct{ a, b string }
	real, told := map[pair]float64{}, map[pair]float64{}
	key := func(a, b string) pair {
		if a > b {
			a, b = b, a
		}
		return pair{a, b}
	}
	for _, s := range shared(j.byPly[k]) {
		real[key(s.a, s.b)] += math.Hypot(s.to.x-s.from.x, s.to.y-s.from.y)
	}
	for _, q := range listed {
		told[key(q.Pieces[0], q.Pieces[1])] += math.Hypot(float64(q.ToUV[0]-q.FromUV[0]), float64(q.ToUV[1]-q.FromUV[1]))
		for _, id := range q.Pieces {
			p := j.piece[id]
			if p == nil || p.Face != k.face || p.Ply != k.ply {
				j.object("reference", k.face, "a joint names piece %q, which is not of this ply", id)
				continue
			}
			if !onBoundary(ringOf(p.OutlineUV), q) {
				j.object("joint", id, "the joint from (%.2f, %.2f) to (%.2f, %.2f) is not on its boundary",
					float64(q.FromUV[0]), float64(q.FromUV[1]), float64(q.ToUV[0]), float64(q.ToUV[1]))
			}
		}
	}
	for p, n := range real {
		if n > 0.5 && math.Abs(n-told[p]) > 0.1 {
			j.object("joint", p.a, "shares %.2f mm with %s, joints list %.2f", n, p.b, told[p])
		}
	}
	for p, n := range told {
		if n > 0.5 && real[p] == 0 {
			j.object("joint", p.a, "a joint of %.2f mm with %s is listed, they share none", n, p.b)
		}
	}
}

// shared finds the boundaries that pieces of one ply share: collinear edges
// running opposite ways.
func shared(ps []*report.Piece) []seam {
	type edge struct {
		id   string
		a, b pt
	}
	var es []edge
	for _, p := range ps {
		r := ringOf(p.OutlineUV)
		for i, a := range r {
			es = append(es, edge{p.ID, a, r[(i+1)%len(r)]})
		}
	}
	sort.Slice(es, func(a, b int) bool { return math.Min(es[a].a.x, es[a].b.x) < math.Min(es[b].a.x, es[b].b.x) })
	var out []seam
	for i, e := range es {
		right := math.Max(e.a.x, e.b.x)
		for _, f := range es[i+1:] {
			if math.Min(f.a.x, f.b.x) > right+tol {
				break
			}
			if e.id == f.id {
				continue
			}
			if s, ok := overlap(e.a, e.b, f.a, f.b); ok {
				s.a, s.b = e.id, f.id
				out = append(out, s)
			}
		}
	}
	return out
}

func overlap(a, b, c, d pt) (seam, bool) {
	l := math.Hypot(b.x-a.x, b.y-a.y)
	if l == 0 {
		return seam{}, false
	}
	dx, dy := (b.x-a.x)/l, (b.y-a.y)/l
	if math.Abs((c.x-a.x)*dy-(c.y-a.y)*dx) > 0.01 || math.Abs((d.x-a.x)*dy-(d.y-a.y)*dx) > 0.01 {
		return seam{}, false
	}
	s, t := (c.x-a.x)*dx+(c.y-a.y)*dy, (d.x-a.x)*dx+(d.y-a.y)*dy
	if s <= t { // same direction: one lies over the other, no seam
		return seam{}, false
	}
	lo, hi := math.Max(0, t), math.Min(l, s)
	if hi-lo < 0.01 {
		return seam{}, false
	}
	return seam{from: pt{a.x + dx*lo, a.y + dy*lo}, to: pt{a.x + dx*hi, a.y + dy*hi}}, true
}

func onBoundary(r ring, q *report.Joint) bool {
	a, b := pt{float64(q.FromUV[0]), float64(q.FromUV[1])}, pt{float64(q.ToUV[0]), float64(q.ToUV[1])}
	want, got := math.Hypot(b.x-a.x, b.y-a.y), 0.0
	for i, c := range r {
		d := r[(i+1)%len(r)]
		for _, s := range [][2]pt{{a, b}, {b, a}} {
			if o, ok := overlap(s[0], s[1], c, d); ok {
				got += math.Hypot(o.to.x-o.from.x, o.to.y-o.from.y)
			}
		}
	}
	return got > want-0.1
}

// joint judges one joint by itself: its kind, its stud, the openings.
func (j *judge) joint(q *report.Joint) {
	f, p0, p1 := j.face[q.Face], j.piece[q.Pieces[0]], j.piece[q.Pieces[1]]
	if f == nil || p0 == nil || p1 == nil {
		return
	}
	excused := j.excused(q.Exception, q.Face, q.Pieces[0], q.Pieces[1])
	if q.Exception != "" && !excused {
		j.object("exception", q.Face, "a joint is excused by %q, but no such exception names this face or its pieces", q.Exception)
	}
	u := float64(q.FromUV[0])
	along := math.Abs(u-float64(q.ToUV[0])) < 0.01
	if !along {
		return
	}
	if q.Kind != "control" && f.Side != "end" && f.Side != "reveal" && !excused {
		j.onStud(f, q, u)
	}
	if !excused {
		j.jambBand(f, q, u)
	}
	j.kind(q, p0, p1)
}

func (j *judge) onStud(f *report.Face, q *report.Joint, u float64) {
	for _, s := range f.Studs {
		if s.Stud == q.Stud {
			if math.Abs(float64(s.UMM)-u) > 0.05 {
				j.object("joint-stud", f.ID, "the joint at %.2f names stud %s at %.2f", u, q.Stud, float64(s.UMM))
			}
			return
		}
	}
	j.object("joint-stud", f.ID, "the joint at %.2f is on no stud", u)
}

// jambBand: no joint within the band of a jamb line above the head or below the
// sill, nor along the jamb itself.
func (j *judge) jambBand(f *report.Face, q *report.Joint, u float64) {
	lo := math.Min(float64(q.FromUV[1]), float64(q.ToUV[1]))
	hi := math.Max(float64(q.FromUV[1]), float64(q.ToUV[1]))
	for _, h := range rings(f.HolesUV) {
		a, b := h.box()
		if !j.framed(f, a, b) {
			continue
		}
		top := hi > b.y+tol && lo < b.y+j.lim.JambBandMM
		under := lo < a.y-tol && hi > a.y-j.lim.JambBandMM
		if !top && !under {
			continue
		}
		for _, jamb := range []float64{a.x, b.x} {
			if d := math.Abs(u - jamb); d < j.lim.JambBandMM-0.01 {
				j.object("jamb-band", f.ID, "the joint at %.2f is %.2f mm from a jamb line at %.2f", u, d, jamb)
			}
		}
	}
}

// framed reports whether the hole is that of a door, window or framed opening:
// penetrations want a joint across them, wrapped openings are routed.
func (j *judge) framed(f *report.Face, a, b pt) bool {
	for _, o := range j.opened[f.ID] {
		if o.Kind == "penetration" || o.Kind == "wrapped" || o.Kind == "niche" {
			continue
		}
		w := float64(o.WidthMM)
		if math.Abs((b.x-a.x)-w) < 1 && math.Abs(b.y-float64(o.HeadMM)) < 1 {
			return true
		}
	}
	return false
}

func (j *judge) kind(q *report.Joint, p0, p1 *report.Piece) {
	if q.Kind == "control" {
		return
	}
	l, r := p0, p1
	if x0, _ := ringOf(p0.OutlineUV).box(); true {
		if x1, _ := ringOf(p1.OutlineUV).box(); x1.x < x0.x {
			l, r = p1, p0
		}
	}
	a, b := l.Edges.Right, r.Edges.Left
	// A joint along a notch side is a cut, whatever the outermost side is.
	_, hi := ringOf(l.OutlineUV).box()
	lo, _ := ringOf(r.OutlineUV).box()
	u := float64(q.FromUV[0])
	if math.Abs(hi.x-u) > 0.01 {
		a = "cut"
	}
	if math.Abs(lo.x-u) > 0.01 {
		b = "cut"
	}
	want := "cut"
	switch {
	case a == "tapered" && b == "tapered":
		want = "tapered"
	case a == "tapered" && b == "cut", a == "cut" && b == "tapered":
		want = "tapered-cut"
	case a == "end" && b == "end":
		want = "butt"
	}
	if q.Kind != want {
		j.object("joint-kind", q.Face, "the joint at %.2f is called %s; its edges are %s and %s", u, q.Kind, a, b)
	}
}

// sharedStuds: plies that are neighbours through the wall share no stud.
func (j *judge) sharedStuds() {
	type line struct {
		station float64
		q       *report.Joint
		f       *report.Face
	}
	depth := map[string]map[int][]line{} // run → order through the wall → joints
	plies := map[string]int{}
	for i := range j.t.Faces {
		f := &j.t.Faces[i]
		if f.Side == "left" {
			plies[f.Run] = max(plies[f.Run], len(f.Plies))
		}
	}
	for i := range j.t.Joints {
		q := &j.t.Joints[i]
		f := j.face[q.Face]
		if f == nil || q.Kind == "control" || math.Abs(float64(q.FromUV[0]-q.ToUV[0])) > 0.01 {
			continue
		}
		var at int
		st := float64(f.StartMM) + float64(q.FromUV[0])
		switch f.Side {
		case "left":
			at = plies[f.Run] - q.Ply // face ply outermost: base is last
			st = float64(f.StartMM+f.LengthMM) - float64(q.FromUV[0])
		case "right":
			at = plies[f.Run] - 1 + q.Ply
		default:
			continue
		}
		if depth[f.Run] == nil {
			depth[f.Run] = map[int][]line{}
		}
		depth[f.Run][at] = append(depth[f.Run][at], line{st, q, f})
	}
	for run, by := range depth {
		for at, ls := range by {
			for _, a := range ls {
				for _, b := range by[at+1] {
					if math.Abs(a.station-b.station) < j.lim.SameStudMM && !vApart(a.q, b.q) &&
						!j.excused(a.q.Exception, a.f.ID, a.q.Pieces[0], a.q.Pieces[1]) && !j.excused(b.q.Exception, b.f.ID, b.q.Pieces[0], b.q.Pieces[1]) {
						j.object("shared-stud", run, "joints of %s and %s share the stud at %.2f", a.f.ID, b.f.ID, a.station)
					}
				}
			}
		}
	}
}

// vApart reports whether two upright joints have no height in common.
func vApart(a, b *report.Joint) bool {
	al, ah := math.Min(float64(a.FromUV[1]), float64(a.ToUV[1])), math.Max(float64(a.FromUV[1]), float64(a.ToUV[1]))
	bl, bh := math.Min(float64(b.FromUV[1]), float64(b.ToUV[1])), math.Max(float64(b.FromUV[1]), float64(b.ToUV[1]))
	return ah <= bl+tol || bh <= al+tol
}
