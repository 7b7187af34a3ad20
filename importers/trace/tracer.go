package trace

import (
	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// source is one placed piece of linework the tracer reads.
type source struct {
	c      *linework.Common
	height Length // group 39
	width  Length // of a wide polyline
	class  int32  // index into tracer.classes; -1 where it is no wall
	role   Role
}

// class is what one wall layer says of its walls.
type class struct {
	layer string // as most of the drawing writes it
	use   LayerUse
}

// tracer carries one drawing through the stages, in local coordinates: the
// drawing's, less origin. Each group of fields is filled by one stage and only
// read after it.
type tracer struct {
	d     *linework.Drawing
	m     Mapping
	opt   Options
	shift float64 // how far the end of a line may move when it is turned onto its direction

	// where to read
	region     []geom.Poly
	regionAt   boxIndex
	patternEnt map[int]bool // entities of a floor pattern
	outEnt     map[int]bool // entities with pieces outside

	// collected linework
	origin   geom.Pt
	layerUse map[string]layerInfo
	classes  []class
	src      []source
	faces    []stroke // on wall layers
	centres  []stroke // the same, centrelines
	arcs     []bend
	marks    symbols
	posts    []post
	postOf   []int32            // of each source, its post + 1
	faceTree boxIndex           // of faces
	looseSrc map[int32]bool     // sources of swings on layers that say nothing
	hostBy   map[string][]int32 // hosts by their insert's handle path

	// pairs
	bundles     []bundle
	h           *thickness
	centreParts [][]part // by frame
	centreEdges []centreEdge
	strands     []strand
	spans       spanIndex
	openGaps    []openGap

	// walls
	walls    []wall
	wallTree boxIndex
	homeless []int32 // hosts that no wall took

	// the account
	rest    []Length // of each source, how much of it no wall explains
	unread  []unread
	usedEnt map[int]bool
	fates   []fate

	netArea       float64 // m² of wall bodies, openings closed
	planWall      []int   // of each wall, its index in the plan; -1
	out           plan.Plan
	thicknessTold map[string]bool // layers whose centrelines of no stated thickness were told
}

// local turns millimetres of the drawing into the tracer's coordinates.
func (t *tracer) local(x, y float64) geom.Pt {
	return geom.Pt{X: measure.FromMM(x) - t.origin.X, Y: measure.FromMM(y) - t.origin.Y}
}

// global is the way back.
func (t *tracer) global(p geom.Pt) geom.Pt { return p.Add(t.origin) }
