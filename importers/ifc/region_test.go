package ifc

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// inRegion reports whether a point lies in g, ring by ring.
func inRegion(g region, p pt) bool {
	for _, s := range g {
		if !s.outer.holds(p) {
			continue
		}
		in := true
		for _, h := range s.holes {
			in = in && !h.holds(p)
		}
		if in {
			return true
		}
	}
	return false
}

func drawBox(t *rapid.T, name string) region {
	n := func(s string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name+s)) * 10 }
	u, v := n("u", 0, 60), n("v", 0, 60)
	w, h := n("w", 10, 60), n("h", 10, 60)
	skew := n("skew", -6, 6)
	return regionOf(ring{{u, v}, {u + w, v + skew/2}, {u + w + skew, v + skew/2 + h}, {u + skew, v + h}})
}

// Oracle: brute force, membership of points of a grid off every edge.
func TestRegion_booleans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawBox(t, "a"), drawBox(t, "b"), drawBox(t, "c")
		ab := union(a, b)
		for _, op := range []struct {
			name string
			got  region
			in   func(x, y, z bool) bool
		}{
			{"union", union(ab, c), func(x, y, z bool) bool { return x || y || z }},
			{"difference", subtract(ab, c), func(x, y, z bool) bool { return (x || y) && !z }},
			{"intersection", intersect(ab, c), func(x, y, z bool) bool { return (x || y) && z }},
			{"clip", ab.clip(1, 2, 777), nil},
		} {
			if op.got.isPoisoned() {
				t.Fatalf("%s failed", op.name)
			}
			for u := -213.37; u < 1700; u += 61.7 {
				for v := -213.77; v < 1700; v += 59.3 {
					p := pt{u, v}
					want := false
					if op.in == nil {
						want = inRegion(ab, p) && u+2*v <= 777
					} else {
						want = op.in(inRegion(a, p), inRegion(b, p), inRegion(c, p))
					}
					if inRegion(op.got, p) != want {
						t.Fatalf("%s: (%g, %g) is %v", op.name, u, v, !want)
					}
				}
			}
		}
		if x := union(a, b).area() + intersect(a, b).area() - a.area() - b.area(); math.Abs(x) > 2 {
			t.Fatalf("union and intersection are %g mm² off", x)
		}
	})
}

// Sections of a prism by a mesh and as a sweep are the same.
// Oracle: the two ways to write one body.
func TestSection_meshAgainstPrism(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(s string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, s)) }
		r := ring{{0, 0}, {n("a", 100, 4000), n("b", -50, 50)}, {n("c", 100, 4000), n("d", 100, 300)}, {n("e", -50, 50), n("f", 100, 300)}}.tidy()
		if r == nil || !r.convex() {
			t.Skip("not a plan")
		}
		r = r.turned(true)
		sweep := vec{n("dx", -200, 200), 0, 3000}
		body := &prism{[]shape{{outer: r}}, vec{}, vec{1, 0, 0}, vec{0, 1, 0}, sweep}
		m := &mesh{}
		k := int32(len(r))
		var foot, top []int32
		for _, p := range r {
			foot = append([]int32{m.add(vec{p.u, p.v, 0})}, foot...)
		}
		for _, p := range r {
			top = append(top, m.add(vec{p.u, p.v, 0}.add(sweep)))
		}
		m.face([][]int32{foot})
		m.face([][]int32{top})
		for i := range k {
			j := (i + 1) % k
			m.face([][]int32{{i, j, top[j]}})
			m.face([][]int32{{i, top[j], top[i]}})
		}
		if mirror := rapid.Bool().Draw(t, "mirror"); mirror {
			f := affine{vec{1, 0, 0}, vec{0, -1, 0}, vec{0, 0, 1}, vec{0, 111, 0}}
			body, m = body.moved(f).(*prism), m.moved(f).(*mesh)
		}
		for _, y := range []float64{7.3, 60, 99.9, 150} {
			for _, side := range []float64{1, -1} {
				p := plane{y: y, side: side}
				x, z := body.section(p).area(), m.section(p).area()
				if math.Abs(x-z) > 1+1e-6*x {
					t.Fatalf("y = %g: %g as a sweep, %g as a mesh", y, x, z)
				}
			}
		}
		want := r.area() * 3000
		if got := signedVolume(m); math.Abs(got-want) > 1e-6*want {
			t.Fatalf("the mesh holds %g, want %g", got, want)
		}
	})
}

// signedVolume of a mesh is positive if its faces look outwards.
func signedVolume(m *mesh) (v float64) {
	for _, loops := range m.faces {
		l := loops[0]
		for i := 1; i+1 < len(l); i++ {
			v += m.points[l[0]].dot(m.points[l[i]].cross(m.points[l[i+1]])) / 6
		}
	}
	return v
}
