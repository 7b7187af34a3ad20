package plan

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Oracle: by hand.
func TestException_In(t *testing.T) {
	e := Exception{Severity: Warning, Code: "gap-closed", Message: "ends short", Did: "extended", Target: "1-W003",
		Source: Source{File: "plan.dxf", Line: 18, Ref: "2F", Entity: "LINE", Layer: "A-WALL"},
		At:     &geom.Pt{X: measure.FromInches(147.5), Y: measure.FromInches(-6.5)}}
	for sys, want := range map[measure.System]string{
		measure.Metric:    `plan.dxf:18: warning [gap-closed] LINE 2F, layer A-WALL, at (3.747, -0.165) m, 1-W003: ends short; extended`,
		measure.InchPound: `plan.dxf:18: warning [gap-closed] LINE 2F, layer A-WALL, at (12'-3 1/2", -6 1/2"), 1-W003: ends short; extended`,
	} {
		if got := e.In(sys); got != want {
			t.Errorf("%s:\n%s, want\n%s", sys, got, want)
		}
	}
}
