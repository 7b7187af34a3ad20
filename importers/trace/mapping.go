package trace

import (
	"sort"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Length is measure.Length.
type Length = measure.Length

// Role says what a layer or a block holds.
type Role uint8

// Roles.
const (
	Background  Role = iota // not read
	Walls                   // wall faces, outlines or centrelines
	WallFill                // hatch or solid in the walls: evidence, no edges
	Doors                   // leaves, swings, door blocks
	Windows                 // glass, frames, sills, window blocks
	Heads                   // jambs, heads and lintels of openings
	Columns                 // columns and structure walls stop at
	RoomText                // names and numbers of rooms
	TagText                 // wall tags
	OpeningText             // door and window marks
	Decks                   // outlines of decks or ceilings, at their elevation
	Ignore                  // on the list, left out because the job says so
)

var roleNames = [...]string{"background", "wall", "wall fill", "door", "window", "opening", "column", "room", "tag", "opening tag", "deck", "ignore"}

func (r Role) String() string { return roleNames[r] }

// Roles lists every role, for tests and for reading a job's words.
func Roles() []Role {
	out := make([]Role, len(roleNames))
	for i := range out {
		out[i] = Role(i)
	}
	return out
}

// Drawn says what the lines of a wall layer are.
type Drawn uint8

// What wall lines are. Faces, whether of the finished wall or of its studs,
// are paired; which of the two they are is the job's word and does not change
// what is drawn, save where both are: then Stud takes the inner pair.
const (
	DrawnAuto   Drawn = iota // faces, unless the layer's name or a wide polyline says centrelines
	DrawnFinish              // faces of the finished wall
	DrawnStud                // faces of the stud zone
	DrawnCentre              // centrelines
)

// LayerUse says what one layer, or all that match a pattern with * and ?,
// holds. Matching ignores case and the prefix of a bound reference.
type LayerUse struct {
	Pattern   string
	Role      Role
	Type      string         // wall type; "" = the layer's own name stands for it
	Thickness Length         // of centrelines, or of every wall on the layer; 0 = learned
	Status    *plan.Status   // nil = by the layer's name
	Kind      *plan.WallKind // nil = by the layer's name
	Drawn     Drawn

	// Guessed says that no name speaks of walls and the lines alone made the
	// layer a wall layer: then what stands apart and has no opening is furniture
	// or a frame, not a wall, and so is what comes out of a small block.
	Guessed bool

	// Evidence of a proposal.
	LengthMM float64 // linework on the layer
	Share    float64 // of LengthMM that pairs up at partition thickness, 0 to 1
	Why      string
}

// BlockUse says what a block is, by a pattern on its name.
type BlockUse struct {
	Pattern string
	Role    Role
	Kind    plan.OpeningKind
	Type    string
}

// Mapping is what the job says, or Propose guesses, about a drawing's layers
// and blocks. The first pattern that matches decides.
type Mapping struct {
	Layers []LayerUse
	Blocks []BlockUse
}

// Options are the job's other words.
type Options struct {
	Storey      string
	Region      geom.Poly // part of the sheet to read, in drawing millimetres on the grid; empty = all
	Views       bool      // with no Region: read the one view that is a plan where the sheet holds several
	Drawn       Drawn     // for layers that do not say
	Thicknesses []Length  // wall thicknesses the job knows; found first
	TypeOf      map[string]Length
	Hidden      bool             // read layers that are off or frozen too
	Cased       plan.OpeningKind // what a plain gap with jamb lines is; the zero value means Wrapped
}

// use returns the rule for a layer, or nil.
func (m *Mapping) use(layer string) *LayerUse {
	name := plain(layer)
	for i := range m.Layers {
		if glob(plain(m.Layers[i].Pattern), name) {
			return &m.Layers[i]
		}
	}
	return nil
}

// block returns the rule for a block name, or nil.
func (m *Mapping) block(name string) *BlockUse {
	n := plain(name)
	for i := range m.Blocks {
		if glob(plain(m.Blocks[i].Pattern), n) {
			return &m.Blocks[i]
		}
	}
	return nil
}

// plain folds case and strips the prefixes that binding or attaching a
// reference puts before a name: "Floor$0$A-WALL", "Floor|A-WALL".
func plain(name string) string {
	if i := strings.LastIndexByte(name, '|'); i >= 0 && i+1 < len(name) {
		name = name[i+1:]
	}
	for {
		i := strings.IndexByte(name, '$')
		if i < 0 {
			break
		}
		j := i + 1
		for j < len(name) && name[j] >= '0' && name[j] <= '9' {
			j++
		}
		if j == i+1 || j >= len(name) || name[j] != '$' || j+1 >= len(name) {
			break
		}
		name = name[j+1:]
	}
	return strings.ToLower(strings.TrimSpace(name))
}

// glob matches a pattern with * and ? against a name; both are plain.
func glob(pattern, name string) bool {
	p, n := []rune(pattern), []rune(name)
	star, mark := -1, 0
	i, j := 0, 0
	for j < len(n) {
		switch {
		case i < len(p) && p[i] == '*':
			star, mark = i, j
			i++
		case i < len(p) && (p[i] == '?' || p[i] == n[j]):
			i++
			j++
		case star >= 0:
			mark++
			i, j = star+1, mark
		default:
			return false
		}
	}
	for i < len(p) && p[i] == '*' {
		i++
	}
	return i == len(p)
}

// sortUses orders rules so that a listing reads the same whatever the file's
// order of layers.
func sortUses(u []LayerUse) {
	sort.SliceStable(u, func(i, j int) bool {
		if u[i].Role != u[j].Role {
			return u[i].Role < u[j].Role
		}
		return u[i].Pattern < u[j].Pattern
	})
}
