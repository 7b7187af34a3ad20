package run

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Build turns the walls of a plan into runs and faces under a job's types,
// decks, ceilings and frames. Marks are given in space order; BuildFrom keeps
// those of an earlier takeoff.
//
// What could not be used, was repaired or assumed is listed in Set.Exceptions;
// an error means that nothing can be taken off at all: no wall of the plan has
// a type.
func Build(p *plan.Plan, j *job.Job) (*Set, error) { return BuildFrom(p, j, nil) }

// BuildFrom is Build with the runs of an earlier takeoff, whose marks it keeps.
func BuildFrom(p *plan.Plan, j *job.Job, old []OldRun) (*Set, error) {
	bld := &builder{p: p, j: j, set: &Set{}, over: overhead{p, j, map[string]*cover{}}}
	bld.checkDecks()
	bld.solve()
	if len(bld.runs()) == 0 {
		return nil, bld.nothing()
	}
	bld.mark(old)
	bld.overlaps()
	bld.edit()
	bld.findRooms()
	for _, b := range bld.runs() {
		bld.board(b)
		if len(b.run.Faces) == 0 {
			bld.note(plan.Warning, "wall-covered", b.run.ID, b.pointAt(b.length/2, 0), "other walls cover all of it", "listed without board; check the drawing")
		}
	}
	for _, b := range bld.runs() {
		bld.lap(b)
	}
	bld.junctions()
	bld.finish()
	for i := range bld.set.Rooms { // told last: a side along several rooms asks for those that have one of their own
		r := &bld.set.Rooms[i]
		r.Ceiling = bld.ceilingOver(r.Storey, []int{i}, r.At)
	}
	return bld.set, nil
}

// builder carries one Build through its stages.
type builder struct {
	p     *plan.Plan
	j     *job.Job
	set   *Set
	over  overhead
	bands []*band
	nodes []*node
	once  map[string]bool // exceptions told once
	// openings by the wall they are in
	hosted map[int][]int
	// face lengths that the measuring step changed, and by how much in all
	rounded   int
	roundedBy Length
}

// solve types the walls, joins them and solves their junctions.
func (bld *builder) solve() {
	verdicts := make([]verdict, len(bld.p.Walls))
	for i := range bld.p.Walls {
		w := &bld.p.Walls[i]
		v := judge(w, bld.j)
		if reason := unbuildable(w); reason != "" {
			v = verdict{code: "wall-out-of-range", reason: reason}
		}
		verdicts[i] = v
		if v.code != "" {
			bld.leave(i, v)
		}
	}
	bld.bands = bandsOf(bld.p, bld.j, verdicts)
	bld.nodes = buildNodes(bld.bands, findMeetings(bld.bands))
	bld.meetObstacles()
	for _, b := range bld.bands {
		b.toNode()
		b.layEdges()
	}
	closeOver(bld.bands)
	for i := range bld.p.Openings {
		if o := &bld.p.Openings[i]; o.Wall < 0 || o.Wall >= len(bld.p.Walls) {
			bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
				Severity: plan.Person, Code: "opening-no-wall", Source: firstSource(o.Sources),
				Message: "no wall holds this " + o.Kind.String(), Did: "left out"})
		}
	}
}

// unbuildable says why no wall can be as drawn, "" if it can.
func unbuildable(w *plan.Wall) string {
	const limit = 100_000_000 * measure.Metre // keeps products of differences within 128 bits
	for _, p := range w.Axis {
		if p.X.Abs() > limit || p.Y.Abs() > limit {
			return "further than 100 000 km from the origin"
		}
	}
	if w.Thickness < 0 || w.Thickness > 100*measure.Metre {
		return "of no thickness that can be built"
	}
	length := hypot(w.Axis[1].X-w.Axis[0].X, w.Axis[1].Y-w.Axis[0].Y)
	if a := w.Arc; a != nil {
		if a.Radius < w.Thickness || !(math.Abs(a.Sweep) <= 360) || math.IsInf(a.Start, 0) || math.IsNaN(a.Start) {
			return "its curve is tighter than its own thickness, or no curve"
		}
		length = Length(float64(a.Radius) * math.Abs(a.Sweep) * (math.Pi / 180))
	}
	if length < measure.Millimetre {
		return "shorter than 1 mm"
	}
	return ""
}

// leave lists a wall that no run will stand for.
func (bld *builder) leave(i int, v verdict) {
	w := &bld.p.Walls[i]
	_, l := lineThrough(w.Axis[0], w.Axis[1])
	bld.set.Left = append(bld.set.Left, LeftOut{Wall: i, Code: v.code, Reason: v.reason, Thickness: w.Thickness, Length: l})
	e := plan.Exception{Severity: plan.Note, Code: v.code, Message: v.reason, Did: "left out", Source: firstSource(w.Sources), Span: l}
	mid := geom.Pt{X: w.Axis[0].X/2 + w.Axis[1].X/2, Y: w.Axis[0].Y/2 + w.Axis[1].Y/2}
	e.At = &mid
	switch v.code {
	case "wall-no-type":
		e.Severity, e.Did = plan.Person, "wall left out; add a type or a match for it to the job file"
	case "wall-out-of-range":
		e.Severity = plan.Person
	}
	bld.set.Exceptions = append(bld.set.Exceptions, e)
}

func firstSource(s []plan.Source) plan.Source {
	if len(s) == 0 {
		return plan.Source{}
	}
	return s[0]
}

// nothing says why there is no run at all.
func (bld *builder) nothing() error {
	if len(bld.p.Walls) == 0 {
		return fmt.Errorf("no wall was found in the drawings; see which layers are mapped as walls")
	}
	return fmt.Errorf("none of the %d walls found can be taken off: %s", len(bld.p.Walls), bld.whyLeft())
}

// whyLeft says why walls were left out, the most frequent reason first, and what
// to do about that one.
func (bld *builder) whyLeft() string {
	type group struct {
		reason, code string
		n            int
	}
	var list []group
	for _, l := range bld.set.Left {
		if i := slices.IndexFunc(list, func(g group) bool { return g.reason == l.Reason }); i >= 0 {
			list[i].n++
		} else {
			list = append(list, group{l.Reason, l.Code, 1})
		}
	}
	slices.SortStableFunc(list, func(a, b group) int { return cmp.Compare(b.n, a.n) })
	var told []string
	for i, g := range list {
		if i == 3 {
			told = append(told, fmt.Sprintf("%d more reasons", len(list)-3))
			break
		}
		told = append(told, fmt.Sprintf("%s (%d)", g.reason, g.n))
	}
	remedy := map[string]string{
		"wall-no-type":      "give the job a wall type that matches them",
		"wall-left-out":     "give them a wall type of the job that says how they are lined",
		"wall-existing":     "there is nothing new to board; if they are new, correct their status in the drawing",
		"wall-demolished":   "there is nothing to board; if they stay, correct their status in the drawing",
		"wall-out-of-range": "check the drawing's unit",
	}[list[0].code]
	return strings.Join(told, ", ") + "; " + remedy
}

// runs returns the bands that are taken off.
func (bld *builder) runs() []*band {
	return slices.DeleteFunc(slices.Clone(bld.bands), func(b *band) bool { return b.make == nil })
}

// note lists an exception at a place.
func (bld *builder) note(s plan.Severity, code, target string, at geom.Pt, message, did string) {
	bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
		Severity: s, Code: code, Message: message, Did: did, Target: target, At: &at})
}

// noteOnce lists an exception the first time its key comes up.
func (bld *builder) noteOnce(key string, e plan.Exception) {
	if bld.once == nil {
		bld.once = map[string]bool{}
	}
	if !bld.once[key] {
		bld.once[key] = true
		bld.set.Exceptions = append(bld.set.Exceptions, e)
	}
}

// assume records an input of a run that nobody gave.
func (bld *builder) assume(b *band, what string) {
	if !slices.Contains(b.run.Assumed, what) {
		b.run.Assumed = append(b.run.Assumed, what)
	}
}

// short prints a length for a sentence.
func (bld *builder) short(l Length) string { return measure.Human(l, bld.j.System) }

// edit applies what the job says about single walls, by mark.
func (bld *builder) edit() {
	known := map[string]bool{}
	for _, b := range bld.runs() {
		known[b.run.ID] = true
		e, ok := bld.j.Walls[b.run.ID]
		if !ok {
			continue
		}
		b.flip = e.Flip
		b.height = e.Height
		b.run.HangFrom = e.Start
		if e.Type != "" {
			if t := bld.j.Type(e.Type); t != nil {
				b.make = t
				bld.describe(b)
			}
		}
		if e.Leave != "" {
			for _, i := range b.walls {
				bld.leave(i, verdict{code: "wall-left-out", reason: e.Leave})
			}
			b.make, b.run = nil, nil
		}
	}
	for _, mark := range sortedKeys(bld.j.Walls) {
		if !known[mark] {
			bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
				Severity: plan.Warning, Code: "wall-edit-unknown", Target: mark,
				Source:  plan.Source{File: bld.j.File, Line: bld.j.Walls[mark].Line},
				Message: "the job changes a wall that the takeoff does not have", Did: "ignored; see the marks on the plan"})
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// describe fills in what a run takes from its type.
func (bld *builder) describe(b *band) {
	r, t := b.run, b.make
	r.Type, r.Make = t.Name, t
	r.Thickness, r.Spacing, r.StudDepth, r.Mil = b.thickness, t.Spacing, t.StudDepth, t.Mil
	r.Layout, r.Listing, r.FirstStud = t.Layout, t.Listing, t.FirstStud
	r.Framing = bld.j.Framing
	if t.Framing != nil {
		r.Framing = *t.Framing
	}
	if r.Rating = t.Rating; r.Rating == "" && b.rating != "" {
		r.Rating = b.rating
		bld.assume(b, "rating as the model claims it")
	}
	if d := b.thickness - t.Thickness(bld.j.Board); d.Abs() > thicknessTol {
		bld.noteOnce("thickness-differs "+t.Name, plan.Exception{
			Severity: plan.Warning, Code: "thickness-differs", Target: r.ID, Source: firstSource(r.Sources),
			Message: fmt.Sprintf("drawn %s thick, type %s is %s", bld.short(b.thickness), t.Name, bld.short(t.Thickness(bld.j.Board))),
			Did:     "faces lie where they are drawn; check the type"})
	}
}

// round counts what the measuring step does to face lengths.
func (bld *builder) round(exact, rounded Length) {
	if exact != rounded {
		bld.rounded++
		bld.roundedBy += (rounded - exact).Abs()
	}
}

// overlaps lists bands that lie on one another along more than a junction: the
// same wall drawn twice, in two types.
func (bld *builder) overlaps() {
	for _, q := range nearPairs(bld.bands) {
		a, b := bld.bands[q[0]], bld.bands[q[1]]
		if a.arc != nil || b.arc != nil || a.make == nil && b.make == nil || a.axis.d.cross(b.axis.d).Abs() >= leastSin {
			continue
		}
		common := -apart(a, b)
		mid := a.axis.left(b.pointAt(b.length/2, 0)).Abs()
		if common > a.thickness+b.thickness && mid < a.half()+b.half()-slack {
			at := b.pointAt(b.length/2, 0)
			run := cmp.Or(b.run, a.run)
			bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
				Severity: plan.Warning, Code: "walls-overlap", Target: run.ID, At: &at, Span: min(common, a.length, b.length),
				Source:  firstSource(bld.p.Walls[b.walls[0]].Sources),
				Message: "the wall lies on another one of another type or thickness", Did: "both are taken off; check the drawing"})
		}
	}
}

// finish sorts what is listed and gives fingerprints.
func (bld *builder) finish() {
	for _, b := range bld.runs() {
		b.run.Fingerprint = fingerprint(b.run)
		slices.Sort(b.run.Assumed)
		bld.set.Runs = append(bld.set.Runs, b.run)
	}
	if bld.rounded > 0 {
		bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
			Severity: plan.Note, Code: "rounded", Span: bld.roundedBy,
			Message: fmt.Sprintf("%d face lengths are not whole measuring steps of %s", bld.rounded, measure.Exact(bld.j.Rules.Step, bld.j.System)),
			Did:     fmt.Sprintf("put on the step; %.2f mm in all", bld.roundedBy.MM())})
	}
	storeys := bld.storeys()
	slices.SortFunc(bld.set.Runs, func(a, b *Run) int {
		return cmp.Or(cmp.Compare(storeys[a.Storey], storeys[b.Storey]), compareMarks(a.ID, b.ID))
	})
}
