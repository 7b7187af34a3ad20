package trace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boardrun/internal/plan"
)

// kindsTold tells once for each kind how much wall a layer's name makes low,
// glazed or masonry: nobody boards it without a word of the job.
func (t *tracer) kindsTold() {
	for _, kind := range []plan.WallKind{plan.Low, plan.Glazed, plan.Masonry, plan.Curtain} {
		var sum Length
		var layers []string
		n, first := 0, -1
		for i := range t.out.Walls {
			w := &t.out.Walls[i]
			if w.Kind != kind || w.Status != plan.New {
				continue
			}
			n++
			sum += lengthOfWall(w)
			if !slices.Contains(layers, w.Layer) {
				layers = append(layers, w.Layer)
			}
			if first < 0 {
				first = i
			}
		}
		if n == 0 {
			continue
		}
		slices.Sort(layers)
		at := t.out.Walls[first].Axis[0]
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: plan.Warning, Code: CodeKind, At: &at, Source: plan.Source{File: t.d.File}, Span: sum,
			Message: fmt.Sprintf("%d walls, %.1f m in all, are %s by the name of their layer: %s", n, sum.Metres(), kind, strings.Join(layers, ", ")),
			Did:     "kept as what other walls stop at; nothing on them is boarded unless a wall type of the job names that layer",
		})
	}
}

// lengthOfWall is the length of a wall's axis.
func lengthOfWall(w *plan.Wall) Length {
	if w.Arc != nil {
		return round(math.Abs(w.Arc.Sweep) * math.Pi / 180 * float64(w.Arc.Radius))
	}
	return round(math.Sqrt(norm2(w.Axis[1].Sub(w.Axis[0]))))
}
