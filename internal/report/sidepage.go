package report

import (
	"math"
	"strings"
)

// SidePage is what stands on the page of one ply of one side, beside its
// drawing: all that is needed to mark, cut and hang it.
type SidePage struct {
	Face   *Face
	Ply    int
	View   View // the stretch of the side on this page
	Part   int  // 1 = the first of Parts
	Parts  int
	Mark   string // of the side
	Name   string // "left side, KENNEL"
	Layer  string // "base layer", "face layer", "" where there is one
	Facts  [][2]string
	Sheets Block
	Tops   Block
	Cut    []*Piece // pieces with notches, cut-outs or bent tops, each with its own picture
	Look   []string // what is allowed and wants a look
}

// SidePage tells one ply of one side, or the stretch of it that v shows: the
// pieces whose middle is in it.
func (w *Draft) SidePage(f *Face, ply int, v View) SidePage {
	s := SidePage{Face: f, Ply: ply, View: v, Part: 1, Parts: 1, Mark: f.ID, Name: FaceName(f), Layer: plyName(len(f.Plies), ply)}
	var pieces []*Piece
	for _, q := range w.Pieces(f, ply) {
		lo, hi := bounds(q.OutlineUV)
		if mid := (lo[0] + hi[0]) / 2; v.To <= v.From || mid >= v.From && mid < v.To {
			pieces = append(pieces, q)
		}
	}
	s.Facts = w.facts(f, ply, pieces)
	s.Sheets, s.Tops = w.sheetRows(pieces), w.topRows(pieces)
	for _, q := range pieces {
		if w.Cut(q) {
			s.Cut = append(s.Cut, q)
		}
	}
	s.Look = w.look(f, ply)
	return s
}

// FaceName says which side it is.
func FaceName(f *Face) string {
	s := f.Side + " side"
	switch f.Side {
	case "end":
		s = "end of the wall"
	case "reveal":
		s = "reveal of an opening"
	}
	if f.Room != "" {
		s += ", faces " + f.Room
	}
	return s
}

// Strip tells whether a face is an end or a reveal: a strip with no page of its
// own.
func Strip(f *Face) bool { return f.Side != "left" && f.Side != "right" }

// Parts splits the stretch of a ply into views of about equal length, none
// longer than most, on its joints where that can be, from the starting end.
func (w *Draft) Parts(f *Face, ply int, most MM, scale float64) []View {
	u0, u1 := Span(f, ply)
	most = max(most, (u1-u0)/200) // beyond that it is no wall
	var joints []MM
	for _, q := range w.joints[sidePly{f.ID, ply}] {
		if q.FromUV[0] == q.ToUV[0] {
			joints = append(joints, q.FromUV[0])
		}
	}
	n := max(1, int(math.Ceil(float64((u1-u0)/most))))
	var stops []MM
	for tries := range 4 {
		stops = []MM{u0}
		for i := 1; i < n+tries; i++ {
			at := u0 + (u1-u0)*MM(i)/MM(n+tries)
			if s := nearest(joints, at); s > stops[len(stops)-1]+1 && s < u1-1 && tries < 3 {
				at = s
			}
			stops = append(stops, at)
		}
		stops = append(stops, u1)
		if longest(stops) <= most {
			break
		}
	}
	var out []View
	for i := 1; i < len(stops); i++ {
		out = append(out, View{Scale: scale, From: stops[i-1], To: stops[i]})
	}
	if f.HangFrom == "right" {
		for i, k := 0, len(out)-1; i < k; i, k = i+1, k-1 {
			out[i], out[k] = out[k], out[i]
		}
	}
	return out
}

func nearest(list []MM, at MM) MM {
	best := at
	for i, x := range list {
		if i == 0 || math.Abs(float64(x-at)) < math.Abs(float64(best-at)) {
			best = x
		}
	}
	return best
}

func longest(stops []MM) MM {
	var l MM
	for i := 1; i < len(stops); i++ {
		l = max(l, stops[i]-stops[i-1])
	}
	return l
}

func plyName(plies, ply int) string {
	switch {
	case plies < 2:
		return ""
	case ply == 1:
		return "base layer"
	case ply == plies:
		return "face layer"
	}
	return "layer " + strconvI(ply)
}

func (w *Draft) facts(f *Face, ply int, pieces []*Piece) [][2]string {
	var out [][2]string
	say := func(k, v string) {
		if v != "" {
			out = append(out, [2]string{k, v})
		}
	}
	r := w.p.run[f.Run]
	say("Start", w.startFact(f, ply))
	if side := openSide(f, r); side != "" {
		say("Flanges", "open sides of the studs to the "+side)
	}
	say("Order", orderFact(f))
	if r != nil {
		say("Wall", r.Type+", "+w.p.cut(r.SpacingMM).Text+" centres"+w.studFact(r))
	}
	say("Board", w.boardFact(f, ply))
	say("Gaps", w.gapFact(f))
	if f.Top == "slip" {
		say("Slip line", w.p.cut(f.SlipBelowMM).Text+" below the board's top: no screw above it")
	}
	say("Stand here", w.stockFact(pieces))
	screws := w.screwFact(f, ply)
	if len(pieces) < len(w.Pieces(f, ply)) && screws != "" {
		screws = "whole side: " + screws
	}
	say("Screws", screws)
	if len(f.BoardBefore) > 0 {
		say("Before", "board this side and tape it above before it is closed in by "+several(f.BoardBefore, 6))
	}
	if r != nil && r.Rating != "" {
		say("Rated", r.Rating+" "+r.Listing+": the listed design governs layout, screws and joints")
	}
	return out
}

// startFact says where the starting edge is, from the end of the finished wall.
func (w *Draft) startFact(f *Face, ply int) string {
	if f.HangFrom == "" {
		return ""
	}
	s := f.HangFrom + " end, as you face it"
	u, left := Start(f, ply)
	past := -u
	if !left {
		past = u - f.LengthMM
	}
	step := w.p.sys.CutStep().MM()
	switch {
	case float64(past) >= step:
		s += "; the edge laps " + w.p.cut(past).Text + " past the corner"
	case float64(past) <= -step:
		s += "; the edge stands " + w.p.cut(-past).Text + " off the corner"
	}
	return s
}

func orderFact(f *Face) string {
	switch {
	case f.Side != "left" && f.Side != "right":
		return ""
	case f.HungFirst:
		return "this side first"
	}
	return "second, after inspection and insulation"
}

func (w *Draft) studFact(r *Run) string {
	n := count{}
	for _, s := range r.Studs {
		n[s.Kind]++
	}
	s := ""
	if n["added"] > 0 {
		s = ", " + strconvI(n["added"]) + " stud" + plural(n["added"]) + " added for joints"
	}
	if y := w.types[r.Type]; y != nil {
		s = ", stud " + w.p.cut(y.StudDepthMM).Text + " × " + strconvI(y.Mil) + " mil" + s
	}
	return s
}

func (w *Draft) boardFact(f *Face, ply int) string {
	n := count{}
	for _, q := range w.Pieces(f, ply) {
		n[q.Board]++
	}
	s := join(n.sorted())
	if f.Layout == "horizontal" {
		s += ", sheets across the studs, top row first"
	}
	return s
}

// gapFact gives the gaps at floor and head, from the rules in force.
func (w *Draft) gapFact(f *Face) string {
	var s []string
	say := func(id, name string) {
		if v := w.rule[id]; v != "" {
			s = append(s, name+" "+strings.TrimSuffix(strings.TrimSuffix(v, "in"), "mm"))
		}
	}
	if lo, _ := bounds(f.OutlineUV); lo[1] > 0 {
		say("floor-gap", "floor")
	}
	switch {
	case f.Top == "slip":
		say("deck-gap", "deck")
	case f.HeightBy == "ceiling":
		say("ceiling-gap", "over the ceiling side")
	}
	return join(s)
}

// stockFact says what is stood out for these pieces: sheets by size, those for
// tops at the cutting station.
func (w *Draft) stockFact(pieces []*Piece) string {
	stand, tops, shared := count{}, count{}, map[string]bool{}
	seen := map[string]bool{}
	for _, q := range pieces {
		s := w.sheet[q.Sheet]
		if s == nil || seen[s.ID] {
			continue
		}
		seen[s.ID] = true
		size := w.p.size(s.WidthMM, s.LengthMM)
		if q.Role == "top" || q.Role == "leg" || q.Role == "header" {
			tops[size]++
		} else {
			stand[size]++
		}
		for _, p := range s.Placements {
			if o := w.piece[p.Piece]; o != nil && (o.Face != q.Face || o.Ply != q.Ply) {
				shared[s.ID] = true
			}
		}
	}
	var out []string
	list := func(c count, after string) {
		var l []string
		for _, k := range c.sorted() {
			l = append(l, strconvI(c[k])+" of "+k)
		}
		if len(l) > 0 {
			out = append(out, join(l)+after)
		}
	}
	list(stand, "")
	list(tops, " for tops at the cutting station")
	if len(shared) > 0 {
		out = append(out, strconvI(len(shared))+" of them shared with other sides")
	}
	return strings.Join(out, "; ")
}

func (w *Draft) screwFact(f *Face, ply int) string {
	n, tack := map[string]int{}, 0
	total := count{}
	for _, s := range w.screws[sidePly{f.ID, ply}] {
		n[s.Place] += s.Count
		tack += s.Tack
		total[s.Item] += s.Count
	}
	var out []string
	for _, k := range total.sorted() {
		out = append(out, strconvI(total[k])+" of "+strings.TrimPrefix(k, "screw "))
	}
	if tack > 0 {
		out = append(out, strconvI(tack)+" of them in the tack pass")
	}
	return join(out)
}

// look lists what the takeoff allows on this side and wants looked at.
func (w *Draft) look(f *Face, ply int) []string {
	var list []*Exception
	list = append(list, w.said[f.ID]...)
	for _, q := range w.Pieces(f, ply) {
		list = append(list, w.said[q.ID]...)
	}
	var out []string
	for _, e := range list {
		if e.Severity == "note" {
			continue
		}
		s := w.named(f, e.Message)
		if e.Target != f.ID {
			s = ShortMark(e.Target) + ": " + s
		}
		out = append(out, s)
	}
	return out
}

// named puts the names of openings for their ids in a sentence.
func (w *Draft) named(f *Face, s string) string {
	for _, o := range w.open[f.Run] {
		if i := strings.Index(s, o.ID); i >= 0 && (i+len(o.ID) == len(s) || s[i+len(o.ID)] < '0' || s[i+len(o.ID)] > '9') {
			s = s[:i] + openingName(o) + s[i+len(o.ID):]
		}
	}
	return s
}
