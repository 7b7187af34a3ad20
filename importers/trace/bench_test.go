package trace_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
)

// BenchmarkTrace traces 1 to 320 halls (58,880 lines) side by side: the time must grow
// with the number of lines.
func BenchmarkTrace(b *testing.B) {
	for _, n := range []int{1, 10, 100, 320} {
		b.Run(fmt.Sprintf("halls=%d", n), func(b *testing.B) {
			s := newSheet()
			ws := hall()
			lines := outline(solids(ws, 0))
			for k := range n {
				dx, dy := float64(k%10)*25000, float64(k/10)*20000
				for _, l := range lines {
					s.line("A-WALL", orb.Point{l.a[0] + dx, l.a[1] + dy}, orb.Point{l.b[0] + dx, l.b[1] + dy})
				}
				moved := make([]hallWall, len(ws))
				for i, w := range ws {
					w.x0, w.x1, w.y0, w.y1 = w.x0+dx, w.x1+dx, w.y0+dy, w.y1+dy
					moved[i] = w
				}
				s.openings(moved, "A-DOOR", "A-GLAZ")
			}
			for _, l := range layersOf(&s.d) {
				s.d.Layers = append(s.d.Layers, linework.Layer{Name: l})
			}
			m := trace.Propose(&s.d)
			for b.Loop() {
				trace.Trace(&s.d, m, trace.Options{})
			}
			b.ReportMetric(float64(len(s.d.Segments)), "lines")
		})
	}
}
