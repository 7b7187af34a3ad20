package importers

import (
	"fmt"
	"slices"
	"strings"

	"boardrun/importers/dxf"
	"boardrun/importers/ifc"
	"boardrun/importers/trace"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Read reads one drawing as the job says. thicknesses are the finished
// thicknesses of the job's wall types: walls of these are looked for first.
func Read(d job.Drawing, thicknesses []measure.Length) (*plan.Plan, error) {
	f, err := open(d.Path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if f.format == IFC {
		p, err := ifc.Read(d.File, f, f.size, ifc.Options{})
		if err != nil {
			return nil, err
		}
		return p, nil
	}
	unit, err := unitMM(d)
	if err != nil {
		return nil, err
	}
	lines, exceptions, err := dxf.Read(d.File, f, dxf.Options{UnitMM: unit, IncludeHidden: d.ShowHidden})
	if err != nil {
		return nil, err
	}
	settled, more := dxf.Settle(lines, unit)
	if d.Unit == "" && d.Scale > 0 {
		dxf.Rescale(lines, lines.UnitMM*d.Scale)
	}
	exceptions = append(exceptions, more...)
	m := mapping(d)
	switch {
	case len(m.Layers) == 0:
		m = trace.Propose(lines)
	case onlyWalls(m):
		m = trace.Complete(lines, m)
	}
	p := trace.Trace(lines, m, options(d, thicknesses))
	p.Exceptions = append(exceptions, p.Exceptions...)
	p.Drawings = []plan.Drawing{{File: d.File, Format: "DXF", Version: lines.Version, Storey: d.Storey, Unit: settled}}
	for i := range p.Linework {
		p.Linework[i].Drawing, p.Linework[i].Storey = d.File, d.Storey
	}
	return p, nil
}

// unitMM is the job's word on the unit, with its scale: 0 where it gives none.
func unitMM(d job.Drawing) (float64, error) {
	if d.Unit == "" {
		return 0, nil
	}
	u, ok := UnitByName(d.Unit)
	if !ok {
		return 0, fmt.Errorf("%s: unit %q is not known; say inch, foot, mm, cm or m", d.File, d.Unit)
	}
	if d.Scale > 0 {
		u *= d.Scale
	}
	return u, nil
}

// UnitByName returns the millimetres of a unit as people name it.
func UnitByName(name string) (float64, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	switch name {
	case "in", "inches":
		name = "inch"
	case "ft", "feet":
		name = "foot"
	case "millimetre", "millimetres", "millimeter", "millimeters":
		name = "mm"
	case "centimetre", "centimetres", "centimeter", "centimeters":
		name = "cm"
	case "metre", "metres", "meter", "meters":
		name = "m"
	}
	for code := 1; code <= 24; code++ {
		if u := dxf.UnitOf(code); u.Name == name && u.MM > 0 {
			return u.MM, true
		}
	}
	return 0, false
}

// mapping turns the job's roles into the tracer's.
func mapping(d job.Drawing) trace.Mapping {
	var m trace.Mapping
	for _, l := range d.Layers {
		use := trace.LayerUse{Pattern: l.Pattern, Role: roleOf(l.Role), Type: l.Type, Thickness: l.Thickness}
		if l.Drawn != nil {
			use.Drawn = [...]trace.Drawn{trace.DrawnFinish, trace.DrawnStud, trace.DrawnCentre}[*l.Drawn]
		}
		switch l.Status {
		case "new":
			s := plan.New
			use.Status = &s
		case "existing":
			s := plan.Existing
			use.Status = &s
		case "demolish":
			s := plan.Demolish
			use.Status = &s
		}
		m.Layers = append(m.Layers, use)
	}
	for _, b := range d.Blocks {
		use := trace.BlockUse{Pattern: b.Pattern, Role: trace.Doors, Kind: plan.Door, Type: b.Type}
		switch b.Role {
		case "window":
			use.Role, use.Kind = trace.Windows, plan.Window
		case "framed":
			use.Kind = plan.Framed
		case "wrapped":
			use.Kind = plan.Wrapped
		case "ignore":
			use.Role = trace.Ignore
		}
		m.Blocks = append(m.Blocks, use)
	}
	return m
}

// onlyWalls reports whether the job maps nothing but its walls: then doors,
// windows, rooms and tags are looked for by name.
func onlyWalls(m trace.Mapping) bool {
	for _, l := range m.Layers {
		if l.Role != trace.Walls && l.Role != trace.Ignore {
			return false
		}
	}
	return true
}

func roleOf(word string) trace.Role {
	for _, r := range trace.Roles() {
		if r.String() == word {
			return r
		}
	}
	return trace.Background
}

func options(d job.Drawing, thicknesses []measure.Length) trace.Options {
	o := trace.Options{Storey: d.Storey, Region: d.Region, Thicknesses: thicknesses, Hidden: d.ShowHidden, Views: len(d.Region) == 0}
	switch d.Drawn {
	case job.DrawnFinish:
		o.Drawn = trace.DrawnAuto
	case job.DrawnStud:
		o.Drawn = trace.DrawnStud
	case job.DrawnCentre:
		o.Drawn = trace.DrawnCentre
	}
	return o
}

// Join puts the plans of a job's drawings into one, in the job's order.
func Join(plans []*plan.Plan) *plan.Plan {
	out := &plan.Plan{}
	for _, p := range plans {
		base := len(out.Walls)
		for _, o := range p.Openings {
			o.Wall += base
			out.Openings = append(out.Openings, o)
		}
		out.Drawings = append(out.Drawings, p.Drawings...)
		out.Storeys = append(out.Storeys, p.Storeys...)
		for _, w := range p.Walls {
			w.Joined = slices.Clone(w.Joined)
			for i := range w.Joined {
				w.Joined[i] += base
			}
			out.Walls = append(out.Walls, w)
		}
		out.Decks = append(out.Decks, p.Decks...)
		out.Ceilings = append(out.Ceilings, p.Ceilings...)
		out.Obstacles = append(out.Obstacles, p.Obstacles...)
		out.Rooms = append(out.Rooms, p.Rooms...)
		out.Texts = append(out.Texts, p.Texts...)
		out.Linework = append(out.Linework, p.Linework...)
		out.Ledger = append(out.Ledger, p.Ledger...)
		out.Exceptions = append(out.Exceptions, p.Exceptions...)
	}
	return out
}
