package quantity

import (
	"testing"

	"boardrun/internal/geom"
)

// BenchmarkTake counts everything of a 60 ft wall with a door and tops.
func BenchmarkTake(b *testing.B) {
	w := wall{length: in(720), deck: geom.Profile{{X: 0, Y: in(180)}, {X: in(720), Y: in(195)}}, breaks: inches(120.5),
		holes: []hole{{u0: in(69), u1: in(107), v0: in(0.5), v1: in(85.25)}}}
	for u := in(48); u < w.length; u += in(48) {
		w.a, w.b = append(w.a, u), append(w.b, u-in(16))
	}
	x := w.build().input()
	for b.Loop() {
		Take(x)
	}
}
