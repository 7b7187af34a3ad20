package ifc

import (
	"math"
	"slices"
)

// Quantities are the exact measures of one wall, unrounded: those of
// Qto_WallBaseQuantities (ISO 16739-1) taken from the geometry, and both sides.
type Quantities struct {
	LengthMM    float64 // of the middle plane
	ThicknessMM float64
	HeightMM    float64 // greatest, of the middle plane
	// GrossAreaM2 is the middle plane without openings but under a sloped top;
	// NetAreaM2 is that less openings.
	GrossAreaM2, NetAreaM2 float64
	// Net area of each side.
	LeftAreaM2, RightAreaM2 float64
	// The same without openings.
	LeftGrossM2, RightGrossM2 float64
	// What other walls that the model says are joined to this one hide of each
	// side, standing against it. It is not taken off the areas above.
	LeftCoveredM2, RightCoveredM2 float64
	VolumeM3                      float64 // net
}

const m2 = 1e-6 // square metres in a square millimetre

// volume integrates the net area of sections over the thickness. Between two
// levels the area of a solid with plane faces is a polynomial of the second
// degree, for which Simpson's rule is exact; halving shows where a corner was
// cut that no operand has.
func volume(area func(y, side float64) float64, ys []float64) float64 {
	slices.Sort(ys)
	var v float64
	for i := 0; i+1 < len(ys); i++ {
		a, b := ys[i], ys[i+1]
		if b-a < 0.1 {
			v += (b - a) * area((a+b)/2, 1)
			continue
		}
		v += simpson(area, a, b, area(a, -1), area((a+b)/2, 1), area(b, 1), 5)
	}
	return v
}

func simpson(area func(y, side float64) float64, a, b, fa, fm, fb float64, depth int) float64 {
	whole := (b - a) / 6 * (fa + 4*fm + fb)
	if math.Abs(fa-fm) <= 1e-9*fm && math.Abs(fb-fm) <= 1e-9*fm {
		return whole
	}
	m := (a + b) / 2
	fl, fr := area((a+m)/2, 1), area((m+b)/2, 1)
	half := (b - a) / 12 * (fa + 4*fl + 2*fm + 4*fr + fb)
	if depth == 0 || math.Abs(half-whole) <= 1e-7*math.Abs(whole) {
		return half
	}
	return simpson(area, a, m, fa, fl, fm, depth-1) + simpson(area, m, b, fm, fr, fb, depth-1)
}
