package job

import (
	"errors"

	"boardrun/internal/measure"
)

// ParseHeight reads how high a side goes as a job file writes it, in the units
// and under the rules of j.
func (j *Job) ParseHeight(text string) (HeightRule, error) {
	r := &reader{sys: j.System, job: j}
	h := r.height(&node{kind: scalar, text: text})
	if len(r.errs) > 0 {
		return h, errors.New(r.errs[0].Msg)
	}
	return h, nil
}

// HeightText writes a height rule so that ParseHeight reads it back.
func (j *Job) HeightText(h HeightRule) string {
	switch h.Kind {
	case ToDeck:
		return "to deck"
	case ToCeiling:
		return "to ceiling"
	case AboveCeiling:
		return "ceiling + " + measure.Exact(h.Value, j.System)
	}
	return measure.Exact(h.Value, j.System)
}

// OpeningEdit changes one opening, named by its id: the rough opening's width
// and the height of its header, and the sill. Nil leaves what it was.
type OpeningEdit struct {
	RoughWidth, RoughHead, Sill *Length
	Centre                      *Length // station on the wall's axis
}
