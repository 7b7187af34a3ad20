package trace_test

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// scribble makes a drawing of bytes: lines, arcs, blocks, fills and writing on
// a few layers, with coordinates that often coincide.
func scribble(b []byte) *linework.Drawing {
	s := newSheet()
	layers := []string{"A-WALL", "A-WALL-FULL", "A-DOOR", "A-GLAZ", "S-COLS", "A-WALL-CNTR-100", "A-AREA-IDEN", "A-WALL-PATT", "0"}
	next := func() int {
		if len(b) < 2 {
			return 0
		}
		v := int(binary.LittleEndian.Uint16(b))
		b = b[2:]
		return v
	}
	point := func() orb.Point {
		p := orb.Point{float64(next()%64) * 62.5, float64(next()%64) * 62.5}
		if k := next(); k%61 == 0 {
			p[0] = []float64{math.NaN(), math.Inf(1), 1e13, -1e300, 0.1}[k/61%5]
		}
		return p
	}
	for len(b) > 8 {
		k := next()
		layer := layers[k/8%len(layers)]
		switch k % 8 {
		case 0, 1, 2, 3:
			s.line(layer, point(), point())
		case 4:
			a := linework.Arc{Common: s.common(layer, "ARC"), Centre: point(), Radius: float64(next()%40) * 50, Start: float64(next() % 360)}
			a.End = a.Start + float64(next()%360)
			s.d.Arcs = append(s.d.Arcs, a)
		case 5:
			p := point()
			s.d.Inserts = append(s.d.Inserts, linework.Insert{Common: s.common(layer, "INSERT"), Name: "DOOR", At: p, Parent: -1 + next()%2,
				Box: [4]orb.Point{p, point(), point(), point()}, Attribs: map[string]string{"MARK": "D", "WIDTH": "900"}})
		case 6:
			s.d.Fills = append(s.d.Fills, linework.Fill{Common: s.common(layer, "HATCH"), Rings: []orb.Ring{{point(), point(), point(), point()}}})
		case 7:
			s.d.Texts = append(s.d.Texts, linework.Text{Common: s.common(layer, "TEXT"), At: point(), Height: 100, Value: "ROOM 10\n3068"})
		}
	}
	for i := range s.d.Inserts {
		if s.d.Inserts[i].Parent >= i {
			s.d.Inserts[i].Parent = -1
		}
	}
	return &s.d
}

// sane checks what later stages rely on, whatever was drawn.
func sane(t *testing.T, p *plan.Plan) {
	t.Helper()
	for _, l := range p.Ledger {
		if !l.Balanced() || l.WallLineUsedMM > l.WallLineMM*1.0001+1 {
			t.Errorf("ledger: %+v", l)
		}
	}
	for i, w := range p.Walls {
		if w.Thickness <= 0 || w.Axis[0] == w.Axis[1] && w.Arc == nil {
			t.Errorf("wall %d has no body: %+v", i, w)
		}
		if len(w.Sources) == 0 {
			t.Errorf("wall %d names no source", i)
		}
	}
	for i, o := range p.Openings {
		if o.Wall < 0 || o.Wall >= len(p.Walls) {
			t.Fatalf("opening %d is in wall %d of %d", i, o.Wall, len(p.Walls))
		}
		if l := wallLength(p.Walls[o.Wall]); o.Width <= 0 || o.At.MM()-o.Width.MM()/2 < -1 || o.At.MM()+o.Width.MM()/2 > l+1 {
			t.Errorf("opening %d at %.1f wide %.1f leaves its wall of %.1f mm", i, o.At.MM(), o.Width.MM(), l)
		}
	}
	for i, r := range p.Rooms {
		if _, a := perimeterMM(r.Outline); len(r.Outline) < 3 || a <= 0 {
			t.Errorf("room %d has no area", i)
		}
	}
	for _, e := range p.Exceptions {
		if e.Code == "" || e.Message == "" || e.Did == "" || e.At == nil {
			t.Errorf("exception says too little: %+v", e)
		}
	}
}

func FuzzTrace(f *testing.F) {
	f.Add([]byte("walls and doors and what else a drawing holds, over and over again"))
	f.Add(make([]byte, 64))
	seed := make([]byte, 0, 2000)
	for i := 0; i < 1000; i++ {
		seed = binary.LittleEndian.AppendUint16(seed, uint16(i*i*7919+i))
	}
	f.Add(seed)
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 6000 {
			b = b[:6000]
		}
		d := scribble(b)
		sane(t, trace.Trace(d, trace.Propose(d), trace.Options{Views: true}))
	})
}

func TestTrace_nothing(t *testing.T) {
	for _, d := range []*linework.Drawing{{}, {UnitMM: 1, Segments: []linework.Segment{{Common: linework.Common{Layer: "A-WALL", Insert: -1}}}}} {
		sane(t, trace.Trace(d, trace.Propose(d), trace.Options{}))
		trace.Views(d, trace.Propose(d))
	}
}

// Deleting any one entity on a mapped layer changes the ledger.
// Oracle: the count itself.
func TestTrace_ledgerNotices(t *testing.T) {
	s := newSheet()
	ws := hall()
	s.lines("A-WALL", outline(solids(ws, 0)))
	s.openings(ws, "A-DOOR", "A-GLAZ")
	m := trace.Propose(&s.d)
	all := trace.Trace(&s.d, m, trace.Options{}).Ledger[0]
	for i := range s.d.Segments {
		d := s.d
		d.Segments = slices.Delete(slices.Clone(s.d.Segments), i, i+1)
		l := trace.Trace(&d, m, trace.Options{}).Ledger[0]
		if l.Read != all.Read-1 || !l.Balanced() {
			t.Fatalf("without segment %d the ledger reads %d of %d", i, l.Read, all.Read)
		}
		if s.d.Segments[i].Layer == "A-WALL" && l.WallLineMM >= all.WallLineMM {
			t.Fatalf("without segment %d as much wall line", i)
		}
	}
}

// A region reads its part of the sheet only; the rest is accounted for.
// Oracle: the hall's own walls west of x = 9.5 m.
func TestTrace_region(t *testing.T) {
	s := newSheet()
	ws := hall()
	s.lines("A-WALL", outline(solids(ws, 0)))
	for _, w := range ws { // the same again, 40 m to the east: another storey on the sheet
		w.x0, w.x1 = w.x0+40000, w.x1+40000
		b := w.box(0, w.length(), w.t)
		s.line("A-WALL", orb.Point{b[0], b[1]}, orb.Point{b[2], b[1]})
	}
	mmPt := func(x, y float64) geom.Pt { return geom.Pt{X: measure.FromMM(x), Y: measure.FromMM(y)} }
	opt := trace.Options{Region: geom.Poly{mmPt(-1000, -1000), mmPt(21000, -1000), mmPt(21000, 13000), mmPt(-1000, 13000)}}
	p := trace.Trace(&s.d, trace.Propose(&s.d), opt)
	if len(p.Walls) != len(ws) {
		t.Errorf("%d walls, want %d", len(p.Walls), len(ws))
	}
	sane(t, p)
	found := false
	for _, r := range p.Ledger[0].Ignored {
		found = found || r.Count == len(ws)
	}
	if !found {
		t.Errorf("the %d lines outside are not accounted for: %+v", len(ws), p.Ledger[0].Ignored)
	}
}

// What a layer's name says of its walls, and what the job says against it.
func TestTrace_status(t *testing.T) {
	existing := plan.Existing
	tests := []struct {
		name, layer string
		use         trace.LayerUse
		status      plan.Status
		kind        plan.WallKind
	}{
		{"plain", "A-WALL", trace.LayerUse{}, plan.New, plan.Partition},
		{"status letter E", "A-WALL-FULL-E", trace.LayerUse{}, plan.Existing, plan.Partition},
		{"status letter D", "A-WALL-D", trace.LayerUse{}, plan.Demolish, plan.Partition},
		{"campus words", "a-wall-exst", trace.LayerUse{}, plan.Existing, plan.Partition},
		{"demo", "A-WALL-DEMO", trace.LayerUse{}, plan.Demolish, plan.Partition},
		{"bound reference", "Plan$0$A-WALL-EXST", trace.LayerUse{}, plan.Existing, plan.Partition},
		{"German", "WAND-BESTAND", trace.LayerUse{}, plan.Existing, plan.Partition},
		{"low", "wall low", trace.LayerUse{}, plan.New, plan.Low},
		{"glazed", "A-WALL-GLAZ", trace.LayerUse{}, plan.New, plan.Glazed},
		{"masonry", "A-WALL-CONC", trace.LayerUse{}, plan.New, plan.Masonry},
		{"the job's word holds", "A-WALL", trace.LayerUse{Status: &existing, Type: "P1"}, plan.Existing, plan.Partition},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := newSheet()
			for _, y := range []float64{0, 120} {
				s.line(tt.layer, orb.Point{0, y}, orb.Point{4000, y})
			}
			use := tt.use
			use.Pattern, use.Role = tt.layer, trace.Walls
			p := trace.Trace(&s.d, trace.Mapping{Layers: []trace.LayerUse{use}}, trace.Options{})
			if len(p.Walls) != 1 {
				t.Fatalf("%d walls", len(p.Walls))
			}
			w := p.Walls[0]
			if told := codes(p)[trace.CodeKind] == 1; told != (tt.kind != plan.Partition) {
				t.Errorf("told of the kind: %v", told)
			}
			if w.Status != tt.status || w.Kind != tt.kind || w.Tag != tt.use.Type {
				t.Errorf("got %s %s %q", w.Status, w.Kind, w.Tag)
			}
		})
	}
}
