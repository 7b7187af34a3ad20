package quantity

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/parallel"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// Places of a screw.
const (
	PlaceEdge    = "edge"
	PlaceField   = "field"
	PlaceOpening = "opening"
	PlaceTrack   = "track" // the row along the floor track
	PlaceTop     = "top"   // the row along a fixed top track
)

// Screw is one screw of a piece. At is on the face; Line tells screws of one
// stud line of the piece apart from others (-1 for rows along track, head and
// sill).
type Screw struct {
	At    geom.Pt
	Place string
	Item  string
	Line  int
	Tack  bool // set in the tack pass
}

// ScrewCount counts the screws of one item at one place of one ply. Count
// includes Tack.
type ScrewCount struct {
	Face  string
	Ply   int
	Item  string
	Place string
	Count int
	Tack  int
}

// Screwer knows where screws go. The zero value is of no use: NewScrewer.
type Screwer struct {
	job      *job.Job
	set      *rules.Set
	settings Settings
	metric   bool
}

// NewScrewer returns the Screwer of a job's rules.
func NewScrewer(j *job.Job, st Settings) *Screwer {
	return &Screwer{job: j, set: j.Rules, settings: st, metric: j.Rules.System == measure.Metric}
}

// Positions returns where the screws of one piece go, on its face.
func (s *Screwer) Positions(l *layout.Layout, p *layout.Piece) []geom.Pt {
	screws := s.Screws(l, p)
	out := make([]geom.Pt, len(screws))
	for i := range screws {
		out[i] = screws[i].At
	}
	return out
}

// Pattern returns the pattern a piece of a face is screwed with; false if the
// face's run names a listed design that is not known: the general rules are
// given then and a person must look.
func (s *Screwer) Pattern(l *layout.Layout, f *run.Face, ply int) (Pattern, bool) {
	spacing := l.Spacing
	if spacing == 0 {
		spacing = l.Run.Spacing
	}
	general := General(s.set, spacing)
	if s.set.Counting == rules.C1 {
		general.Edge, general.Opening = general.Field, 0
	}
	if l.Run.Listing == "" && l.Run.Rating == "" {
		return general, true
	}
	listed, ok := ListedPattern(l.Run.Listing, ply, len(f.Plies))
	if !ok {
		return general, false
	}
	return Stricter(listed, general), true
}

// Screws returns the screws of one piece: stud lines from left to right, each
// from the bottom up, then track, head and sill rows.
func (s *Screwer) Screws(l *layout.Layout, p *layout.Piece) []Screw {
	pat, _ := s.Pattern(l, p.Face, p.Ply)
	if s.set.Counting == rules.C1 {
		return s.conventionC1(l, p, pat)
	}
	w := work{s: s, l: l, p: p, pat: pat, box: p.Outline.Bounds(), low: standsOnFloor(p)}
	w.tack = w.low && !p.Turned && p.Role != layout.Header && p.Role != layout.Top
	for i, ln := range s.lines(l, p) {
		w.line(i, ln)
	}
	w.rows()
	if !w.tack || p.ID == firstWhole(l) {
		for i := range w.out {
			w.out[i].Tack = true
		}
	}
	return w.out
}

// standsOnFloor reports whether a piece is of the lowest row.
func standsOnFloor(p *layout.Piece) bool {
	return p.Outline.Bounds().Min.Y <= p.Face.Bottom+inch/2
}

// firstWhole is the sheet that is plumbed and screwed off whole before the
// tack pass: the first of the side hung first.
func firstWhole(l *layout.Layout) string {
	best := -1
	for i := range l.Pieces {
		p := &l.Pieces[i]
		if p.Ply == 1 && standsOnFloor(p) && hungFirst(l, p.Face) && (best < 0 || p.Order < l.Pieces[best].Order) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	return l.Pieces[best].ID
}

func hungFirst(l *layout.Layout, f *run.Face) bool {
	for i := range l.Faces {
		if l.Faces[i].Face == f {
			return l.Faces[i].First
		}
	}
	return false
}

// item names the screw for a piece into a stud; nil for track and header.
func (s *Screwer) item(l *layout.Layout, p *layout.Piece, stud *layout.Stud) string {
	length, _ := s.length(p)
	mil := l.Run.Mil
	if stud != nil && stud.Kind == layout.JambStud {
		mil = s.settings.jambMil(mil)
	}
	return screwItem(length, PointForMil(mil), s.set.System)
}

// length is the stock length of a piece's screws: through its own ply and those
// under it; false where none is long enough.
func (s *Screwer) length(p *layout.Piece) (Length, bool) {
	n := max(p.Ply, 1)
	names := make([]string, n)
	for _, y := range p.Face.Plies {
		if y.Number >= 1 && y.Number < n {
			names[y.Number-1] = y.Board
		}
	}
	names[n-1] = p.Board
	var total Length
	for _, name := range names {
		if b := s.job.Board(name); b != nil {
			total += b.Thickness
		}
	}
	return ScrewLength(total, s.set.ScrewEmbed, s.set.System)
}

// countScrews fills in Result.Screws, by face, ply, item, place, and says what
// a person must look at. Screws are placed on all cores; no two layouts share a
// face.
func (t *taker) countScrews() {
	counted := make([][]ScrewCount, len(t.layouts))
	spots := make([][]int, len(t.layouts))
	parallel.Each(len(t.layouts), func(n int) { counted[n], spots[n] = t.screws.count(t.layouts[n]) })
	t.spots = map[string]int{}
	for n, l := range t.layouts {
		t.askAboutScrews(l)
		for i := range l.Pieces {
			t.spots[l.Pieces[i].ID] += spots[n][i]
		}
	}
	t.res.Screws = slices.Concat(counted...)
	slices.SortFunc(t.res.Screws, func(a, b ScrewCount) int {
		return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.Ply, b.Ply), cmp.Compare(a.Item, b.Item), cmp.Compare(a.Place, b.Place))
	})
}

// count counts the screws of a layout, and of each of its pieces those that
// will be seen.
func (s *Screwer) count(l *layout.Layout) (counts []ScrewCount, spots []int) {
	type key struct {
		face  *run.Face
		ply   int
		item  string
		place string
	}
	at := map[key]int{}
	spots = make([]int, len(l.Pieces))
	for i := range l.Pieces {
		p := &l.Pieces[i]
		for _, sc := range s.Screws(l, p) {
			if p.Face.Ceiling == 0 || sc.At.Y < p.Face.Ceiling {
				spots[i]++
			}
			k := key{p.Face, p.Ply, sc.Item, sc.Place}
			n, ok := at[k]
			if !ok {
				n = len(counts)
				at[k] = n
				counts = append(counts, ScrewCount{Face: p.Face.ID, Ply: k.ply, Item: k.item, Place: k.place})
			}
			counts[n].Count++
			if sc.Tack {
				counts[n].Tack++
			}
		}
	}
	return counts, spots
}

func (t *taker) askAboutScrews(l *layout.Layout) {
	hung := map[string]bool{}
	for i := range l.Pieces {
		hung[l.Pieces[i].Face.ID] = true
	}
	for _, f := range l.Run.Faces {
		if !f.Boarded || len(f.Plies) == 0 || !hung[f.ID] {
			continue
		}
		if _, ok := t.screws.Pattern(l, f, 1); !ok {
			t.res.Exceptions = append(t.res.Exceptions, plan.Exception{
				Severity: plan.Person, Code: "listing-unknown", Target: f.ID,
				Message: "rated " + quoted(l.Run.Rating) + " by design " + quoted(l.Run.Listing) + ", whose fastening pattern is not known here",
				Did:     "screws counted by the general rules; take the pattern from the listing",
			})
		}
	}
	asked := map[string]bool{}
	for i := range l.Pieces {
		p := &l.Pieces[i]
		if _, ok := t.screws.length(p); !ok && !asked[p.Face.ID] {
			asked[p.Face.ID] = true
			t.res.Exceptions = append(t.res.Exceptions, plan.Exception{
				Severity: plan.Warning, Code: "screw-too-short", Target: p.Face.ID,
				Message: "no stock screw goes through all the board of this side",
				Did:     "the longest counted; have longer ones ordered",
			})
		}
	}
}

func quoted(s string) string {
	if s == "" {
		return "(none given)"
	}
	return `"` + s + `"`
}
