package trace_test

import (
	"fmt"
	"os"
	"testing"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
)

func TestZZ(t *testing.T) {
	name := os.Getenv("DIALECT")
	if name == "" {
		t.Skip()
	}
	ws := hall()
	for _, dl := range dialects() {
		if dl.name != name {
			continue
		}
		s := newSheet()
		dl.draw(s, ws)
		for _, l := range layersOf(&s.d) {
			s.d.Layers = append(s.d.Layers, linework.Layer{Name: l})
		}
		p := trace.Trace(&s.d, trace.Propose(&s.d), dl.opt)
		for i, w := range p.Walls {
			fmt.Printf("%d %.0f,%.0f %.0f,%.0f t %.1f ext %v\n", i, w.Axis[0].X.MM(), w.Axis[0].Y.MM(), w.Axis[1].X.MM(), w.Axis[1].Y.MM(), w.Thickness.MM(), w.Ext)
		}
		for _, o := range p.Openings {
			c := openingCentre(p, o)
			fmt.Printf("  op wall %d at %.0f,%.0f w %.1f %s %s %s\n", o.Wall, c[0], c[1], o.Width.MM(), o.Kind, o.Mark, o.Doubt)
		}
		for _, e := range p.Exceptions {
			fmt.Println("  ", e)
		}
	}
}
