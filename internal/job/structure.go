package job

import (
	"fmt"

	"boardrun/internal/measure"
)

// ceilings reads the heights of ceilings above the storey's floor.
func (r *reader) ceilings(f *fields) {
	c := &r.job.Ceilings
	c.ByStorey, c.ByRoom = map[string]Length{}, map[string]Length{}
	n := f.get("ceilings")
	if n == nil {
		return
	}
	if n.kind == scalar { // ceilings: 9'-0"
		c.Default = r.thickness(n, "ceiling height")
		r.at["ceiling"] = n
		return
	}
	g := r.fields(n, "ceilings", "default", "storeys", "rooms")
	if d := g.get("default"); d != nil {
		c.Default = r.thickness(d, "ceiling height")
		r.at["ceiling"] = d
	}
	for key, into := range map[string]map[string]Length{"storeys": c.ByStorey, "rooms": c.ByRoom} {
		keys, vals := g.pairs(key)
		for i, k := range keys {
			into[k.text] = r.thickness(vals[i], "ceiling height")
			if key == "storeys" {
				r.use("storey", k.text, k)
			}
		}
	}
}

// decks reads the undersides of the structure.
func (r *reader) decks(f *fields) {
	for i, n := range f.list("decks") {
		d := r.deck(n)
		r.at[fmt.Sprint("deck ", i)] = n
		r.job.Decks = append(r.job.Decks, d)
	}
}

func (r *reader) deck(n *node) Deck {
	d := Deck{Line: n.line}
	if n.kind == scalar { // decks: 12'-0"
		d.Level = r.thickness(n, "deck level")
		return d
	}
	f := r.fields(n, "a deck", "storey", "level", "points", "outline", "flutes")
	if s := f.get("storey"); s != nil {
		d.Storey = r.text(s)
		r.use("storey", d.Storey, s)
	}
	level, points := f.get("level"), f.get("points")
	switch {
	case level != nil && points != nil:
		r.fail(points, "a deck has a level or points, not both")
	case level != nil:
		d.Level = r.thickness(level, "deck level")
	case points != nil:
		d.Points = r.points(points)
	case n.kind == mapping:
		r.fail(n, "a deck lacks its height; write level: 12'-0\", or points: with three or more [x, y, height]")
	}
	if o := f.get("outline"); o != nil {
		d.Outline = r.outline(o)
	}
	if fl := f.get("flutes"); fl != nil {
		g := r.fields(fl, "flutes", "depth", "pitch", "along")
		d.FluteDepth, d.FlutePitch = g.length("depth"), g.length("pitch")
		d.FluteAlong = "x"
		if a := g.get("along"); a != nil {
			d.FluteAlong = []string{"x", "y"}[r.choice(a, "x", "y")]
		}
	}
	return d
}

// points reads three or more points of a deck that are not in one line.
func (r *reader) points(n *node) []Point3 {
	if n.kind != list || len(n.items) < 3 {
		r.fail(n, "a sloped deck takes three or more points [x, y, height]")
		return nil
	}
	var out []Point3
	for _, item := range n.items {
		xyz := r.numbers(item, 3)
		if xyz == nil {
			return nil
		}
		if xyz[2] <= 0 {
			r.fail(item, "the deck's height must be above 0")
			return nil
		}
		out = append(out, Point3{xyz[0], xyz[1], xyz[2]})
	}
	if inLine(out) {
		r.fail(n, "the points lie in one line; a plane takes three that do not")
		return nil
	}
	return out
}

// inLine reports whether no three points span an area worth speaking of: the
// widest triangle on the longest side is lower than 1/1000 of that side. Float
// guards map coordinates against overflow; the limit guards against slopes
// read off noise.
func inLine(pts []Point3) bool {
	a, far := pts[0], 0.0
	var b Point3
	for _, p := range pts {
		if d := plan2(a, p); d > far {
			b, far = p, d
		}
	}
	for _, p := range pts {
		cross := float64(b.X-a.X)*float64(p.Y-a.Y) - float64(p.X-a.X)*float64(b.Y-a.Y)
		if max(cross, -cross) > far/1000 {
			return false
		}
	}
	return true
}

// plan2 is the squared distance in plan.
func plan2(a, b Point3) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	return dx*dx + dy*dy
}

// Highest returns the highest point of the deck that was given.
func (d *Deck) Highest() Length {
	h := d.Level
	for _, p := range d.Points {
		h = max(h, p.Z)
	}
	return h
}

// defaultHeights fills in decks and ceilings that walls need and nobody gave.
// A model tells its own decks, so a job that reads only models gets none.
func (r *reader) defaultHeights() {
	j := r.job
	deck := [2]Length{120 * measure.Inch, 3000 * measure.Millimetre}[r.sys]
	for _, storey := range j.plainStoreys() {
		if !j.hasDeck(storey) {
			j.Decks = append(j.Decks, Deck{Storey: storey, Level: deck, Assumed: true})
			r.assume("decks."+storey+".level", measure.Human(deck, r.sys), "nobody gave the underside of the structure of storey "+storey, true)
		}
	}
	if j.Ceilings.Default > 0 {
		return
	}
	if !j.needsCeiling() {
		r.assume("ceilings.default", "none", "nobody gave a ceiling; walls are finished over their whole height", false)
		return
	}
	j.Ceilings.Default = [2]Length{108 * measure.Inch, 2700 * measure.Millimetre}[r.sys]
	r.assume("ceilings.default", measure.Human(j.Ceilings.Default, r.sys), "nobody gave a ceiling height", true)
}

// plainStoreys returns the storeys shown by drawings that are no models, in
// the order of the file.
func (j *Job) plainStoreys() []string {
	var out []string
	seen := map[string]bool{}
	for i := range j.Drawings {
		d := &j.Drawings[i]
		if !d.Model() && !seen[d.Storey] {
			seen[d.Storey] = true
			out = append(out, d.Storey)
		}
	}
	return out
}

func (j *Job) hasDeck(storey string) bool {
	for _, d := range j.Decks {
		if d.Storey == storey || d.Storey == "" {
			return true
		}
	}
	return false
}

// needsCeiling reports whether some side's height is told from a ceiling.
func (j *Job) needsCeiling() bool {
	for _, t := range j.Types {
		for _, s := range t.Sides {
			if len(s.Plies) > 0 && (s.Height.Kind == AboveCeiling || s.Height.Kind == ToCeiling) {
				return true
			}
		}
	}
	for _, w := range j.Walls {
		for _, h := range w.Height {
			if h != nil && (h.Kind == AboveCeiling || h.Kind == ToCeiling) {
				return true
			}
		}
	}
	return false
}
