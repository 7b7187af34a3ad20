package app

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"boardrun/internal/check"
	"boardrun/internal/report"
)

// sample takes off a sample once and returns a fresh copy each time.
var sampleBytes = map[string][]byte{}

func sample(t *testing.T, name string) *report.Takeoff {
	t.Helper()
	if sampleBytes[name] == nil {
		p := &pipeline{effort: "quick", out: io.Discard}
		out, err := p.run(context.Background(), filepath.Join("..", "..", "samples", name, "job.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(out)
		if err != nil {
			t.Fatal(err)
		}
		sampleBytes[name] = b
	}
	var out report.Takeoff
	if err := json.Unmarshal(sampleBytes[name], &out); err != nil {
		t.Fatal(err)
	}
	return &out
}

// faults are ways a takeoff could be wrong; each must draw an objection of the
// rule named.
var faults = []struct {
	name, rule string
	do         func(t *report.Takeoff) bool // false: the sample has nothing to spoil so
}{
	{"a piece dropped", "tiling", func(t *report.Takeoff) bool { t.Pieces = t.Pieces[1:]; return true }},
	{"a piece hung twice", "tiling", func(t *report.Takeoff) bool {
		p := t.Pieces[0]
		p.ID += "x"
		t.Pieces = append(t.Pieces, p)
		return true
	}},
	{"a piece moved by 1 in", "tiling", func(t *report.Takeoff) bool { shift(&t.Pieces[0], 25.4); return true }},
	{"a hole dropped", "tiling", func(t *report.Takeoff) bool { return onFace(t, func(f *report.Face) { f.HolesUV = nil }) }},
	{"a hole made larger", "tiling", func(t *report.Takeoff) bool {
		return onFace(t, func(f *report.Face) { f.HolesUV[0][2][1] += 50; f.HolesUV[0][3][1] += 50 })
	}},
	{"a face reported unboarded without a reason", "reason", func(t *report.Takeoff) bool { t.Faces[0].Boarded, t.Faces[0].Reason = false, ""; return true }},
	{"a piece's area wrong", "area", func(t *report.Takeoff) bool { t.Pieces[3].AreaM2 *= 1.01; return true }},
	{"a face's area wrong", "area", func(t *report.Takeoff) bool { t.Faces[0].GrossM2 += 0.1; return true }},
	{"an outline clockwise", "outline", func(t *report.Takeoff) bool { slices.Reverse(t.Pieces[2].OutlineUV); return true }},
	{"heights swapped", "heights", func(t *report.Takeoff) bool {
		for i := range t.Pieces {
			h := t.Pieces[i].HeightsMM
			if n := len(h) - 1; n > 0 && h[0][1] != h[n][1] {
				h[0][1], h[n][1] = h[n][1], h[0][1]
				return true
			}
		}
		return false
	}},
	{"a stud centre off the piece", "centres", func(t *report.Takeoff) bool {
		for i := range t.Pieces {
			if c := t.Pieces[i].CentresMM; len(c) > 0 {
				c[len(c)-1] += 5000
				return true
			}
		}
		return false
	}},
	{"joints emptied", "joint", func(t *report.Takeoff) bool { t.Joints = nil; return true }},
	{"one joint dropped", "joint", func(t *report.Takeoff) bool { t.Joints = t.Joints[1:]; return true }},
	{"a joint made longer", "joint", func(t *report.Takeoff) bool { t.Joints[0].ToUV[1] += 300; t.Joints[0].ToUV[0] += 0; return true }},
	{"a joint between strangers", "reference", func(t *report.Takeoff) bool { t.Joints[0].Pieces[1] = "nobody"; return true }},
	{"a joint off its stud", "joint-stud", func(t *report.Takeoff) bool {
		return onJoint(t, func(q *report.Joint, f *report.Face) {
			for i := range f.Studs {
				if f.Studs[i].Stud == q.Stud {
					f.Studs[i].UMM += 20
				}
			}
		})
	}},
	{"a joint's stud unnamed", "joint-stud", func(t *report.Takeoff) bool { return onJoint(t, func(q *report.Joint, _ *report.Face) { q.Stud = "" }) }},
	{"a joint called by another kind", "joint-kind", func(t *report.Takeoff) bool {
		return onJoint(t, func(q *report.Joint, _ *report.Face) {
			q.Kind = map[bool]string{true: "butt", false: "tapered"}[q.Kind == "tapered"]
		})
	}},
	{"a joint excused by nothing", "exception", func(t *report.Takeoff) bool {
		return onJoint(t, func(q *report.Joint, _ *report.Face) { q.Exception = "because" })
	}},
	{"both sides jointed on one stud", "shared-stud", func(t *report.Takeoff) bool {
		for i := range t.Joints { // the other side's joint is drawn onto this one's stud
			a := &t.Joints[i]
			fa := faceOf(t, a.Face)
			if a.Stud == "" || fa.Side != "left" || len(fa.Plies) != 1 {
				continue
			}
			for k := range t.Joints {
				b := &t.Joints[k]
				fb := faceOf(t, b.Face)
				if b.Stud != "" && fb.Side == "right" && fb.Run == fa.Run && len(fb.Plies) == 1 {
					u := fa.StartMM + fa.LengthMM - a.FromUV[0] - fb.StartMM
					b.FromUV[0], b.ToUV[0] = u, u
					return true
				}
			}
		}
		return false
	}},
	{"a listed wall laid out as if it had no rating", "stagger", func(t *report.Takeoff) bool {
		for i := range t.Runs {
			t.Runs[i].Listing = "WP 1200"
		}
		return true
	}},
	{"a joint over a jamb", "jamb-band", func(t *report.Takeoff) bool {
		return onJoint(t, func(q *report.Joint, f *report.Face) {
			w := report.MM(0)
			for _, o := range t.Openings {
				if len(o.Faces) > 0 && slices.Contains(o.Faces, f.ID) {
					w = o.WidthMM
				}
			}
			u, top := q.FromUV[0], max(q.FromUV[1], q.ToUV[1])
			f.HolesUV = append(f.HolesUV, report.Poly{{u + 10, 0}, {u + 10 + w, 0}, {u + 10 + w, top - 300}, {u + 10, top - 300}})
			t.Openings = append(t.Openings, report.Opening{ID: "forged", Run: f.Run, Faces: []string{f.ID}, Kind: "door", WidthMM: w, HeadMM: top - 300})
		})
	}},
	{"a stud said to stand elsewhere", "frame", func(t *report.Takeoff) bool {
		return onFace(t, func(f *report.Face) { f.Studs[0].UMM += 5 })
	}},
	{"a stud of no length", "stud", func(t *report.Takeoff) bool { t.Runs[0].Studs[0].LengthMM = 0; return true }},
	{"a run longer than its axis", "length", func(t *report.Takeoff) bool { t.Runs[0].LengthMM += 12; return true }},
	{"a mirrored piece on its sheet", "placement", func(t *report.Takeoff) bool {
		for i := range t.Sheets {
			for k := range t.Sheets[i].Placements {
				o := t.Sheets[i].Placements[k].OutlineMM
				if len(o) != 4 || math.Abs(float64(o[2][1]-o[3][1])) < 1 || math.Abs(float64(o[0][1]-o[1][1])) > 1 {
					continue
				}
				w := t.Sheets[i].WidthMM
				for n := range o {
					o[n][0] = w - o[n][0]
				}
				slices.Reverse(o)
				return true
			}
		}
		return false
	}},
	{"pieces over each other on a sheet", "placement", func(t *report.Takeoff) bool {
		for i := range t.Sheets {
			if p := t.Sheets[i].Placements; len(p) > 1 {
				dx, dy := p[0].OutlineMM[0][0]-p[1].OutlineMM[0][0], p[0].OutlineMM[0][1]-p[1].OutlineMM[0][1]
				for n := range p[1].OutlineMM {
					p[1].OutlineMM[n][0] += dx
					p[1].OutlineMM[n][1] += dy
				}
				return true
			}
		}
		return false
	}},
	{"a piece cut from no sheet", "placement", func(t *report.Takeoff) bool { t.Sheets[0].Placements = t.Sheets[0].Placements[:0]; return true }},
	{"a sheet of another board", "placement", func(t *report.Takeoff) bool { t.Sheets[0].Board = "1/2 regular"; return true }},
	{"a cut left out", "cut", func(t *report.Takeoff) bool {
		for i := range t.Sheets {
			if len(t.Sheets[i].Cuts) > 0 && len(t.Sheets[i].Placements) > 1 {
				t.Sheets[i].Cuts = nil
				return true
			}
		}
		return false
	}},
	{"a cut that stops half way", "cut", func(t *report.Takeoff) bool {
		for i := range t.Sheets {
			if c := t.Sheets[i].Cuts; len(c) > 0 {
				c[0].To[0] = (c[0].From[0] + c[0].To[0]) / 2
				c[0].To[1] = (c[0].From[1] + c[0].To[1]) / 2
				return true
			}
		}
		return false
	}},
	{"a cut edge called tapered", "edge", func(t *report.Takeoff) bool {
		for i := range t.Pieces {
			if e := &t.Pieces[i].Edges; e.Right == "cut" && e.Left == "tapered" {
				e.Right = "tapered"
				return true
			}
		}
		return false
	}},
	{"area bought too small", "sum", func(t *report.Takeoff) bool { t.Bound[0].AreaM2 -= 3; return true }},
	{"a bound above what was found", "bound", func(t *report.Takeoff) bool { t.Bound[0].ForPiecesM2 = t.Bound[0].AreaM2 + 1; return true }},
	{"an entity lost", "ledger", func(t *report.Takeoff) bool { t.Ledger[0].Used--; return true }},
	{"an id used twice", "unique", func(t *report.Takeoff) bool { t.Pieces[1].ID = t.Pieces[0].ID; return true }},
	{"another board hung in a zone", "zone", func(t *report.Takeoff) bool { t.Pieces[0].Board = "1/2 regular"; return true }},
}

func shift(p *report.Piece, du report.MM) {
	for i := range p.OutlineUV {
		p.OutlineUV[i][0] += du
	}
}

func faceOf(t *report.Takeoff, id string) *report.Face {
	for i := range t.Faces {
		if t.Faces[i].ID == id {
			return &t.Faces[i]
		}
	}
	return nil
}

func onFace(t *report.Takeoff, do func(*report.Face)) bool {
	for i := range t.Faces {
		if f := &t.Faces[i]; f.Boarded && len(f.HolesUV) > 0 && len(f.Studs) > 0 {
			do(f)
			return true
		}
	}
	return false
}

func onJoint(t *report.Takeoff, do func(*report.Joint, *report.Face)) bool {
	for i := range t.Joints {
		if q := &t.Joints[i]; q.Stud != "" && q.Kind == "tapered" {
			do(q, faceOf(t, q.Face))
			return true
		}
	}
	return false
}

func TestCheck_objectsToEverySeededFault(t *testing.T) {
	if obj := check.Takeoff(sample(t, "vet-clinic"), check.InchLimits); len(obj) > 0 {
		t.Fatalf("the sample itself draws objections: %v", obj[0])
	}
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			bad := sample(t, "vet-clinic")
			if !f.do(bad) {
				t.Fatal("the sample has nothing to spoil like this")
			}
			for _, o := range check.Takeoff(bad, check.InchLimits) {
				if o.Rule == f.rule {
					return
				}
			}
			t.Errorf("no objection of rule %q", f.rule)
		})
	}
}
