package ifc

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// cut is a hole in a wall: an opening element, or a hole that only the body
// has, which has no solids of its own.
type cut struct {
	id      part21.ID // of the opening element; 0 if only the body has it
	source  plan.Source
	solids  []solid // in the frame of the wall
	at      sections
	depth   float64 // how deep it goes where it does not go through; 0 through
	filler  *filler
	guessed bool // the box of a door, cut out of a body that is solid there
}

// filler is the door or window in an opening.
type filler struct {
	source    plan.Source
	kind      plan.OpeningKind
	mark, typ string
	leaves    int
	lo, hi    vec   // box of its body in the world; only of those without an opening
	corners   []vec // its corners
	id        part21.ID
}

// readOpenings reads the opening elements of a wall and of its parts.
func (m *model) readOpenings(g *geo, w *found, ids []part21.ID) {
	for _, id := range ids {
		for _, l := range m.rel.voids.of(id) {
			m.readOpening(g, w, l.to)
		}
	}
}

// sortCuts puts the cuts in order along the wall.
func (w *found) sortCuts() {
	slices.SortStableFunc(w.cuts, func(a, b cut) int {
		p, q := a.bounds(), b.bounds()
		return cmp.Or(cmp.Compare(math.Round(p.lo.u), math.Round(q.lo.u)), cmp.Compare(math.Round(p.lo.v), math.Round(q.lo.v)), cmp.Compare(a.source.GUID, b.source.GUID))
	})
}

func (c cut) bounds() box {
	b := c.at.left.bounds()
	r := c.at.right.bounds()
	if b.empty() {
		b = c.at.mid.bounds()
	}
	if !r.empty() {
		b = b.with(r.lo).with(r.hi)
	}
	return b
}

// readOpening reads one opening element into the wall's cuts.
func (m *model) readOpening(g *geo, w *found, id part21.ID) {
	rec, err := g.r.Get(id)
	if err != nil {
		if m.settle(id, "unreadable") {
			m.note(plan.Person, CodeOpeningUnread, id, message(err), "the opening is left out: the wall has no hole there")
		}
		return
	}
	p, err := g.product(rec)
	if err != nil {
		reason := "faulty shape"
		if errors.Is(err, errNoBody) {
			reason = "no body"
		}
		if m.settle(id, reason) { // not told again for each leg of a wall
			m.noteAt(g, plan.Person, CodeOpeningUnread, rec, "opening "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out: the wall has no hole there")
		}
		return
	}
	c := cut{id: id, source: m.source(id, rec)}
	shift := identity
	shift.o = p.place.o
	own := shift.then(w.frame)
	for _, s := range p.solids {
		c.solids = append(c.solids, s.moved(own))
	}
	s := sectionsOf(c.solids, w.t)
	c.at = sections{intersect(s.left, w.body.left), intersect(s.right, w.body.right), intersect(s.mid, w.body.mid)}
	c.filler = m.fillerOf(g, id)
	left, right := len(c.at.left) > 0, len(c.at.right) > 0
	switch {
	case !left && !right && len(c.at.mid) > 0:
		m.settle(id, "within its wall: cuts neither side")
		return
	case !left && !right:
		m.missed(w, rec, &c, s, p)
		return
	case !left || !right:
		if c.depth = c.niche(w.t); c.depth < grazes {
			m.settle(id, "only grazes its wall")
			return
		}
	}
	w.cuts = append(w.cuts, c)
	m.settle(id, "")
}

// missed settles an opening that takes nothing from the wall. The body may be
// without it already, as reference views are exported: then it tells what the
// hole is. Else it is kept as a stray.
func (m *model) missed(w *found, rec *part21.Record, c *cut, s sections, p product) {
	b := w.body.mid.bounds()
	if o := s.mid.bounds(); !o.empty() && !o.apart(b) {
		c.at = sections{rectangleIn(s.left, b), rectangleIn(s.right, b), rectangleIn(s.mid, b)}
		c.solids = nil
		w.cuts = append(w.cuts, *c)
		m.settle(rec.ID, "")
		return
	}
	lo, hi := box3(p.solids)
	m.mu.Lock()
	m.strays = append(m.strays, stray{rec.ID, rec.Arg(2).Text(), m.source(rec.ID, rec), w.id, lo.at(hi, 0.5).add(p.place.o)})
	m.mu.Unlock()
}

func rectangleIn(g region, b box) region {
	return intersect(g, region{{outer: ring{b.lo, {b.hi.u, b.lo.v}, b.hi, {b.lo.u, b.hi.v}}}})
}

// grazes is the depth in mm below which an opening that opens to one side only
// is a slip of the drawing and no niche: less than the paper of a board can
// follow. Common practice, no source.
const grazes = 3

// niche returns how deep a cut goes that opens to one side only.
func (c *cut) niche(t float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range c.solids {
		s.levels(func(y float64) { lo, hi = min(lo, y), max(hi, y) })
	}
	if len(c.at.left) > 0 {
		return min(t, t/2-lo)
	}
	return min(t, hi+t/2)
}

// fillerOf reads the door or window that fills an opening; nil if none does.
func (m *model) fillerOf(g *geo, opening part21.ID) *filler {
	for _, l := range m.rel.fills.of(opening) {
		rec, err := g.r.Get(l.to)
		if err != nil {
			m.note(plan.Warning, CodeFillingUnread, l.to, message(err), "the opening is taken as framed")
			m.settle(l.to, "unreadable")
			continue
		}
		if f := m.readFiller(g, rec); f != nil {
			m.settle(l.to, "")
			return f
		}
	}
	return nil
}

// readFiller reads a door or window; nil if rec is neither.
func (m *model) readFiller(g *geo, rec *part21.Record) *filler {
	f := &filler{id: rec.ID, source: m.source(rec.ID, rec), mark: markOf(rec.Arg(2).Text(), rec.Arg(7).Text())}
	switch rec.Key {
	case ifcDoor, ifcDoorStandardCase:
		f.kind, f.leaves = plan.Door, 1
	case ifcWindow, ifcWindowStandardCase:
		f.kind = plan.Window
	default:
		return nil
	}
	if f.typ = m.typeName(g, rec); f.typ == "" {
		f.typ = rec.Arg(2).Text()
	}
	if f.kind == plan.Door {
		f.leaves = leaves(rec.Arg(11).Enum())
	}
	return f
}

// longestMark is the most characters a door mark has on a schedule. Common
// practice, no source.
const longestMark = 12

// markOf returns what may be the mark on a door schedule: a short name, else a
// short tag that is no number of the authoring tool. The leaf's size is not
// told: OverallWidth and OverallHeight are those of the frame.
func markOf(name, tag string) string {
	if name != "" && len([]rune(name)) <= longestMark && !strings.ContainsAny(name, ":") {
		return name
	}
	digits := strings.Trim(tag, "0123456789") == ""
	if len([]rune(tag)) > longestMark || digits && len(tag) > 4 {
		return ""
	}
	return tag
}

// leaves counts the leaves of a door by its operation. Source: ISO 16739-1,
// IfcDoorTypeOperationEnum.
func leaves(op string) int {
	switch op {
	case "DOUBLE_DOOR_SINGLE_SWING", "DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_LEFT", "DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_RIGHT",
		"DOUBLE_DOOR_DOUBLE_SWING", "DOUBLE_DOOR_SLIDING", "DOUBLE_DOOR_FOLDING", "DOUBLE_PANEL_SINGLE_SWING",
		"DOUBLE_PANEL_SINGLE_SWING_OPPOSITE_LEFT", "DOUBLE_PANEL_SINGLE_SWING_OPPOSITE_RIGHT", "DOUBLE_PANEL_DOUBLE_SWING",
		"DOUBLE_PANEL_SLIDING", "DOUBLE_PANEL_FOLDING":
		return 2
	}
	return 1
}

// bodyHoles adds the holes and foot notches of the sides that no opening
// element explains.
func (w *found) bodyHoles() {
	left, right := holesOf(w.body.left), holesOf(w.body.right)
	used := make([]bool, len(right))
	for _, l := range left {
		c := cut{at: sections{left: region{{outer: l}}, mid: region{{outer: l}}}}
		for j, r := range right {
			if !used[j] && !l.bounds().apart(r.bounds()) {
				used[j], c.at.right = true, region{{outer: r}}
				break
			}
		}
		w.addBodyHole(c)
	}
	for j, r := range right {
		if !used[j] {
			w.addBodyHole(cut{at: sections{right: region{{outer: r}}, mid: region{{outer: r}}}})
		}
	}
}

func holesOf(g region) []ring {
	var out []ring
	for _, s := range g {
		for _, h := range s.holes {
			out = append(out, h.turned(true))
		}
		_, notches := fillNotches(s.outer)
		for _, n := range notches {
			out = append(out, n.turned(true))
		}
	}
	return out
}

// addBodyHole adds a hole of the body, or gives its exact shape to the opening
// element that stands for it.
func (w *found) addBodyHole(c cut) {
	b := c.bounds()
	for i := range w.cuts {
		o := &w.cuts[i]
		if len(o.solids) == 0 && o.id != 0 && !o.bounds().apart(b) {
			o.at = c.at
			return
		}
	}
	if len(c.at.left) == 0 || len(c.at.right) == 0 {
		c.depth = -1 // depth not known
	}
	c.source = w.bodySource()
	w.cuts = append(w.cuts, c)
}

func (w *found) bodySource() plan.Source {
	return plan.Source{Ref: w.id.String(), GUID: w.guid, Entity: "body"}
}

// least size in mm of a hole without a frame that is called framed rather than
// a penetration. Common practice, no source.
const framedLeast = 600

// opening writes a cut into the plan's opening.
func (w *found) opening(c *cut) plan.Opening {
	b := c.bounds()
	o := plan.Opening{
		At: measure.FromMM((b.lo.u + b.hi.u) / 2), Width: measure.FromMM(b.hi.u - b.lo.u),
		Sill: measure.FromMM(b.lo.v), Head: measure.FromMM(b.hi.v),
		Basis: "model", HeadBy: "model", Sources: []plan.Source{c.source},
	}
	foot := w.body.mid.bounds().lo.v
	switch {
	case c.filler != nil:
		f := c.filler
		o.Kind, o.Mark, o.Type, o.Leaves = f.kind, f.mark, f.typ, f.leaves
		o.Sources = append(o.Sources, f.source)
	case c.depth != 0:
		o.Kind = plan.Niche
	case b.hi.u-b.lo.u >= framedLeast && b.hi.v-b.lo.v >= framedLeast || b.lo.v < foot+1 && b.hi.v-b.lo.v >= notchHeight:
		o.Kind = plan.Framed
	default:
		o.Kind = plan.Penetration
	}
	if c.depth > 0 {
		o.Depth = measure.FromMM(c.depth)
	}
	if c.depth < 0 {
		o.Depth = measure.FromMM(w.t / 2)
		o.Doubt = "how deep the niche goes cannot be told from the body; half the wall is taken"
	}
	o.Shape = c.outline()
	return o
}

// outline returns the shape of a cut where it is no rectangle.
func (c *cut) outline() geom.Poly {
	g := c.at.left
	if c.at.right.area() > g.area() {
		g = c.at.right
	}
	big := largest(g)
	if big == nil {
		return nil
	}
	// An opening cut askew is a rectangle on each side, one beside the other.
	own := big.outer.bounds()
	full := (own.hi.u - own.lo.u) * (own.hi.v - own.lo.v)
	if math.Abs(big.outer.area()-full) <= 1e-6*full+1 {
		return nil
	}
	return gridPoly(startAt(big.outer))
}
