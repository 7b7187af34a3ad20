package report

import "boardrun/internal/measure"

// ruleLength is a length of the rules in force, or what is said where the job
// names none.
func (w *Draft) ruleLength(id string, otherwise measure.Length) MM {
	l, err := measure.Parse(w.rule[id], w.p.sys)
	if err != nil || l <= 0 {
		l = otherwise
	}
	return Millimetres(l)
}

// ScrewPattern draws the screws of one full sheet on three bays: the tack pass
// (rings) or all that are there in the end (dots).
func (w *Draft) ScrewPattern(tack bool, scale float64) *Picture {
	const bays = 3
	d := &Picture{Name: "screws", Scale: scale}
	bay, high := MM(406.4), MM(3048)
	if w.p.sys == measure.Metric {
		bay, high = 400, 3000
	}
	wide := bay * bays
	edge, field := w.ruleLength("screw-edge", 12*measure.Inch), w.ruleLength("screw-field", 16*measure.Inch)
	pull := w.ruleLength("tack-edge", 24*measure.Inch)
	top := w.ruleLength("top-screw", measure.EighthInch*4)
	d.area(PenJoint, LayerPiece, NoFill, Poly{{0, 0}, {wide, 0}, {wide, high}, {0, high}})
	r := MM(0.55 * scale)
	dot := func(u, v MM) {
		fill := FillSolid
		if tack {
			fill = NoFill
		}
		d.area(PenDim, LayerStud, fill, ring(UV{u, v}, r))
	}
	for i := range bays + 1 {
		u := MM(i) * bay
		d.line(PenStud, LayerStud, UV{u, 0}, UV{u, high})
		at := min(max(u, 1.5*r), wide-1.5*r)
		step := field
		if i == 0 || i == bays {
			step = edge
		}
		switch {
		case !tack:
			for v := step; v < high-top; v += step {
				dot(at, v)
			}
			dot(at, high-top-r)
		case i == 0: // the joint edge was pulled by the sheet before
		case i == bays:
			for v := pull; v < high-pull/2; v += pull {
				dot(at, v)
			}
			dot(at, high-4*r)
		default:
			dot(at, high-4*r)
		}
	}
	n := 4
	for i := range n { // the track row, between the tapers
		dot(bay/4+MM(i)*(wide-bay/2)/MM(n-1), MM(1.6*scale))
	}
	d.fit()
	return d
}
