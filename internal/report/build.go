package report

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"boardrun/internal/cutting"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Stages is everything the pipeline made of one job, ready to be told.
type Stages struct {
	Job     *job.Job
	Plan    *plan.Plan
	Runs    *run.Set
	Layouts []*layout.Layout // parallel to Runs.Runs; nil where a run is not laid out
	Cut     *cutting.Solution
	// Extra exceptions of later stages: cutting, quantities.
	Exceptions []plan.Exception
}

// Build tells the stages as a takeoff. Screws, framing, finishing, order and
// cost are filled in from the quantities by AddQuantities.
func Build(s Stages) *Takeoff {
	t := &Takeoff{Schema: Schema, Job: jobInfo(s.Job)}
	b := builder{s: s, t: t, sheetOf: map[string]placed{}, pieceOf: map[string]*layout.Piece{}}
	for _, l := range s.Layouts {
		if l == nil {
			continue
		}
		for i := range l.Pieces {
			b.pieceOf[l.Pieces[i].ID] = &l.Pieces[i]
		}
	}
	b.cutting()
	b.plan()
	for i, r := range s.Runs.Runs {
		b.run(r, s.Layouts[i])
	}
	b.junctions()
	b.rooms()
	b.decks()
	b.standing()
	b.exceptions()
	sort.SliceStable(t.Faces, func(i, k int) bool { return t.Faces[i].ID < t.Faces[k].ID })
	return Normalise(t)
}

type placed struct {
	sheet string
	at    cutting.Placement
}

type builder struct {
	s       Stages
	t       *Takeoff
	sheetOf map[string]placed
	pieceOf map[string]*layout.Piece
}

func jobInfo(j *job.Job) JobInfo {
	in := JobInfo{Name: j.Name, Title: j.Title, File: j.File, Stamp: j.Stamp, System: j.System.String(), Notes: j.Notes}
	for _, a := range j.Assumed {
		in.Assumptions = append(in.Assumptions, Assumption{a.Path, a.Value, a.Reason})
	}
	for i := range j.Boards {
		b := &j.Boards[i]
		in.Boards = append(in.Boards, BoardInfo{b.Name, Millimetres(b.Thickness), Kg(b.MassM2), b.Special})
	}
	if o := j.Order; o != (job.Order{}) {
		in.Delivery = &Delivery{LongestMM: Millimetres(o.Longest), FloorKPa: o.Floor, Needed: o.Needed}
	}
	for i := range j.Types {
		y := &j.Types[i]
		in.Types = append(in.Types, TypeInfo{
			Name: y.Name, ThicknessMM: Millimetres(y.Thickness(j.Board)), StudDepthMM: Millimetres(y.StudDepth), Mil: y.Mil,
			SpacingMM: Millimetres(y.Spacing), Left: y.Sides[0].Plies, Right: y.Sides[1].Plies,
			HeightLeft: heightText(y.Sides[0].Height, j), HeightRight: heightText(y.Sides[1].Height, j),
			Insulation: y.Insulation, Rating: y.Rating, Listing: y.Listing,
		})
	}
	return in
}

func source(s plan.Source) Source { return Source{s.File, s.Ref, s.GUID, s.Layer} }

func sources(ss []plan.Source) []Source {
	out := make([]Source, len(ss))
	for i, s := range ss {
		out[i] = source(s)
	}
	return out
}

func (b *builder) plan() {
	for _, d := range b.s.Plan.Drawings {
		b.t.Drawings = append(b.t.Drawings, Drawing{File: d.File, Format: d.Format, Version: d.Version, Unit: d.Unit.Used, Storey: d.Storey, UnitMM: d.Unit.MM})
	}
	for _, l := range b.s.Plan.Ledger {
		e := Ledger{Drawing: l.Drawing, Read: l.Read, Used: l.Used, WallLineMM: MM(l.WallLineMM), WallUsedMM: MM(l.WallLineUsedMM)}
		for _, r := range l.Ignored {
			e.Ignored = append(e.Ignored, Reason{r.Reason, r.Count})
		}
		b.t.Ledger = append(b.t.Ledger, e)
	}
	uses := [...]string{"background", "used", "ignored", "unread"}
	for _, l := range b.s.Plan.Linework {
		q := Line{Drawing: l.Drawing, Storey: l.Storey, Layer: l.Layer, Use: uses[l.Use], Points: make([]UV, len(l.Points))}
		for i, p := range l.Points {
			q.Points[i] = Point(p)
		}
		b.t.Linework = append(b.t.Linework, q)
	}
}

func (b *builder) run(r *run.Run, l *layout.Layout) {
	out := Run{
		ID: r.ID, Fingerprint: r.Fingerprint, Was: r.Was, Type: r.Type, Storey: r.Storey, Status: r.Status.String(),
		LengthMM: Millimetres(r.Length), ThicknessMM: Millimetres(r.Thickness), SpacingMM: Millimetres(r.Spacing),
		Rating: r.Rating, Listing: r.Listing, Assumed: r.Assumed, Source: sources(r.Sources), Status2: "none",
	}
	for _, p := range r.Axis {
		out.AxisMM = append(out.AxisMM, Point(p))
	}
	if r.Arc != nil {
		out.Arc = &Arc{Point(r.Arc.Centre), Millimetres(r.Arc.Radius), r.Arc.Sweep}
	}
	for _, p := range r.Deck {
		out.Deck = append(out.Deck, Point(p))
	}
	if l != nil {
		b.layout(&out, l)
	}
	b.t.Runs = append(b.t.Runs, out)
	for _, f := range r.Faces {
		b.face(f, r, l)
	}
	for i := range r.Openings {
		b.opening(r, i)
	}
}

func (b *builder) layout(out *Run, l *layout.Layout) {
	out.StudStartMM, out.Flange, out.Why, out.Status2, out.Gap = Millimetres(l.StudStart), l.OpenFaces, l.Why, l.Status, l.Gap
	out.SpacingMM = Millimetres(l.Spacing)
	for _, s := range l.Studs {
		out.Studs = append(out.Studs, Stud{ID: s.ID, StationMM: Millimetres(s.Station), Kind: s.Kind.String(), BottomMM: Millimetres(s.Bottom), LengthMM: Millimetres(s.Length)})
	}
	for i := range l.Pieces {
		b.piece(&l.Pieces[i])
	}
	for i := range l.Joints {
		q := &l.Joints[i]
		b.t.Joints = append(b.t.Joints, Joint{
			Face: q.Face.ID, Ply: q.Ply, FromUV: Point(q.From), ToUV: Point(q.To), Kind: b.jointKind(q), Stud: q.Stud,
			Pieces: q.Pieces, Exposed: q.Exposed, Exception: q.Exception,
		})
	}
}

// edges are what the layout plans, less what the cut list could not give: a
// factory edge may be called cut, never the reverse.
func (b *builder) edges(p *layout.Piece) Edges {
	at, ok := b.sheetOf[p.ID]
	one := func(planned layout.Edge, got cutting.Edge) string {
		switch {
		case planned == layout.Tapered && (!ok || got == cutting.Tapered):
			return layout.Tapered.String()
		case planned == layout.EndEdge && (!ok || got == cutting.End):
			return layout.EndEdge.String()
		}
		return layout.CutEdge.String()
	}
	g := at.at
	return Edges{one(p.Left, g.Left), one(p.Right, g.Right), one(p.Bottom, g.Bottom), one(p.Top, g.Top)}
}

// jointKind is what the layout plans, unless the cut list gave one of the two
// pieces a lesser edge there: paper says what will be hung.
func (b *builder) jointKind(q *layout.Joint) string {
	plan := q.Kind.String()
	if q.Kind == layout.ControlJoint || q.Kind == layout.CutJoint {
		return plan
	}
	var got [2]string
	for i, id := range q.Pieces {
		p := b.pieceOf[id]
		if p == nil {
			return plan
		}
		got[i] = touching(p, b.edges(p), q)
	}
	tapered, ends := 0, 0
	for _, e := range got {
		switch e {
		case "tapered":
			tapered++
		case "end":
			ends++
		}
	}
	switch {
	case tapered == 2:
		return layout.TaperedJoint.String()
	case tapered == 1 && ends == 0:
		return layout.TaperedCut.String()
	case ends == 2:
		return layout.Butt.String()
	}
	return layout.CutJoint.String()
}

// touching is the edge of p along joint q: that of its outermost side there,
// else the cut side of a notch.
func touching(p *layout.Piece, e Edges, q *layout.Joint) string {
	box := p.Outline.Bounds()
	switch {
	case q.From.X == q.To.X && q.From.X == box.Min.X:
		return e.Left
	case q.From.X == q.To.X && q.From.X == box.Max.X:
		return e.Right
	case q.From.Y == q.To.Y && q.From.Y == box.Min.Y:
		return e.Bottom
	case q.From.Y == q.To.Y && q.From.Y == box.Max.Y:
		return e.Top
	}
	return "cut"
}

func (b *builder) piece(p *layout.Piece) {
	at := b.sheetOf[p.ID]
	out := Piece{
		ID: p.ID, Fingerprint: p.Fingerprint, Face: p.Face.ID, Ply: p.Ply, Board: p.Board, Role: p.Role.String(), Uncut: p.Uncut,
		Hooks: p.Hooks, OutlineUV: Outline(p.Outline), CutoutsUV: Outlines(p.Cutouts), Sheet: at.sheet,
		AreaM2: M2(p.Area.M2()), MassKg: Kg(p.MassKg), Order: p.Order,
		Edges: b.edges(p),
	}
	for _, c := range p.Centres {
		out.CentresMM = append(out.CentresMM, Millimetres(c))
	}
	for i, h := range p.Heights {
		out.BlankMM = append(out.BlankMM, Point(h))
		if i > 0 && i < len(p.Heights)-1 && stepsAt(p.Outline, h.X) {
			continue // on a notch's side there is no one height
		}
		out.HeightsMM = append(out.HeightsMM, UV{Millimetres(h.X), Millimetres(extentAt(p.Outline, h.X))})
	}
	if slices.Equal(out.BlankMM, out.HeightsMM) {
		out.BlankMM = nil
	}
	b.t.Pieces = append(b.t.Pieces, out)
}

// stepsAt reports whether an outline has an upright edge at u from its left
// edge.
func stepsAt(o geom.Poly, u geom.Length) bool {
	x := o.Bounds().Min.X + u
	for i, a := range o {
		if b := o[(i+1)%len(o)]; a.X == x && b.X == x {
			return true
		}
	}
	return false
}

// extentAt is top − bottom of an outline at u from its left edge, just inside
// it at its two edges.
func extentAt(o geom.Poly, u geom.Length) geom.Length {
	box := o.Bounds()
	x := min(max(box.Min.X+u, box.Min.X+1), box.Max.X-1)
	var lo, hi geom.Length
	first := true
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if a.X == b.X || x < min(a.X, b.X) || x > max(a.X, b.X) {
			continue
		}
		v := a.Y + geom.MulDiv(b.Y-a.Y, x-a.X, b.X-a.X)
		if first {
			lo, hi, first = v, v, false
		}
		lo, hi = min(lo, v), max(hi, v)
	}
	return hi - lo
}

func (b *builder) face(f *run.Face, r *run.Run, l *layout.Layout) {
	out := Face{
		ID: f.ID, Run: r.ID, Side: f.Side.String(), Boarded: f.Boarded, Reason: f.Reason, Room: f.Room,
		StartMM: Millimetres(f.Start), LengthMM: Millimetres(f.Length), FinishedMM: Millimetres(f.Finished),
		Top: [...]string{"slip", "fixed"}[f.Head], HeightBy: f.HeightBy, CeilingMM: Millimetres(f.Ceiling), BoardBefore: f.Before, Layout: "vertical",
	}
	if f.Head == run.Slip {
		out.SlipBelowMM = Millimetres(b.s.Job.Rules.SlipLeg + b.s.Job.Rules.SlipClear)
	}
	if len(f.Top) > 0 {
		outline := band(f.Top, f.Bottom, 0, f.Length)
		out.OutlineUV = Outline(outline)
		gross := areaM2(outline)
		out.GrossM2 = M2(gross)
		var holes []geom.Poly
		for _, h := range f.Holes {
			p := h.Shape
			if len(p) == 0 {
				p = h.Rect.Poly()
			}
			holes = append(holes, p)
		}
		out.HolesUV = Outlines(holes)
		out.NetM2 = M2(gross - holesM2(outline, holes))
	}
	for _, y := range f.Plies {
		q := band(f.Top, f.Bottom, y.U0, y.U1)
		ply := Ply{Ply: y.Number, OutlineUV: Outline(q)}
		if len(y.Zones) == 0 {
			ply.Zones = []Zone{{ply.OutlineUV, y.Board}}
		}
		zones := y.Zones
		if l != nil {
			zones = laidZones(l, f, y)
		}
		if len(y.Zones) > 0 && len(zones) == 0 {
			ply.Zones = []Zone{{ply.OutlineUV, y.Board}}
		}
		for _, z := range zones {
			ply.Zones = append(ply.Zones, Zone{Outline(z.Rect.Poly()), z.Board})
		}
		out.Plies = append(out.Plies, ply)
	}
	if l != nil {
		b.faceLayout(&out, f, l)
	}
	b.t.Faces = append(b.t.Faces, out)
}

// laidZones returns the zones of a ply as they are hung: their ends stand on
// studs and off the bands of openings.
func laidZones(l *layout.Layout, f *run.Face, y run.Ply) []run.Zone {
	for _, fl := range l.Faces {
		if fl.Face == f && y.Number > 0 && y.Number <= len(fl.Zones) {
			return fl.Zones[y.Number-1]
		}
	}
	return y.Zones
}

func (b *builder) faceLayout(out *Face, f *run.Face, l *layout.Layout) {
	for _, fl := range l.Faces {
		if fl.Face != f {
			continue
		}
		out.HangFrom, out.HungFirst = fl.HangFrom, fl.First
		if fl.Ends {
			out.Layout = "horizontal"
		}
		for _, h := range fl.Breaks {
			out.BreaksMM = append(out.BreaksMM, Millimetres(h))
		}
	}
	if f.Side != run.Left && f.Side != run.Right {
		return
	}
	for _, s := range l.Studs {
		if u := f.U(s.Station); u >= -faceReach && u <= f.Length+faceReach {
			out.Studs = append(out.Studs, FaceStud{s.ID, Millimetres(u)})
		}
	}
	sort.SliceStable(out.Studs, func(i, k int) bool { return out.Studs[i].UMM < out.Studs[k].UMM })
}

// faceReach is how far beyond a face's ends a stud still concerns it: laps
// round a corner reach less than this.
const faceReach = 12 * 203200

// band is the region between a level bottom and a profile over [u0, u1].
func band(top geom.Profile, bottom, u0, u1 geom.Length) geom.Poly {
	if u1 <= u0 || len(top) == 0 {
		return nil
	}
	q := geom.Poly{{X: u0, Y: bottom}, {X: u1, Y: bottom}}
	vs := top.Vertices(u0, u1)
	for i := len(vs) - 1; i >= 0; i-- {
		q = append(q, vs[i])
	}
	return q
}

// areaM2 is the area of a polygon in m²; holes of any overlap are told once by
// holesM2.
func areaM2(p geom.Poly) float64 {
	s := 0.0
	for i, a := range p {
		c := p[(i+1)%len(p)]
		s += float64(a.Sub(p[0]).X)*float64(c.Sub(p[0]).Y) - float64(c.Sub(p[0]).X)*float64(a.Sub(p[0]).Y)
	}
	return math.Abs(s) / 2 / (8e6 * 8e6)
}

// holesM2 is the area the holes take out of an outline, overlaps counted once.
func holesM2(outline geom.Poly, holes []geom.Poly) float64 {
	return unionArea(outline, holes)
}

func (b *builder) opening(r *run.Run, i int) {
	o := &r.Openings[i]
	out := Opening{
		ID: o.ID, Run: r.ID, Kind: o.Kind.String(), Mark: o.Mark, Frame: o.Frame, Installed: "after",
		WidthMM: Millimetres(o.Width), SillMM: Millimetres(o.Sill), HeadMM: Millimetres(o.Head),
		RoughMM:   [2]MM{Millimetres(o.RoughWidth), Millimetres(o.RoughHead)},
		NominalMM: [2]MM{Millimetres(o.Nominal[0]), Millimetres(o.Nominal[1])}, Basis: o.Basis, HeadBy: o.HeadBy, Source: sources(o.Sources),
	}
	if o.First || o.FrameKind == job.Welded {
		out.Installed = "before"
	}
	first := true
	for _, f := range r.Faces {
		for _, h := range f.Holes {
			if h.Opening != i || f.Side != run.Left && f.Side != run.Right {
				continue
			}
			out.Faces = append(out.Faces, f.ID)
			if first {
				out.UMM = Millimetres(f.U(o.Centre))
				first = false
			}
		}
	}
	if first { // on no boarded face: told on the axis, as on a right face from the start
		out.UMM = Millimetres(o.Centre)
	}
	b.t.Openings = append(b.t.Openings, out)
}

func (b *builder) junctions() {
	for _, q := range b.s.Runs.Junctions {
		j := Junction{Kind: q.Kind.String(), AtMM: Point(q.At), Runs: q.Runs, Through: q.Through}
		for _, l := range q.Laps {
			j.Laps = append(j.Laps, Lap{l.Face, l.End, Millimetres(l.Length)})
		}
		b.t.Junctions = append(b.t.Junctions, j)
	}
}

func (b *builder) rooms() {
	facing := b.facing()
	for _, r := range b.s.Runs.Rooms {
		out := Room{Name: r.Name, Number: r.Number, Storey: r.Storey, OutlineMM: Outline(r.Outline), CeilingMM: Millimetres(r.Ceiling), AreaM2: M2(areaM2(r.Outline))}
		per := 0.0
		for i, p := range r.Outline {
			q := r.Outline[(i+1)%len(r.Outline)]
			per += math.Hypot((q.X - p.X).MM(), (q.Y - p.Y).MM())
		}
		out.PerimeterMM = MM(per)
		out.Faces = append([]string{}, facing[[2]string{r.Storey, cmp.Or(r.Name, r.Number)}]...)
		b.t.Rooms = append(b.t.Rooms, out)
	}
}

// facing lists the sides that face each room, by storey and name.
func (b *builder) facing() map[[2]string][]string {
	out := map[[2]string][]string{}
	for _, r := range b.s.Runs.Runs {
		for _, f := range r.Faces {
			if k := [2]string{r.Storey, f.Room}; f.Room != "" {
				out[k] = append(out[k], f.ID)
			}
		}
	}
	return out
}

func (b *builder) exceptions() {
	var all []plan.Exception
	all = append(all, b.s.Plan.Exceptions...)
	all = append(all, b.s.Runs.Exceptions...)
	for _, l := range b.s.Layouts {
		if l != nil {
			all = append(all, l.Exceptions...)
		}
	}
	all = append(all, b.s.Exceptions...)
	sort.SliceStable(all, func(i, k int) bool {
		a, c := &all[i], &all[k]
		switch {
		case a.Severity != c.Severity:
			return a.Severity > c.Severity
		case a.Span != c.Span:
			return a.Span > c.Span
		case a.Code != c.Code:
			return a.Code < c.Code
		}
		return a.Target < c.Target
	})
	for i := range all {
		e := &all[i]
		out := Exception{
			Severity: e.Severity.String(), Code: e.Code, Message: e.Message, Source: source(e.Source), Target: e.Target,
			Did: e.Did, SpanMM: Millimetres(e.Span), Line: e.In(b.s.Job.System),
		}
		if e.At != nil {
			p := Point(*e.At)
			out.AtMM = &p
		}
		b.t.Exceptions = append(b.t.Exceptions, out)
	}
}

func (b *builder) cutting() {
	if b.s.Cut == nil {
		return
	}
	for i := range b.s.Cut.Sheets {
		s := &b.s.Cut.Sheets[i]
		out := Sheet{ID: s.ID, Board: s.Board, WidthMM: Millimetres(s.Width), LengthMM: Millimetres(s.Length), Group: s.Group}
		for _, p := range s.Placements {
			b.sheetOf[p.Piece] = placed{s.ID, p}
			out.Placements = append(out.Placements, Placement{p.Piece, Outline(p.Outline), p.Turned})
		}
		for _, c := range s.Cuts {
			out.Cuts = append(out.Cuts, Cut{Point(c.From), Point(c.To), c.Order})
		}
		for _, o := range s.Offcuts {
			out.Offcuts = append(out.Offcuts, Offcut{Outline(o.Outline), o.Kept})
		}
		b.t.Sheets = append(b.t.Sheets, out)
	}
	anyLayout := b.anyLayout()
	hung := map[string]float64{}
	for _, l := range b.s.Layouts {
		for i := 0; l != nil && i < len(l.Pieces); i++ {
			if _, cut := b.sheetOf[l.Pieces[i].ID]; cut {
				hung[l.Pieces[i].Board] += l.Pieces[i].Area.M2()
			}
		}
	}
	for _, c := range b.s.Cut.Bounds {
		net := c.Hung.M2()
		if h, ok := hung[c.Board]; ok {
			net = h // of cut-outs too, which cutting does not see
		}
		// What no layout gets below, these pieces do not either.
		these, any := max(c.ForThese.M2(), c.ForAny), max(anyLayout[c.Board], c.ForAny)
		how := ""
		switch {
		case c.ForAny > 0:
			how = "; for any layout with no more horizontal joint than this: prices of lengths and widths against the cheapest way to hang each ply"
		case b.s.Job != nil:
			how = "; for any layout: what hangs, in whole sheets"
		}
		out := Bound{
			Board: c.Board, AreaM2: M2(c.Bought.M2()), ForAnyM2: M2(min(any, these)), ForPiecesM2: M2(these), HungM2: M2(net), KeptM2: M2(c.Kept.M2()),
			WasteM2: M2(c.Bought.M2() - net - c.Kept.M2()), Method: c.Method + how, Status: c.Status.String(),
		}
		for _, n := range c.Sheets {
			out.Sheets = append(out.Sheets, SheetCount{Millimetres(n.Width), Millimetres(n.Length), n.Count})
		}
		b.t.Bound = append(b.t.Bound, out)
	}
}

// Cuts tells a cut list alone, without a job round it.
func Cuts(s *cutting.Solution) *Takeoff {
	t := &Takeoff{Schema: Schema}
	b := builder{s: Stages{Cut: s}, t: t, sheetOf: map[string]placed{}}
	b.cutting()
	return Normalise(t)
}

// anyLayout is the least area that any layout must buy of each board, in m²:
// what hangs in each group of walls that share offcuts, in whole sheets.
func (b *builder) anyLayout() map[string]float64 {
	type key struct{ board, group string }
	hung := map[key]float64{}
	var keys []key
	for i := range b.s.Cut.Sheets {
		s := &b.s.Cut.Sheets[i]
		k := key{s.Board, s.Group}
		for _, p := range s.Placements {
			if q := b.pieceOf[p.Piece]; q != nil {
				if _, ok := hung[k]; !ok {
					keys = append(keys, k)
				}
				hung[k] += q.Area.M2()
			}
		}
	}
	out := map[string]float64{}
	for _, k := range keys {
		var stock []cutting.Stock
		if bd := b.s.Job.Board(k.board); bd != nil {
			for _, z := range bd.Sheets {
				for _, l := range z.Lengths {
					stock = append(stock, cutting.Stock{Width: z.Width, Length: l})
				}
			}
		}
		out[k.board] += cutting.LeastSheets(hung[k], stock)
	}
	return out
}
