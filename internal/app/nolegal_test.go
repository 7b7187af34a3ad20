package app

import (
	"context"
	"io"
	"strings"
	"testing"

	"boardrun/internal/check"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
)

// A wall that cannot be hung by the rules is listed with the rule that blocks
// it and what to change; the wall beside it is taken off whole, and the judge
// has no objection. Oracle: the rules as the tests' names state them.
func TestTakeoff_noLegalLayout(t *testing.T) {
	const in = measure.Inch
	door := func(width, head measure.Length, centre measure.Length) plan.Opening {
		return plan.Opening{Kind: plan.Door, At: centre, Width: width, Head: head, HeadBy: "attribute", Basis: "drawn"}
	}
	for name, tt := range map[string]struct {
		change   [2]string // in the job
		length   measure.Length
		openings []plan.Opening
		code     string // of the exception
		says     []string
		bare     bool // no board on the wall
	}{
		"opening from end to end":  {length: 96 * in, openings: []plan.Opening{door(96*in, 120*in, 48*in)}, bare: true},
		"wall shorter than a stud": {length: 1 * in, bare: true},
		"stock too short, splicing forbidden": {length: 96 * in, code: "too-high",
			change: [2]string{"rules: {fit-slack: 0}", "rules: {fit-slack: 0, splice-tops: no}\nstock: {5/8 type X: {sheets: {48in: [4ft]}}}"}, says: []string{"longest sheet", "longer sheets"}},
		"unlisted rating": {length: 96 * in, code: "no-legal-layout", bare: true,
			change: [2]string{"stud: 3-5/8in", "rating: 1 h, listing: XX 9, stud: 3-5/8in"}, says: []string{"unlisted fire design", "listing: none"}},
		"rating with no design": {length: 96 * in, code: "no-legal-layout", bare: true,
			change: [2]string{"stud: 3-5/8in", "rating: 2 h, stud: 3-5/8in"}, says: []string{"wants the listed design", "listing: none"}},
		"strip of 4 in beside a door in a rated wall": {length: 96 * in, openings: []plan.Opening{door(36*in, 84*in, 22*in)}, code: "narrow-stem",
			change: [2]string{"stud: 3-5/8in", "rating: 1 h, listing: none, stud: 3-5/8in"}, says: []string{"at least 6 in", "move the opening"}},
	} {
		t.Run(name, func(t *testing.T) {
			text := caseJob
			if tt.change[0] != "" {
				// The other wall keeps the type as it was.
				bad := strings.Replace(text[strings.Index(text, "types: [")+len("types: ["):strings.Index(text, "]\nceilings")], "{name: P, match: [{thickness: 4-7/8in}]", "{name: BAD, match: [{tag: BAD}]", 1)
				text = strings.Replace(text, "types: [", "types: ["+strings.Replace(bad, tt.change[0], tt.change[1], 1)+", ", 1)
				if strings.Contains(caseJob, tt.change[0]) && !strings.Contains(text, tt.change[1]) {
					text = strings.Replace(text, tt.change[0], tt.change[1], 1)
				}
			}
			text += "decks: 10ft\n"
			j, err := job.Parse("case.yaml", []byte(text), nil)
			if err != nil {
				t.Fatal(err)
			}
			thick := in*4 + 7*in/8
			p := &plan.Plan{
				Drawings: []plan.Drawing{{File: "case.dxf", Storey: "1"}},
				Walls: []plan.Wall{
					{Storey: "1", Axis: [2]geom.Pt{{}, {X: tt.length}}, Thickness: thick, Tag: "BAD", Sources: []plan.Source{{File: "case.dxf", Ref: "1A"}}},
					{Storey: "1", Axis: [2]geom.Pt{{Y: 300 * in}, {X: 192 * in, Y: 300 * in}}, Thickness: thick, Sources: []plan.Source{{File: "case.dxf", Ref: "1B"}}},
				},
				Openings: tt.openings,
			}
			out, err := (&pipeline{effort: "quick", out: io.Discard}).assemble(context.Background(), j, p, nil)
			if err != nil {
				t.Fatal(err)
			}
			good, bad := "", ""
			for _, r := range out.Runs {
				if r.LengthMM > 4800 {
					good = r.ID
				} else {
					bad = r.ID
				}
			}
			pieces := map[string]int{}
			for _, q := range out.Pieces {
				pieces[q.Face[:len(good)]]++
			}
			if good == "" || pieces[good] < 8 && tt.code != "too-high" || tt.bare && pieces[bad] != 0 {
				t.Errorf("good wall %q has %d pieces, bad wall %q %d", good, pieces[good], bad, pieces[bad])
			}
			if !toldSo(out, bad, tt.code, tt.says) {
				t.Errorf("nothing says so: %+v", out.Exceptions)
			}
			for _, o := range check.Takeoff(out, check.InchLimits) {
				if tt.code != "too-high" { // no sheet holds such a piece, as listed
					t.Error(o)
				}
			}
		})
	}
}

// toldSo reports whether the run is told of: an exception of the code for a
// person with the words, or, without a code, sides not boarded with a reason.
func toldSo(t *report.Takeoff, run, code string, words []string) bool {
	if code == "" {
		for _, e := range t.Exceptions {
			if strings.HasPrefix(e.Target, run) && e.Severity != "note" {
				return true
			}
		}
		for _, f := range t.Faces {
			if f.Run == run && !f.Boarded && f.Reason != "" {
				return true
			}
		}
		return run == "" && len(t.Exceptions) > 0
	}
	for _, e := range t.Exceptions {
		if e.Code != code || e.Severity != "person" || !strings.HasPrefix(e.Target, run) {
			continue
		}
		all := true
		for _, w := range words {
			all = all && strings.Contains(e.Message+" "+e.Did, w)
		}
		if all {
			return true
		}
	}
	return false
}

// Walls after the listed designs whose patterns are held pass the judge, which
// holds their joints to the design's stagger by a table of its own.
func TestTakeoff_listedWalls(t *testing.T) {
	const in = measure.Inch
	for name, boards := range map[string]string{"WP 1200": "5/8 type X", "WP 1204": "[1/2 type X, 1/2 type X]"} {
		text := strings.Replace(caseJob, "stud: 3-5/8in, mil: 18, spacing: 16in", "listing: "+name+", stud: 3-5/8in, mil: 33, spacing: 24in", 1)
		text = strings.Replace(text, "both: {boards: 5/8 type X,", "both: {boards: "+boards+",", 1)
		text += "decks: 14ft\n"
		if name == "WP 1204" {
			text += "stock: {1/2 type X: {thickness: 1/2in, kind: type X, sheets: {48in: [8ft, 10ft, 12ft]}}}\n"
		}
		c := caseWall{job: text, length: 240 * in, thick: in*4 + 7*in/8,
			openings: []plan.Opening{{Kind: plan.Door, At: 88 * in, Width: 38 * in, Head: 341 * in / 4, HeadBy: "attribute", Basis: "drawn"}}}
		out := c.take(t)
		if len(out.Pieces) < 10 {
			t.Errorf("%s: %d pieces: %+v", name, len(out.Pieces), out.Exceptions)
		}
		for _, o := range check.Takeoff(out, check.InchLimits) {
			t.Errorf("%s: %s", name, o)
		}
		for _, e := range out.Exceptions {
			if e.Severity == "person" {
				t.Errorf("%s: %s", name, e.Message)
			}
		}
	}
}
