package importers

import (
	"fmt"
	"math"

	"boardrun/importers/dxf"
	"boardrun/importers/ifc"
	"boardrun/importers/trace"
	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// Survey is what a drawing holds and what would be read from it: the answer of
// `boardrun survey`. Lengths in mm, areas in m², unrounded.
type Survey struct {
	Schema     int            `json:"schema"`
	File       string         `json:"file"`
	Format     string         `json:"format"`
	Version    string         `json:"version"`
	Unit       Unit           `json:"unit"`
	Storeys    []Storey       `json:"storeys"`
	Layers     []Layer        `json:"layers"`
	Blocks     []Block        `json:"blocks"`
	Counts     Counts         `json:"counts"`
	Walls      []Wall         `json:"walls"`
	Openings   []Opening      `json:"openings"`
	Decks      []Deck         `json:"decks"`
	Exceptions []SurveyRemark `json:"exceptions"`
	Ledger     []SurveyLedger `json:"ledger"`

	Revision *Revision `json:"against,omitempty"`

	Plan    *plan.Plan    `json:"-"`
	Mapping trace.Mapping `json:"-"`
	// Single are the layers whose walls are single lines of no stated thickness,
	// with the thickness assumed for them.
	Single map[string]geom.Length `json:"-"`
}

// CodeThickness is the exception of walls drawn as single lines that say no
// thickness, told once for each layer.
const CodeThickness = trace.CodeThickness

// SingleLine notes the thickness assumed for the single lines of a layer.
func (s *Survey) SingleLine(layer string, thickness geom.Length) {
	if s.Single == nil {
		s.Single = map[string]geom.Length{}
	}
	s.Single[layer] = thickness
}

// Unit is the length unit: what the header says, what was used, and why.
type Unit struct {
	Header   string   `json:"header"`
	Used     string   `json:"used"`
	Evidence []string `json:"evidence"`
	Assumed  bool     `json:"assumed"`
}

// Storey is one level.
type Storey struct {
	Name      string  `json:"name"`
	Elevation float64 `json:"elevation_mm"`
}

// Layer is one layer with what stands on it and what it would be read as.
type Layer struct {
	Name     string  `json:"name"`
	Entities int     `json:"entities"`
	LengthMM float64 `json:"length_mm"`
	Role     string  `json:"role"`
	Why      string  `json:"why"`
	Share    float64 `json:"share"` // of its length that pairs up as walls
	Hidden   bool    `json:"hidden"`
}

// Block is one block with how often it is placed.
type Block struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	Role  string `json:"role"`
}

// Counts are how many of each were found.
type Counts struct {
	Walls    int `json:"walls"`
	Openings int `json:"openings"`
	Doors    int `json:"doors"`
	Windows  int `json:"windows"`
	Storeys  int `json:"storeys"`
}

// Wall is one wall as found. Areas are of one side, as IFC's base quantities
// define them; left and right are net, each face by itself.
type Wall struct {
	Ref       string       `json:"ref"`
	GUID      string       `json:"guid"`
	Layer     string       `json:"layer"`
	Storey    string       `json:"storey"`
	Type      string       `json:"type"`
	Kind      string       `json:"kind"`
	Status    string       `json:"status"`
	Axis      [][2]float64 `json:"axis_mm"`
	Length    float64      `json:"length_mm"`
	Thickness float64      `json:"thickness_mm"`
	Height    *float64     `json:"height_mm"`
	Gross     *float64     `json:"gross_area_m2"`
	Net       *float64     `json:"net_area_m2"`
	Left      *float64     `json:"left_area_m2"`
	Right     *float64     `json:"right_area_m2"`
	Volume    *float64     `json:"volume_m3"`
	Doubt     string       `json:"doubt"`
}

// Opening is one opening as found; Wall is the ref of its wall.
type Opening struct {
	Ref    string  `json:"ref"`
	GUID   string  `json:"guid"`
	Wall   string  `json:"wall"`
	Kind   string  `json:"kind"`
	Mark   string  `json:"mark"`
	At     float64 `json:"at_mm"` // centre, along the wall's axis
	Width  float64 `json:"width_mm"`
	Sill   float64 `json:"sill_mm"`
	Head   float64 `json:"head_mm"` // 0: the drawing does not tell
	Basis  string  `json:"basis"`
	HeadBy string  `json:"head_by"`
}

// Deck is the underside of structure that the drawing tells.
type Deck struct {
	Ref    string       `json:"ref"`
	Storey string       `json:"storey"`
	Points [][3]float64 `json:"points_mm"`
}

// SurveyRemark is one exception.
type SurveyRemark struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Line     string `json:"line"`
}

// SurveyLedger is the account of the entities.
type SurveyLedger struct {
	Drawing        string         `json:"drawing"`
	Read           int            `json:"read"`
	Used           int            `json:"used"`
	Ignored        map[string]int `json:"ignored"`
	WallLineMM     float64        `json:"wall_line_mm"`
	WallLineUsedMM float64        `json:"wall_line_used_mm"`
}

// Look surveys a drawing. unit overrides its header; "" leaves it to the header
// and the evidence.
func Look(path, unit string) (*Survey, error) {
	f, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if f.format == IFC {
		p, q, err := ifc.ReadQuantities(f.name, f, f.size, ifc.Options{})
		if err != nil {
			return nil, err
		}
		return surveyOf(path, p, q), nil
	}
	lines, exceptions, err := dxf.Read(f.name, f, dxf.Options{})
	if err != nil {
		return nil, err
	}
	word := 0.0
	if unit != "" {
		mm, ok := UnitByName(unit)
		if !ok {
			return nil, fmt.Errorf("unit %q is not known; say inch, foot, mm, cm or m", unit)
		}
		word = mm
	}
	u, more := dxf.Settle(lines, word)
	m := trace.Propose(lines)
	p := trace.Trace(lines, m, trace.Options{Storey: "1", Views: true})
	p.Exceptions = append(append(exceptions, more...), p.Exceptions...)
	s := surveyOf(path, p, nil)
	s.Unit = Unit{Header: u.Header, Used: u.Used, Evidence: u.Evidence, Assumed: u.Assumed}
	s.Mapping = m
	s.Format, s.Version = string(DXF), lines.Version
	s.layers(lines, m)
	return s, nil
}

func surveyOf(path string, p *plan.Plan, q []ifc.Quantities) *Survey {
	s := &Survey{Schema: 1, File: path, Plan: p, Storeys: []Storey{}, Layers: []Layer{}, Blocks: []Block{}, Walls: []Wall{}, Openings: []Opening{}, Decks: []Deck{},
		Exceptions: []SurveyRemark{}, Ledger: []SurveyLedger{}}
	for _, d := range p.Drawings {
		s.Format, s.Version = d.Format, d.Version
		s.Unit = Unit{Header: d.Unit.Header, Used: d.Unit.Used, Evidence: d.Unit.Evidence, Assumed: d.Unit.Assumed}
	}
	for _, t := range p.Storeys {
		s.Storeys = append(s.Storeys, Storey{t.Name, t.Elevation.MM()})
	}
	for i := range p.Walls {
		w := surveyWall(&p.Walls[i])
		if i < len(q) {
			fill(&w, q[i])
		}
		s.Walls = append(s.Walls, w)
	}
	for i := range p.Openings {
		o := &p.Openings[i]
		out := Opening{Kind: o.Kind.String(), Mark: o.Mark, At: o.At.MM(), Width: o.Width.MM(), Sill: o.Sill.MM(), Head: o.Head.MM(), Basis: o.Basis, HeadBy: o.HeadBy}
		if len(o.Sources) > 0 {
			out.Ref, out.GUID = o.Sources[0].Ref, o.Sources[0].GUID
		}
		if o.Wall >= 0 && o.Wall < len(s.Walls) {
			out.Wall = s.Walls[o.Wall].Ref
		}
		s.Openings = append(s.Openings, out)
		switch o.Kind {
		case plan.Door:
			s.Counts.Doors++
		case plan.Window:
			s.Counts.Windows++
		}
	}
	for i := range p.Decks {
		d := Deck{Storey: p.Decks[i].Storey}
		for _, a := range p.Decks[i].Plane {
			d.Points = append(d.Points, [3]float64{a.X.MM(), a.Y.MM(), a.Z.MM()})
		}
		if len(p.Decks[i].Sources) > 0 {
			d.Ref = p.Decks[i].Sources[0].Ref
		}
		s.Decks = append(s.Decks, d)
	}
	for _, e := range p.Exceptions {
		s.Exceptions = append(s.Exceptions, SurveyRemark{e.Severity.String(), e.Code, e.String()})
	}
	for _, l := range p.Ledger {
		out := SurveyLedger{Drawing: l.Drawing, Read: l.Read, Used: l.Used, Ignored: map[string]int{}, WallLineMM: l.WallLineMM, WallLineUsedMM: l.WallLineUsedMM}
		for _, r := range l.Ignored {
			out.Ignored[r.Reason] = r.Count
		}
		s.Ledger = append(s.Ledger, out)
	}
	s.Counts.Walls, s.Counts.Openings, s.Counts.Storeys = countWalls(p), len(s.Openings), len(s.Storeys)
	return s
}

// countWalls counts the walls that the drawing draws. A model's wall that runs
// round corners is one, however many legs it was read in; a curtain wall is no
// wall of its own.
func countWalls(p *plan.Plan) int {
	n := 0
	seen := map[string]bool{}
	for i := range p.Walls {
		w := &p.Walls[i]
		if w.Kind == plan.Curtain {
			continue
		}
		if len(w.Sources) > 0 && w.Sources[0].GUID != "" {
			guid := w.Sources[0].GUID
			if seen[guid] {
				continue
			}
			seen[guid] = true
		}
		n++
	}
	return n
}

func surveyWall(w *plan.Wall) Wall {
	out := Wall{Layer: w.Layer, Storey: w.Storey, Type: w.TypeName, Kind: w.Kind.String(), Status: w.Status.String(), Thickness: w.Thickness.MM(), Doubt: w.Doubt}
	if out.Type == "" {
		out.Type = w.Tag
	}
	if len(w.Sources) > 0 {
		out.Ref, out.GUID = w.Sources[0].Ref, w.Sources[0].GUID
	}
	for _, a := range w.Axis {
		out.Axis = append(out.Axis, [2]float64{a.X.MM(), a.Y.MM()})
	}
	out.Length = AxisLength(w)
	if w.Height > 0 {
		h := w.Height.MM()
		out.Height = &h
	}
	return out
}

// AxisLength is the length of a wall's axis in mm.
func AxisLength(w *plan.Wall) float64 {
	if w.Arc != nil {
		return math.Abs(w.Arc.Sweep) * math.Pi / 180 * w.Arc.Radius.MM()
	}
	d := w.Axis[1].Sub(w.Axis[0])
	return math.Hypot(d.X.MM(), d.Y.MM())
}

// fill takes a model's exact quantities.
func fill(w *Wall, q ifc.Quantities) {
	p := func(v float64) *float64 { return &v }
	w.Length, w.Thickness, w.Height = q.LengthMM, q.ThicknessMM, p(q.HeightMM)
	w.Gross, w.Net, w.Left, w.Right, w.Volume = p(q.GrossAreaM2), p(q.NetAreaM2), p(q.LeftAreaM2), p(q.RightAreaM2), p(q.VolumeM3)
}
