package trace_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// marked is one wall of a plan that was marked up by hand: a row of
// testdata/truth, in millimetres.
type marked struct {
	row  int
	a, b [2]float64
	kind string // new, low, masonry, glazed
	band band
}

// readMarked reads a truth file. Its first line names the unit.
func readMarked(t *testing.T, file string) (rows []marked, unit float64) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := bufio.NewScanner(f)
	for n := 1; in.Scan(); n++ {
		line := in.Text()
		if n == 1 {
			switch word, _, _ := strings.Cut(strings.TrimPrefix(line, "# "), ";"); word {
			case "inches":
				unit = 25.4
			case "metres":
				unit = 1000
			default:
				t.Fatalf("%s: first line names no unit: %q", file, line)
			}
			continue
		}
		cells := strings.Split(line, ",")
		if len(cells) < 6 {
			t.Fatalf("%s:%d: %d cells, want 6 or 7", file, n, len(cells))
		}
		var v [5]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(cells[i], 64); err != nil {
				t.Fatalf("%s:%d: %v", file, n, err)
			}
			v[i] *= unit
		}
		m := marked{row: n, a: [2]float64{v[0], v[1]}, b: [2]float64{v[2], v[3]}, kind: cells[5]}
		m.band = straight(m.a, m.b, v[4])
		if len(cells) > 6 { // a curved wall: tangent of a quarter of its sweep
			bulge, err := strconv.ParseFloat(cells[6], 64)
			if err != nil || bulge == 0 {
				t.Fatalf("%s:%d: bulge %q", file, n, cells[6])
			}
			d := math.Hypot(m.b[0]-m.a[0], m.b[1]-m.a[1])
			sweep := 4 * math.Atan(bulge)
			r := d / 2 / math.Sin(math.Abs(sweep)/2)
			h := (1 - bulge*bulge) / (4 * bulge) // of the centre, over the chord
			c := [2]float64{(m.a[0]+m.b[0])/2 - h*(m.b[1]-m.a[1]), (m.a[1]+m.b[1])/2 + h*(m.b[0]-m.a[0])}
			m.band = curved(c, r, math.Atan2(m.a[1]-c[1], m.a[0]-c[0])*180/math.Pi, sweep*180/math.Pi, v[4])
		}
		rows = append(rows, m)
	}
	return rows, unit
}

// length is the length of a marked wall in mm.
func (m *marked) length() float64 { return float64(len(m.band.xy)) * m.band.step }

// Oracle: walls marked up by hand; testdata/truth/README.md says how.
// Of their length 0.95 has to be found, and what is not found has to be within
// a doubt that the tool lists by itself.
func TestTrace_markedByHand(t *testing.T) {
	for _, c := range []struct {
		name       string
		recall     float64
		precision  float64 // of the walls found that are no obstacle
		unlisted   float64 // mm of marked wall neither found nor doubted
		leaveKinds string  // kinds drawn on layers that hold no walls
	}{
		{"house-plan-aia-bound-xrefs", 0.99, 0.99, 0, ""},
		{"villa-plan-wall-high-low", 0.95, 0.9, 0, "glazed"},
		{"apartment-block-plan-and-section", 0.95, 0.95, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := filepath.Join("../../../shared/data/dxf", c.name+".dxf")
			if _, err := os.Stat(file); err != nil {
				t.Skipf("the collection of real drawings is not here: %v", err)
			}
			rows, unit := readMarked(t, filepath.Join("../../testdata/truth", c.name+".csv"))
			d := readDrawing(t, file, unit)
			p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1", Views: true})
			var want, all, got, own []band
			var kept []marked
			for _, m := range rows {
				all = append(all, m.band)
				if !strings.Contains(c.leaveKinds, m.kind) {
					want, kept = append(want, m.band), append(kept, m)
				}
			}
			for i, w := range p.Walls {
				got, own = append(got, bandOf(w)), append(own, solid(p, i))
			}
			recall, precision := 0.0, share(own, all)
			found, right := shares(want, got), shares(own, all)
			recall = inObstacles(p, kept, found)
			unlisted := 0.0
			for i := range kept {
				m := &kept[i]
				part := found[i][0] / max(found[i][1], 1)
				if missed := found[i][1] - found[i][0]; part < 0.9 && missed > 100 {
					where := doubtAt(p, m)
					if where == "" {
						unlisted += missed
					}
					t.Logf("row %d, %s, %.2f m long, at (%.3f, %.3f): %.0f %% found; doubt: %s", m.row, m.kind, m.length()/1000, m.a[0]/unit, m.a[1]/unit, 100*part, where)
				}
			}
			for i := range got {
				if part := right[i][0] / max(right[i][1], 1); part < 0.5 && right[i][1] > 0 {
					w := &p.Walls[i]
					t.Logf("found and not marked: wall %d, %.1f x %.1f mm at (%.3f, %.3f), %s", i, float64(len(got[i].xy))*got[i].step, got[i].t, w.Axis[0].X.MM()/unit, w.Axis[0].Y.MM()/unit, w.Kind)
				}
			}
			t.Logf("recall %.4f precision %.4f, %.0f mm neither found nor doubted", recall, precision, unlisted)
			if recall < c.recall || precision < c.precision {
				t.Errorf("recall %.4f, want %.2f; precision %.4f, want %.2f", recall, c.recall, precision, c.precision)
			}
			if unlisted > c.unlisted {
				t.Errorf("%.0f mm of wall are neither found nor doubted", unlisted)
			}
		})
	}
}

// solid is a wall as found, less its plain openings: whether two walls with a
// plain gap between them are one is a matter of taste.
func solid(p *plan.Plan, i int) band {
	w := bandOf(p.Walls[i])
	var holes [][2]float64
	for _, o := range p.Openings {
		if o.Wall == i && o.Kind == plan.Wrapped {
			holes = append(holes, [2]float64{(o.At - o.Width/2).MM(), (o.At + o.Width/2).MM()})
		}
	}
	out := band{t: w.t, step: w.step}
	for k := range w.xy {
		u := (float64(k) + 0.5) * w.step
		if !slices.ContainsFunc(holes, func(h [2]float64) bool { return u > h[0] && u < h[1] }) {
			out.xy, out.dir = append(out.xy, w.xy[k]), append(out.dir, w.dir[k])
		}
	}
	return out
}

// inObstacles adds to what was found of blocks of masonry what lies in an
// obstacle, where walls stop and nothing is boarded, and returns the share found
// of all.
func inObstacles(p *plan.Plan, kept []marked, found [][2]float64) float64 {
	var sum, all float64
	for i := range kept {
		m, in := &kept[i], 0.0
		for _, q := range m.band.xy {
			for _, o := range p.Obstacles {
				if b := o.Outline.Bounds(); q[0] > b.Min.X.MM() && q[0] < b.Max.X.MM() && q[1] > b.Min.Y.MM() && q[1] < b.Max.Y.MM() {
					in += m.band.step
					break
				}
			}
		}
		if m.kind == "masonry" {
			found[i][0] = min(found[i][1], found[i][0]+in)
		}
		sum, all = sum+found[i][0], all+found[i][1]
	}
	return sum / all
}

// doubtAt is the code of an exception that lies in a marked wall; "" if none.
func doubtAt(p *plan.Plan, m *marked) string {
	for _, e := range p.Exceptions {
		if e.At == nil || e.Severity == plan.Note {
			continue
		}
		switch e.Code {
		case trace.CodeUnread, trace.CodeGap, trace.CodeOutline, trace.CodePier, trace.CodeOpening, trace.CodeHomeless, trace.CodeInside:
		default:
			continue
		}
		for _, q := range m.band.xy {
			if math.Hypot(e.At.X.MM()-q[0], e.At.Y.MM()-q[1]) < m.band.t/2+60 {
				return fmt.Sprintf("%s %.1f", e.Code, e.Span.MM())
			}
		}
	}
	return ""
}
