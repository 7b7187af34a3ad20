package report

import (
	"math"
	"sort"
	"strings"

	"boardrun/internal/measure"
)

// paper turns the contract's numbers into what people read, in the job's
// system of units.
type paper struct {
	t   *Takeoff
	sys measure.System
	run map[string]*Run
	fac map[string]*Face

	// By wall, gathered once.
	sides        map[string][]*Face
	openings     map[string]int
	seen, hidden map[string]float64 // joints of the outermost layer, mm
}

func newPaper(t *Takeoff) *paper {
	p := &paper{t: t, run: map[string]*Run{}, fac: map[string]*Face{}}
	if t.Job.System == measure.Metric.String() {
		p.sys = measure.Metric
	}
	for i := range t.Runs {
		p.run[t.Runs[i].ID] = &t.Runs[i]
	}
	for i := range t.Faces {
		p.fac[t.Faces[i].ID] = &t.Faces[i]
	}
	p.byWall()
	return p
}

// byWall gathers what stands on each wall.
func (p *paper) byWall() {
	p.sides, p.openings = map[string][]*Face{}, map[string]int{}
	p.seen, p.hidden = map[string]float64{}, map[string]float64{}
	for i := range p.t.Faces {
		f := &p.t.Faces[i]
		p.sides[f.Run] = append(p.sides[f.Run], f)
	}
	for i := range p.t.Openings {
		p.openings[p.t.Openings[i].Run]++
	}
	for i := range p.t.Joints {
		q := &p.t.Joints[i]
		f := p.fac[q.Face]
		if f == nil || q.Ply != len(f.Plies) {
			continue
		}
		l := math.Hypot(float64(q.ToUV[0]-q.FromUV[0]), float64(q.ToUV[1]-q.FromUV[1]))
		if q.Exposed {
			p.seen[f.Run] += l
		} else {
			p.hidden[f.Run] += l
		}
	}
}

// Length converts back to the exact grid.
func (v MM) Length() measure.Length { return measure.FromMM(float64(v)) }

func (p *paper) cut(v MM) Cell  { return T(measure.Cut(v.Length(), p.sys)) }
func (p *paper) wall(v MM) Cell { return T(measure.Wall(v.Length(), p.sys)) }
func (p *paper) size(w, l MM) string {
	return measure.SheetName(w.Length(), l.Length(), p.sys)
}

// run is a length for an order or a sum: lf or m, as a number.
func (p *paper) lf(mm float64) float64 {
	if p.sys == measure.Metric {
		return mm / 1000
	}
	return mm / 304.8
}

// sf is an area for an order or a sum: sf or m².
func (p *paper) sf(m2 float64) float64 {
	if p.sys == measure.Metric {
		return m2
	}
	return m2 / (0.3048 * 0.3048)
}

func (p *paper) mass(kg float64) float64 {
	if p.sys == measure.Metric {
		return kg
	}
	return kg / measure.KgPerPound
}

func (p *paper) lfName() string { return pick(p.sys, "lf", "m") }
func (p *paper) sfName() string { return pick(p.sys, "sf", "m²") }
func (p *paper) lbName() string { return pick(p.sys, "lb", "kg") }
func (p *paper) inName() string { return pick(p.sys, "in", "mm") }

func pick(sys measure.System, inch, metric string) string {
	if sys == measure.Metric {
		return metric
	}
	return inch
}

// height returns the least, mean and greatest height of a face's board in mm,
// mean by area.
func height(f *Face) (lo, mean, hi float64) {
	o := f.OutlineUV
	if len(o) < 3 || f.LengthMM <= 0 {
		return 0, 0, 0
	}
	bottom := float64(o[0][1])
	lo = math.Inf(1)
	for _, q := range o[2:] {
		lo, hi = math.Min(lo, float64(q[1])-bottom), math.Max(hi, float64(q[1])-bottom)
	}
	return lo, float64(f.GrossM2) * 1e6 / float64(f.LengthMM), hi
}

// count is a multiset that can be listed in order.
type count map[string]int

func (c count) sorted() []string {
	ks := make([]string, 0, len(c))
	for k := range c {
		ks = append(ks, k)
	}
	sort.Strings(ks)
	return ks
}

func join(ss []string) string { return strings.Join(ss, ", ") }

// several shortens a list of marks for a cell.
func several(ss []string, most int) string {
	if len(ss) <= most {
		return join(ss)
	}
	return join(ss[:most]) + " and " + strconvI(len(ss)-most) + " more"
}
