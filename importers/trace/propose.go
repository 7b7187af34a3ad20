package trace

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

// evidence is what a layer holds and how much of it looks like walls.
type evidence struct {
	name   string
	lines  int
	length float64 // mm
	box    orb.Bound
	texts  int
	rooms  int     // texts that are words for rooms
	share  float64 // of length that faces another line at partition thickness
	paired float64 // mm of it
	long   float64 // mean length of the pairs over their thickness
	done   bool
}

// Propose guesses what each layer holds: by its name in a dozen languages, and
// by what is drawn on it. Every layer with linework or writing gets an entry,
// so that a person can correct the list; layers that name and evidence say
// nothing about come as Background. Where no name speaks of walls the layer
// whose lines pair best is proposed: a drawing with everything on layer 0 too.
func Propose(d *linework.Drawing) Mapping {
	ev := gather(d)
	var m Mapping
	walls := 0
	for i := range ev {
		e := &ev[i]
		u := LayerUse{Pattern: e.name, Role: wordRole(e.name), LengthMM: e.length}
		if u.Role != Background {
			u.Why = "its name"
		}
		if u.Role == Walls && e.length > 0 {
			walls++
			weigh(d, e)
			u.Share = e.share
			u.Why = fmt.Sprintf("its name; %.0f %% of its %.0f m of line pairs up as wall faces", 100*e.share, e.length/1000)
			if e.share < 0.2 {
				if t := thicknessIn(e.name); t > 0 {
					u.Drawn = DrawnCentre
					u.Why = fmt.Sprintf("its name; few lines pair up, and the name gives %s: centrelines", sizeText(t))
				} else if e.lines > 0 && e.share < 0.02 {
					u.Drawn = DrawnCentre
					u.Why = "its name; no lines pair up: centrelines, of a thickness nobody said"
				}
			}
		}
		m.Layers = append(m.Layers, u)
	}
	if walls == 0 {
		proposeByLines(d, ev, &m)
		if !slices.ContainsFunc(m.Layers, func(u LayerUse) bool { return u.Role == Walls }) {
			proposeSingle(ev, &m)
		}
	}
	proposeRooms(ev, &m)
	m.Blocks = proposeBlocks(d, &m)
	sortUses(m.Layers)
	return m
}

// proposeSingle is the last resort: no name speaks of walls and no lines pair
// up. The layer with most line is then proposed as walls drawn as single lines,
// of a thickness that a person has to give.
func proposeSingle(ev []evidence, m *Mapping) {
	best := -1
	for i := range m.Layers {
		if u := &m.Layers[i]; u.Role == Background && u.LengthMM > 0 && (best < 0 || u.LengthMM > m.Layers[best].LengthMM) {
			best = i
		}
	}
	if best < 0 {
		return
	}
	u := &m.Layers[best]
	u.Role, u.Drawn = Walls, DrawnCentre
	u.Why = "a guess: no name speaks of walls and no lines pair up, and it holds most line: centrelines, of a thickness nobody said"
}

// Complete adds to what a job says of a drawing's layers what Propose guesses of
// the others, walls aside: a job that only names its wall layers gets its doors,
// windows, rooms and tags all the same. The job's rules come first and hold.
func Complete(d *linework.Drawing, m Mapping) Mapping {
	out := Mapping{Layers: slices.Clone(m.Layers), Blocks: slices.Clone(m.Blocks)}
	p := Propose(d)
	for _, u := range p.Layers {
		if u.Role != Walls && u.Role != Background && m.use(u.Pattern) == nil {
			out.Layers = append(out.Layers, u)
		}
	}
	out.Blocks = append(out.Blocks, p.Blocks...)
	return out
}

// gather lists the layers that hold linework or writing, by plain name; the
// layers of several bound references with one name are one.
func gather(d *linework.Drawing) []evidence {
	at := map[string]int{}
	raw := map[string]int{} // the layer's own spelling
	var out []evidence
	get := func(layer string) *evidence {
		if i, ok := raw[layer]; ok {
			return &out[i]
		}
		k := plain(layer)
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, evidence{name: strings.TrimSpace(layer)})
		}
		raw[layer] = i
		return &out[i]
	}
	for i := range d.Segments {
		s := &d.Segments[i]
		e := get(s.Layer)
		e.lines++
		if finite(s.A) && finite(s.B) {
			e.length += math.Hypot(s.A[0]-s.B[0], s.A[1]-s.B[1])
			if e.lines == 1 || e.box.Min == e.box.Max {
				e.box = orb.Bound{Min: s.A, Max: s.A}
			}
			e.box = e.box.Extend(s.A).Extend(s.B)
		}
	}
	for i := range d.Arcs {
		get(d.Arcs[i].Layer)
	}
	for i := range d.Fills {
		get(d.Fills[i].Layer)
	}
	for i := range d.Inserts {
		get(d.Inserts[i].Layer)
	}
	for i := range d.Texts {
		e := get(d.Texts[i].Layer)
		e.texts++
		if roomLike(d.Texts[i].Value) {
			e.rooms++
		}
	}
	for i := range out { // the same name whatever the order of entities
		out[i].name = spelling(out[i].name, raw, i)
	}
	slices.SortFunc(out, func(a, b evidence) int { return cmp.Compare(plain(a.name), plain(b.name)) })
	return out
}

// spelling is the first by order of the spellings of one layer.
func spelling(name string, raw map[string]int, i int) string {
	for k, j := range raw {
		if j == i && k < name {
			name = k
		}
	}
	return name
}

// weigh pairs up the lines of one layer alone.
func weigh(d *linework.Drawing, e *evidence) {
	if e.done {
		return
	}
	e.done = true
	t := &tracer{d: d, shift: shiftTol, m: Mapping{Layers: []LayerUse{{Pattern: e.name, Role: Walls, Drawn: DrawnFinish}}}}
	t.collect()
	t.buildBundles()
	t.learnThickness()
	t.pairAll()
	var pairs, ratio float64
	for i := range t.strands {
		s := &t.strands[i]
		l, th := s.drawn().MM(), s.thick().MM()
		if l < th || th < 60 || th > 450 {
			continue
		}
		pairs += l
		ratio += l * min(l/th, 50)
	}
	e.paired = 2 * pairs
	if e.length > 0 {
		e.share = min(1, e.paired/e.length)
	}
	if pairs > 0 {
		e.long = ratio / pairs
	}
}

// Shares tells of every layer with linework, by its plain name, how much of its
// line would pair up as the faces of walls if it held walls, 0 to 1: what a
// person weighs a mapping by. It pairs up each layer alone, so it costs as much
// as the drawing has layers.
func Shares(d *linework.Drawing) map[string]float64 {
	out := map[string]float64{}
	ev := gather(d)
	for i := range ev {
		if e := &ev[i]; e.lines >= 4 && e.length > 0 {
			weigh(d, e)
			out[plain(e.name)] = e.share
		}
	}
	return out
}

// ShareOf looks a layer up among shares, whatever its spelling and the reference
// it was bound from.
func ShareOf(shares map[string]float64, layer string) float64 { return shares[plain(layer)] }

// proposeByLines makes a wall layer of the layers whose lines pair best.
func proposeByLines(d *linework.Drawing, ev []evidence, m *Mapping) {
	best, top := 0.0, -1
	score := make([]float64, len(ev))
	for i := range ev {
		e := &ev[i]
		if e.lines < 4 || m.Layers[i].Role != Background || otherWords.in(plain(e.name)) {
			continue
		}
		weigh(d, e)
		score[i] = e.paired * e.share * min(e.long, 12) / 12
		if score[i] > best {
			best, top = score[i], i
		}
	}
	for i := range ev {
		e := &ev[i]
		if score[i] <= 0 || score[i] < best/3 || !e.within(&ev[top]) {
			continue
		}
		u := &m.Layers[i]
		u.Role, u.Share, u.Guessed = Walls, e.share, true
		u.Why = fmt.Sprintf("no layer's name speaks of walls; %.0f %% of its %.0f m of line pairs up as wall faces", 100*e.share, e.length/1000)
	}
}

// within reports whether a layer's lines lie where another's do: a sheet's
// frame pairs up too, but runs round the plan.
func (e *evidence) within(o *evidence) bool {
	const d = 2000
	return e.box.Min[0] > o.box.Min[0]-d && e.box.Min[1] > o.box.Min[1]-d && e.box.Max[0] < o.box.Max[0]+d && e.box.Max[1] < o.box.Max[1]+d
}

// proposeBlocks finds blocks that are doors by what is drawn in them, a leaf
// and its swing, where neither name nor layer says so.
func proposeBlocks(d *linework.Drawing, m *Mapping) []BlockUse {
	type shape struct{ arcs, swings int }
	in := map[string]*shape{}
	for i := range d.Arcs {
		a := &d.Arcs[i]
		if a.Block == "" {
			continue
		}
		s := in[a.Block]
		if s == nil {
			s = &shape{}
			in[a.Block] = s
		}
		s.arcs++
		if sweep := a.End - a.Start; !a.Full && sweep >= 25 && sweep <= 185 && a.Radius >= 450 && a.Radius <= 1600 {
			s.swings++
		}
	}
	count := map[string]int{}
	for i := range d.Inserts {
		n := &d.Inserts[i]
		u := m.use(n.Layer)
		if wordRole(n.Name) == Background && (u == nil || u.Role != Doors && u.Role != Windows) {
			count[n.Name]++
		}
	}
	var out []BlockUse
	for name, n := range count {
		if s := in[name]; s != nil && s.swings > 0 && s.swings == s.arcs && s.swings <= 2*n {
			out = append(out, BlockUse{Pattern: name, Role: Doors, Kind: plan.Door})
		}
	}
	slices.SortFunc(out, func(a, b BlockUse) int { return cmp.Compare(a.Pattern, b.Pattern) })
	return out
}
