package check

import (
	"fmt"
	"sort"

	"boardrun/internal/report"
)

// Objection is one thing in a takeoff that cannot be right.
type Objection struct {
	Rule   string // short name of the invariant: "tiling", "joint-stud", …
	Target string // id of the face, piece, sheet or run
	Text   string
}

func (o Objection) String() string { return o.Rule + " " + o.Target + ": " + o.Text }

// Limits are the rule values the judge holds joints to, in mm.
type Limits struct {
	JambBandMM float64 // no joint nearer a jamb line above the head or below the sill
	RipMM      float64 // narrowest piece along the run
	TopMM      float64 // least height of a piece at its low side
	SameStudMM float64 // two joints nearer than this share a stud
}

// InchLimits are the default limits of the inch-pound system, MetricLimits
// those of the metric one.
// Source: US Navy NAVEDTRA 14044 (joints at least 6 in from openings); least
// rip and least top are common practice, no source.
var (
	InchLimits   = Limits{JambBandMM: 152.4, RipMM: 152.4, TopMM: 152.4, SameStudMM: 25.4}
	MetricLimits = Limits{JambBandMM: 150, RipMM: 150, TopMM: 150, SameStudMM: 25}
)

// tol is the slack of a coordinate comparison: half a measuring step of the
// contract's own last decimals, far below anything a saw can do.
const tol = 0.002

// Takeoff returns every objection to t, sorted; none means that it stands.
func Takeoff(t *report.Takeoff, lim Limits) []Objection {
	j := judge{t: t, lim: lim}
	j.index()
	j.runs()
	j.faces()
	j.joints()
	j.staggers()
	j.sheets()
	j.sums()
	sort.SliceStable(j.out, func(a, b int) bool {
		if j.out[a].Rule != j.out[b].Rule {
			return j.out[a].Rule < j.out[b].Rule
		}
		return j.out[a].Target < j.out[b].Target
	})
	return j.out
}

type plyKey struct {
	face string
	ply  int
}

type judge struct {
	t      *report.Takeoff
	lim    Limits
	out    []Objection
	run    map[string]*report.Run
	face   map[string]*report.Face
	piece  map[string]*report.Piece
	opened map[string][]*report.Opening // by face
	byPly  map[plyKey][]*report.Piece
	excuse map[string]map[string]bool // code → targets
}

func (j *judge) object(rule, target, format string, args ...any) {
	j.out = append(j.out, Objection{rule, target, fmt.Sprintf(format, args...)})
}

// index builds the look-ups and objects to ids used twice or not at all.
func (j *judge) index() {
	t := j.t
	j.run = map[string]*report.Run{}
	j.face = map[string]*report.Face{}
	j.piece = map[string]*report.Piece{}
	j.opened = map[string][]*report.Opening{}
	j.byPly = map[plyKey][]*report.Piece{}
	j.excuse = map[string]map[string]bool{}
	for i := range t.Runs {
		j.once(j.run[t.Runs[i].ID] != nil, t.Runs[i].ID)
		j.run[t.Runs[i].ID] = &t.Runs[i]
	}
	for i := range t.Faces {
		f := &t.Faces[i]
		j.once(j.face[f.ID] != nil, f.ID)
		j.face[f.ID] = f
		if j.run[f.Run] == nil {
			j.object("reference", f.ID, "names run %q, which is not there", f.Run)
		}
	}
	for i := range t.Pieces {
		p := &t.Pieces[i]
		j.once(j.piece[p.ID] != nil, p.ID)
		j.piece[p.ID] = p
		if j.face[p.Face] == nil {
			j.object("reference", p.ID, "names face %q, which is not there", p.Face)
		}
		j.byPly[plyKey{p.Face, p.Ply}] = append(j.byPly[plyKey{p.Face, p.Ply}], p)
	}
	for i := range t.Openings {
		o := &t.Openings[i]
		for _, f := range o.Faces {
			if j.face[f] == nil {
				j.object("reference", o.ID, "names face %q, which is not there", f)
			}
			j.opened[f] = append(j.opened[f], o)
		}
	}
	for _, e := range t.Exceptions {
		if j.excuse[e.Code] == nil {
			j.excuse[e.Code] = map[string]bool{}
		}
		j.excuse[e.Code][e.Target] = true
	}
}

func (j *judge) once(seen bool, id string) {
	if seen {
		j.object("unique", id, "the id is used twice")
	}
}

// excused reports whether an exception of that code names one of the targets.
func (j *judge) excused(code string, targets ...string) bool {
	for _, t := range targets {
		if code != "" && j.excuse[code][t] {
			return true
		}
	}
	return false
}
