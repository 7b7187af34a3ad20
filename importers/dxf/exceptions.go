package dxf

import (
	"fmt"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Codes of the exceptions of this package.
const (
	CodeTruncated      = "file-truncated"
	CodeReadFault      = "read-fault"
	CodeBadGroupCode   = "bad-group-code"
	CodeOutOfStep      = "lines-out-of-step"
	CodeValueCut       = "value-cut"
	CodeCodePage       = "code-page-unknown"
	CodeBadNumber      = "bad-number"
	CodeBadCoordinate  = "coordinate-too-large"
	CodeNoEntities     = "no-entities"
	CodeBlockCycle     = "block-cycle"
	CodeBlockMissing   = "block-missing"
	CodeXrefMissing    = "xref-missing"
	CodeTooMany        = "too-many-entities"
	CodeTooDeep        = "nested-too-deep"
	CodeTooManyNames   = "too-many-names"
	CodeBlockRedefined = "block-redefined"
	CodeCustomObject   = "custom-object"
	CodeNoUnit         = "no-unit"
)

// report collects exceptions. Of each kind only so many are kept, the last of
// which tells how many more there are.
type report struct {
	file string
	list []plan.Exception
	kind map[string]counted
}

type counted struct {
	n    int
	last int // in the list
}

// add notes an exception. key parts kinds of one code that are counted apart.
func (r *report) add(key string, e plan.Exception) {
	if r.kind == nil {
		r.kind = map[string]counted{}
	}
	limit := MaxExceptions
	if e.Code == CodeCustomObject { // one line for each type
		limit = 1
	}
	key = e.Code + " " + key
	c := r.kind[key]
	if c.n++; c.n <= limit {
		e.Source.File = r.file
		c.last = len(r.list)
		r.list = append(r.list, e)
	}
	r.kind[key] = c
}

// all returns the exceptions in the order met.
func (r *report) all() []plan.Exception {
	out := append([]plan.Exception(nil), r.list...)
	for _, c := range r.kind { // each touches its own entry: the order does not matter
		limit := MaxExceptions
		if out[c.last].Code == CodeCustomObject {
			limit = 1
		}
		if more := c.n - limit; more > 0 {
			out[c.last].Message += fmt.Sprintf(" (and %d more like this)", more)
		}
	}
	return out
}

// at makes the place of an exception from drawing coordinates in mm.
func at(xMM, yMM float64) *geom.Pt {
	if !(xMM < MaxMM && xMM > -MaxMM && yMM < MaxMM && yMM > -MaxMM) {
		return nil
	}
	return &geom.Pt{X: measure.FromMM(xMM), Y: measure.FromMM(yMM)}
}
