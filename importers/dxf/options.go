package dxf

// Limits of what is expanded, so that a small file cannot ask for a billion
// lines. Each excess is an exception that states the limit; the rest is read.
// Source: own choice; the largest plans met hold about half a million entities.
const (
	// MaxPlaced is how many pieces a drawing may hold with blocks expanded:
	// entities, long polylines counted by their parts.
	MaxPlaced = 4_000_000
	// MaxPerInsert is how many pieces one insert with all its cells may hold.
	MaxPerInsert = 500_000
	// MaxDepth is how deep blocks may be nested.
	MaxDepth = 32
	// MaxCoordinate is the largest coordinate read, in drawing units; MaxMM the
	// largest placed, in millimetres: the range of measure.Length.
	MaxCoordinate = 1e12
	MaxMM         = 1e12
	// MaxVertices is how many vertices one polyline, hatch or spline may have.
	MaxVertices = 1_000_000
	// MaxClipPoints is how many corners the clip of an insert may have; one with
	// more is read whole, as one that is damaged.
	MaxClipPoints = 1_000
	// MaxLayers and MaxBlocks are how many of each may be named.
	MaxLayers = 100_000
	MaxBlocks = 1_000_000
	// MaxExceptions is how many entities are named one by one for each kind of
	// exception; the last of them tells how many more there are.
	MaxExceptions = 20
)

// Options says how a drawing is read. The zero value reads everything, in the
// header's unit.
type Options struct {
	// UnitMM is the length of a drawing unit in millimetres; 0 takes the
	// header's. Without either the drawing stays in its own units, UnitMM 0.
	UnitMM float64
	// IncludeHidden takes entities that are invisible or on layers that are off
	// or frozen for shown. They are read either way, marked Hidden.
	IncludeHidden bool
	// Layers, if set, tells the layers whose linework, fills and texts are
	// wanted. Inserts are always placed; their pieces are asked for by the layer
	// that decides.
	Layers func(layer string) bool
	// MaxPlaced, MaxPerInsert lower or raise the limits of the same name; 0
	// keeps them.
	MaxPlaced, MaxPerInsert int
}

func (o Options) maxPlaced() int64 {
	if o.MaxPlaced > 0 {
		return int64(o.MaxPlaced)
	}
	return MaxPlaced
}

func (o Options) maxPerInsert() int64 {
	if o.MaxPerInsert > 0 {
		return int64(o.MaxPerInsert)
	}
	return MaxPerInsert
}
