package quantity

import (
	"testing"

	"boardrun/internal/measure"
)

// TestThumb replays worked examples. Oracle: Dagostino and Peterson, Estimating
// in Building Construction, pp. 157, 199, 202, 203, and builder pages for O-2,
// O-14, O-15; ids O-1 to O-15.
func TestThumb(t *testing.T) {
	ft := func(f, i float64) Length { return in(12*f + i) }
	wall := ft(325, 4)
	for _, c := range []struct {
		name      string
		got, want int
	}{
		{"O-1 EX-4 148 lf at 16", Studs(ft(148, 0), in(16)), 112},
		{"O-2 EX-5a 14 ft 6 at 16", Studs(ft(14, 6), in(16)), 12},
		{"O-3 EX-1 20 ft 8 at 16", Studs(ft(20, 8), in(16)), 17},
		{"O-3 EX-1 with 5 %", WithWaste(Studs(ft(20, 8), in(16)), studWaste), 18},
		{"O-4 EX-1 extras", ExtraStuds(246, 13, 11, 4), 315},
		{"O-4 EX-1 with 5 %", WithWaste(ExtraStuds(246, 13, 11, 4), studWaste), 331},
		{"O-5 EX-1 track", TrackPieces(wall, ft(20, 0), trackWaste), 36},
		{"O-6 EX-1 track of 20 ft 8", TrackPieces(ft(20, 8), ft(20, 0), trackWaste), 3},
		{"O-7 EX-1 245 by the rule; the book's 246 is a misprint", Studs(wall, in(16)), 245},
		{"O-8 EX-3 148 x 8", SheetsByArea(ft(148, 0), ft(8, 0), 1, in(48), in(96)), 37},
		{"O-9 EX-3 149 x 8 x 2", SheetsByArea(ft(149, 0), ft(8, 0), 2, in(48), in(96)), 75},
		{"O-10 EX-3 with 5 %", WithWaste(37+75, boardWaste), 118},
		{"O-11 EX-3 ceiling", SheetsByArea(ft(24, 0), ft(50, 0), 1, in(48), in(96)), 38},
		{"O-11 EX-3 ceiling with 5 %", WithWaste(38, boardWaste), 40},
		{"O-12 EX-2 346 lf", SheetsByWidth(ft(346, 0), in(48)), 87},
		{"O-12 EX-2 both faces with 5 %", WithWaste(2*87, boardWaste), 183},
		{"O-14 EX-5b 135 x 8", SheetsByArea(ft(135, 0), ft(8, 0), 1, in(48), in(96)), 34},
		{"O-15 EX-5d 1000 sf of 4x8", SheetsByArea(ft(100, 0), ft(10, 0), 1, in(48), in(96)), 32},
		{"O-15 EX-5d 1000 sf of 4x10", SheetsByArea(ft(100, 0), ft(10, 0), 1, in(48), in(120)), 25},
		{"O-15 EX-5d 1000 sf of 4x12", SheetsByArea(ft(100, 0), ft(10, 0), 1, in(48), in(144)), 21},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.name, c.got, c.want)
		}
	}
	if got := 2 * wall; got != ft(650, 8) {
		t.Errorf("O-5: track %v ft, want 650 ft 8 in", got.Feet())
	}
}

// TestThumb_rates: oracle O-13, EX-2: 7000 sf take 2660 lf of tape, with 10 %
// 59 rolls of 50 ft, 35 gal of compound, 7000 screws.
func TestThumb_rates(t *testing.T) {
	tape := ByRate(7000, tapeRateText)
	if tape != 2660 || ByRate(7000, compoundRateText) != 35 || ByRate(7000, screwRateText) != 7000 {
		t.Errorf("O-13: tape %v, compound %v, screws %v", tape, ByRate(7000, compoundRateText), ByRate(7000, screwRateText))
	}
	if got := rolls(2660*measure.Foot, 50*measure.Foot, 10); got != 59 {
		t.Errorf("O-13: %d rolls of 50 ft, want 59", got)
	}
}

// TestThumb_deduct: oracle O-58 (construction course notes): a 3070 opening of
// 21 sf is not taken off; a 4 x 8 of 32 sf is.
func TestThumb_deduct(t *testing.T) {
	if got := Deducted(in(36), in(84)); got != 0 {
		t.Errorf("O-58: %v sf taken off for 21 sf, want 0", got)
	}
	if got := Deducted(in(48), in(96)); got != 32 {
		t.Errorf("%v sf taken off for 32 sf, want 32", got)
	}
}
