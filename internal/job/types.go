package job

import (
	"cmp"
	"fmt"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

var layoutWords = []string{"vertical", "horizontal", "cheaper"}

// types reads the wall types.
func (r *reader) types(f *fields) {
	seen := map[string]bool{}
	for _, n := range f.list("types") {
		t := r.wallType(n)
		if seen[t.Name] && t.Name != "" {
			r.fail(n, "type %q stands here a second time", t.Name)
		}
		seen[t.Name] = true
		r.job.Types = append(r.job.Types, t)
	}
	if len(r.job.Types) == 0 && len(f.list("types")) == 0 {
		r.job.Types = r.defaultTypes()
	}
}

func (r *reader) wallType(n *node) WallType {
	f := r.fields(n, "a wall type", "name", "match", "stud", "mil", "spacing", "both", "left", "right", "insulation", "rating",
		"listing", "layout", "framing", "first-stud", "rank", "leave")
	var t WallType
	if name := f.must("name", "A"); name != nil {
		t.Name = r.text(name)
		r.at["type "+t.Name] = n
	}
	path := "types." + t.Name
	for _, m := range f.list("match") {
		t.Match = append(t.Match, r.match(m))
	}
	t.Insulation, t.Rating, t.Leave = f.text("insulation"), f.text("rating"), f.text("leave")
	if l := f.get("layout"); l != nil {
		t.Layout = Layout(r.choice(l, layoutWords...))
	}
	if fr := f.get("framing"); fr != nil {
		mode := r.framing(fr)
		t.Framing = &mode
	}
	t.FirstStud = f.length("first-stud")
	if k := f.get("rank"); k != nil {
		t.Rank = r.whole(k, 0, 100)
	}
	if t.Leave == "" {
		r.sides(f, &t, path)
		r.studs(f, &t, path)
		r.listing(f, &t, path)
	}
	return t
}

// studs reads depth, mil and spacing; what is missing is assumed.
func (r *reader) studs(f *fields, t *WallType, path string) {
	if n := f.get("stud"); n != nil {
		t.StudDepth = r.thickness(n, "stud depth")
	} else {
		t.StudDepth = r.job.studFor(t)
		r.assume(path+".stud", measure.Exact(t.StudDepth, r.sys), "from the thickness matched, less the boards", false)
	}
	if n := f.get("mil"); n != nil {
		t.Mil = r.whole(n, 1, 200)
	} else {
		t.Mil = 18
		r.assume(path+".mil", "18", "nobody said; the thinnest usual stud", false)
	}
	if n := f.get("spacing"); n != nil {
		t.Spacing = r.thickness(n, "stud spacing")
		r.at["spacing "+t.Name] = n
	} else {
		t.Spacing = [2]Length{16 * measure.Inch, 600 * measure.Millimetre}[r.sys]
		r.assume(path+".spacing", measure.Exact(t.Spacing, r.sys), "nobody said; usual", false)
	}
}

// studFor is the stock depth nearest to the thickness the type matches less
// its boards; the most usual depth where it matches none.
func (j *Job) studFor(t *WallType) Length {
	depths := rules.StudDepths[j.System]
	best := depths[0]
	for _, m := range t.Match {
		if m.Thickness == 0 {
			continue
		}
		want := m.Thickness + t.StudDepth - t.Thickness(j.Board)
		for _, d := range depths {
			if (d - want).Abs() < (best - want).Abs() {
				best = d
			}
		}
		break
	}
	return best
}

func (r *reader) match(n *node) Match {
	if n.kind == scalar { // a bare word is a tag
		return Match{Tag: r.text(n)}
	}
	f := r.fields(n, "a match", "layer", "thickness", "tag", "model-type")
	m := Match{Layer: f.text("layer"), Tag: f.text("tag"), TypeName: f.text("model-type")}
	if t := f.get("thickness"); t != nil {
		m.Thickness = r.thickness(t, "thickness")
	}
	if m == (Match{}) && n.kind == mapping {
		r.fail(n, "a match names a layer, a thickness, a tag or a model-type")
	}
	return m
}

// sides reads both:, then left: and right: over it.
func (r *reader) sides(f *fields, t *WallType, path string) {
	var both *node
	if both = f.get("both"); both != nil && both.kind == mapping {
		r.fields(both, "a side", sideKeys...)
	}
	for i, key := range []string{"left", "right"} {
		own := f.get(key)
		t.Sides[i] = r.side(f.node, both, own, path+"."+key)
	}
	r.sideAssumptions(t, path)
}

var sideKeys = []string{"boards", "height", "finish", "reason"}

// side reads one side: own keys first, those of both: where own has none.
// "left: not boarded" and "left: {reason: …}" are bare sides.
func (r *reader) side(at, both, own *node, path string) Side {
	var s Side
	merged := &node{kind: mapping, line: at.line, col: at.col}
	for _, n := range []*node{own, both} {
		switch {
		case n == nil:
			continue
		case n.kind == scalar && strings.HasPrefix(strings.ToLower(n.text), "not boarded"):
			s.Reason = strings.TrimLeft(strings.TrimSpace(n.text)[len("not boarded"):], " :,;")
			if s.Reason == "" {
				s.Reason = "not boarded"
			}
			return s
		case n.kind == mapping:
			r.overlay(merged, n)
		default:
			r.fail(n, "a side is \"not boarded\" or has boards, height, finish or reason under it")
		}
	}
	f := r.fields(merged, "a side", sideKeys...)
	s.Reason = f.text("reason")
	for _, b := range f.list("boards") {
		name := r.text(b)
		r.boardNamed(b, name)
		s.Plies = append(s.Plies, name)
	}
	if len(s.Plies) > 4 {
		r.fail(f.get("boards"), "%d plies on one side; at most 4", len(s.Plies))
		s.Plies = s.Plies[:4]
	}
	s.Finish = 4
	if n := f.get("finish"); n != nil {
		s.Finish = r.whole(n, 0, 5)
	}
	if n := f.get("height"); n != nil {
		s.Height = r.height(n)
	} else if len(s.Plies) > 0 {
		r.assume(path+".height", "to deck", "nobody said how high this side goes", true)
	}
	if len(s.Plies) == 0 && s.Reason == "" {
		s.Reason = "no boards named"
	}
	return s
}

// overlay adds to under the keys of n that it does not have yet.
func (r *reader) overlay(under, n *node) {
	for i, k := range n.keys {
		if under.get(k.text) == nil {
			under.keys, under.vals = append(under.keys, k), append(under.vals, n.vals[i])
		}
	}
}

// sideAssumptions fills a type that names no board at all.
func (r *reader) sideAssumptions(t *WallType, path string) {
	for _, s := range t.Sides {
		if len(s.Plies) > 0 || s.Reason != "no boards named" {
			return
		}
	}
	guess := rules.GuessMakeup(cmp.Or(t.matchedThickness(), usualThickness[r.sys]), r.sys)
	r.boardNamed(nil, guess.Board)
	for i := range t.Sides {
		t.Sides[i].Reason = ""
		for range guess.Plies[i] {
			t.Sides[i].Plies = append(t.Sides[i].Plies, guess.Board)
		}
		if guess.Plies[i] == 0 {
			t.Sides[i].Reason = "one side only, by the thickness"
		}
	}
	r.assume(path+".both.boards", guess.Board, "nobody said; usual for the thickness", false)
	r.assume(path+".both.height", "to deck", "nobody said how high each side goes", true)
}

func (t *WallType) matchedThickness() Length {
	for _, m := range t.Match {
		if m.Thickness > 0 {
			return m.Thickness
		}
	}
	return 0
}

// listing reads the listed design of a rated type.
func (r *reader) listing(f *fields, t *WallType, path string) {
	n := f.get("listing")
	switch {
	case n == nil && t.Rating != "":
		t.Unlisted = fmt.Sprintf("a rating of %q wants the listed design that gives it, for example listing: WP 1200, or listing: none to board it by the general rules; a fire-rated pattern is never invented", t.Rating)
		r.doubt(f.get("rating"), "rating-unlisted", path+".rating", t.Unlisted)
		return
	case n == nil:
		return
	case strings.EqualFold(r.text(n), "none"):
		r.doubt(n, "rating-without-listing", path+".listing", "rated "+t.Rating+", no listed design named: boarded by the general rules, which give no rating")
		return
	}
	l, err := rules.FindListing(r.text(n))
	if err != nil {
		t.Listing, t.Unlisted = r.text(n), err.Error()
		r.doubt(n, "rating-unlisted", path+".listing", t.Unlisted)
		return
	}
	t.Listing = l.Name
	if t.Rating == "" {
		t.Rating = l.Rating
	}
	var sides [2][]rules.ListedBoard
	for i, s := range t.Sides {
		for _, p := range s.Plies {
			if b := r.job.Board(p); b != nil {
				sides[i] = append(sides[i], rules.ListedBoard{Kind: b.Kind, Thickness: b.Thickness})
			}
		}
	}
	for _, d := range l.Departs(t.StudDepth, t.Mil, t.Spacing, sides) {
		r.doubt(n, "listing-departed", path+".listing", d+"; a departure goes back to the architect")
	}
}

// doubt records what is allowed but should be looked at.
func (r *reader) doubt(n *node, code, path, text string) {
	r.job.Doubts = append(r.job.Doubts, Doubt{code, DoubtCodes[code], path, text, n.line})
}

// height reads how high a side goes: to deck, to ceiling, above ceiling,
// ceiling + 6in, or a length from the storey's floor.
func (r *reader) height(n *node) HeightRule {
	text := strings.ToLower(strings.Join(strings.Fields(r.text(n)), " "))
	switch text {
	case "to deck":
		return HeightRule{Kind: ToDeck}
	case "to ceiling":
		return HeightRule{Kind: ToCeiling}
	case "above ceiling":
		return HeightRule{AboveCeiling, r.job.Rules.AboveCeiling}
	}
	if rest, ok := strings.CutPrefix(strings.TrimPrefix(text, "to "), "ceiling"); ok {
		if extra, ok := strings.CutPrefix(strings.TrimSpace(rest), "+"); ok {
			l, err := measure.Parse(extra, r.sys)
			if err == nil && l >= 0 {
				return HeightRule{AboveCeiling, l}
			}
		}
		r.fail(n, "%q: write to ceiling, above ceiling, or ceiling + 6in", n.text)
		return HeightRule{}
	}
	l, err := measure.Parse(text, r.sys)
	if err != nil || l <= 0 {
		r.fail(n, "%q is no height: write to deck, to ceiling, above ceiling, ceiling + 6in, or a length from the floor such as %s", n.text,
			[2]string{`9'-0"`, "2.7m"}[r.sys])
		return HeightRule{}
	}
	return HeightRule{FixedHeight, l}
}

// usualThickness is a wall's where nothing tells it: 4-7/8 in or 100 mm.
// Source: common practice, none published.
// UsualThickness is the finished thickness of a partition where nothing tells
// it: 4-7/8 in or 100 mm. Source: common practice, none published.
func UsualThickness(sys measure.System) Length { return usualThickness[sys] }

var usualThickness = [2]Length{39 * measure.EighthInch, 100 * measure.Millimetre}

// defaultTypes is the one type of a job that names none: every wall is of it.
func (r *reader) defaultTypes() []WallType {
	guess := rules.GuessMakeup(usualThickness[r.sys], r.sys)
	r.boardNamed(nil, guess.Board)
	side := Side{Plies: []string{guess.Board}, Finish: 4}
	r.assume("types", "one type", "nobody gave a wall type: every wall is boarded both sides with "+guess.Board, false)
	r.assume("types.usual.both.height", "to deck", "nobody said how high each side goes", true)
	return []WallType{{Name: "usual", StudDepth: guess.StudDepth, Mil: guess.Mil, Spacing: guess.Spacing, Sides: [2]Side{side, side}}}
}

// walls reads the changes to single walls, by mark.
func (r *reader) walls(f *fields) {
	keys, vals := f.pairs("walls")
	r.job.Walls = map[string]WallEdit{}
	for i, k := range keys {
		w := r.fields(vals[i], "a wall", "type", "leave", "flip", "heights", "start")
		e := WallEdit{Leave: w.text("leave"), Flip: w.yes("flip"), Line: k.line}
		if n := w.get("type"); n != nil {
			e.Type = r.text(n)
			r.use("type", e.Type, n)
		}
		if n := w.get("start"); n != nil {
			e.Start = []string{"left", "right"}[r.choice(n, "left", "right")]
		}
		if n := w.get("heights"); n != nil {
			e.Height = r.heights(n)
		}
		r.job.Walls[k.text] = e
	}
}

// heights reads one height for both sides, or left: and right:.
func (r *reader) heights(n *node) [2]*HeightRule {
	if n.kind == scalar {
		h := r.height(n)
		return [2]*HeightRule{&h, &h}
	}
	var out [2]*HeightRule
	f := r.fields(n, "heights", "left", "right")
	for i, key := range []string{"left", "right"} {
		if s := f.get(key); s != nil {
			h := r.height(s)
			out[i] = &h
		}
	}
	return out
}
