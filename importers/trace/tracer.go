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

// tracer carries one drawing through the stages.
type tracer struct {
	d       *linework.Drawing
	m       Mapping
	opt     Options
	shift   float64 // how far the end of a line may move when it is turned onto its direction
	origin  geom.Pt
	classes []class
	src     []source

	walls   []stroke // strokes on wall layers, faces
	centres []stroke // the same, centrelines
	arcs    []bend
	marks   symbols

	bundles     []bundle
	h           *thickness
	strands     []strand
	homeless    []int32
	hostBy      map[string][]int32
	wallTree    boxIndex
	walls2      []wall
	centreParts [][]part
	centreEdges []centreEdge
	spans       spanIndex
	region      []geom.Poly
	regionAt    boxIndex
	layerUse    map[string]layerInfo
	rest        []Length
	unread      []unread
	fates       []fate
	usedEnt     map[int]bool
	outEnt      map[int]bool
	planWall    []int   // of each wall, its index in the plan; -1
	netArea     float64 // m² of wall bodies, openings closed
	openGaps    []openGap
	out         plan.Plan
}

// local turns millimetres of the drawing into the tracer's coordinates.
func (t *tracer) local(x, y float64) geom.Pt {
	return geom.Pt{X: measure.FromMM(x) - t.origin.X, Y: measure.FromMM(y) - t.origin.Y}
}

// global is the way back.
func (t *tracer) global(p geom.Pt) geom.Pt { return p.Add(t.origin) }
