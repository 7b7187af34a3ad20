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
	CodeClipped        = "insert-clipped"
)

// report collects exceptions. Of each kind only so many are kept, the last of
// which tells how many more there are.
type report struct {
	file   string
	list   []plan.Exception
	kind   map[string]counted
	listed map[string]int    // entries by code
	last   map[string]string // key of the last kind begun, by code
}

type counted struct {
	n      int
	listed int
	last   int // in the list
}

// add notes an exception. key parts kinds of one code that are counted apart.
func (r *report) add(key string, e plan.Exception) {
	if r.kind == nil {
		r.kind, r.listed, r.last = map[string]counted{}, map[string]int{}, map[string]string{}
	}
	key = e.Code + " " + key
	c, met := r.kind[key]
	if !met && r.listed[e.Code] >= MaxExceptions { // kinds without end: count on
		key = r.last[e.Code]
		c = r.kind[key]
	}
	if c.n++; c.n <= limitOf(e.Code) && r.listed[e.Code] < MaxExceptions {
		e.Source.File = r.file
		c.last = len(r.list)
		c.listed++
		r.list = append(r.list, e)
		r.listed[e.Code]++
		r.last[e.Code] = key
	}
	r.kind[key] = c
}

// limitOf is how many exceptions of one kind are listed.
func limitOf(code string) int {
	if code == CodeCustomObject { // one line for each type
		return 1
	}
	return MaxExceptions
}

// full tells that another exception of this code would only be counted: its
// message need not be made.
func (r *report) full(code string) bool { return r.listed[code] >= MaxExceptions }

// all returns the exceptions in the order met.
func (r *report) all() []plan.Exception {
	out := append([]plan.Exception(nil), r.list...)
	for _, c := range r.kind { // each touches its own entry: the order does not matter
		if more := c.n - c.listed; more > 0 {
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
