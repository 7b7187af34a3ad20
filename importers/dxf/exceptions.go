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

// report collects exceptions and keeps each kind to MaxExceptions lines.
type report struct {
	file  string
	list  []plan.Exception
	count map[string]int
	first map[string]plan.Exception // of those counted only
}

// add notes an exception. key parts kinds that are counted apart.
func (r *report) add(key string, e plan.Exception) {
	if r.count == nil {
		r.count = map[string]int{}
		r.first = map[string]plan.Exception{}
	}
	e.Source.File = r.file
	key = e.Code + " " + key
	r.count[key]++
	switch n := r.count[key]; {
	case n <= MaxExceptions:
		r.list = append(r.list, e)
	case n == MaxExceptions+1:
		r.first[key] = e
	}
}

// all returns the exceptions in the order met, each overflowing kind ended by a
// count.
func (r *report) all() []plan.Exception {
	out := append([]plan.Exception(nil), r.list...)
	for _, key := range sortedKeys(r.first) {
		e := r.first[key]
		n := r.count[key] - MaxExceptions
		e.Message = fmt.Sprintf("%s (and %d more like this)", e.Message, n-1)
		out = append(out, e)
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
