package layout

import (
	"testing"

	"boardrun/internal/run"
)

func TestCase_doorHookedFromBothSides(t *testing.T) {
	l := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(69*in, 107*in, inch(85.25))}}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "48 96 144")
	same(t, "B", stationsOf(l, run.Right, 1, in), "32 80 128 176")
	near(t, "A sf", squareFeet(ofSide(l, run.Left)), 135.97, 0.005)
	near(t, "B sf", squareFeet(ofSide(l, run.Right)), 135.97, 0.005)
	same(t, "sheets", l.Cost.Area.SqFt(), 8*40.0)
	studs(t, l, CrippleStud, 2, 34*in)
	same(t, "studs", len(l.Studs), 15+2)
	studs(t, l, JambStud, 4, inch(119.25))
	// Notches are 84-3/4 high, 27 and 11 in wide.
	hooks := 0
	for _, p := range l.Pieces {
		if len(p.Hooks) == 0 {
			continue
		}
		hooks++
		width := p.Outline.Bounds().W()
		notch := (float64(width)*float64(p.Outline.Bounds().H()) - float64(p.Area)) / float64(inch(84.75)) / float64(in)
		if notch != 27 && notch != 11 {
			t.Errorf("%s: notch %v in wide", p.ID, notch)
		}
	}
	same(t, "hooks", hooks, 4)
}

func TestCase_doorNearCorner(t *testing.T) {
	l := sketch{length: 144 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(8*in, 46*in, inch(85.25))}}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "32 80 128")
	same(t, "B", stationsOf(l, run.Right, 1, in), "16 64 112")
	same(t, "sheets", l.Cost.Area.SqFt(), 6*40.0)
}

func TestCase_slopedDeckOneSheetHigh(t *testing.T) {
	l := sketch{length: 192 * in, spacing: 16 * in, deck: slope(192*in, 126*in, 130*in), board: fourFoot()}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "48 96 144")
	same(t, "B", stationsOf(l, run.Right, 1, in), "32 80 128 176")
	same(t, "sheets", l.Cost.Area.SqFt(), 8*48.0)
	near(t, "A sf", squareFeet(ofSide(l, run.Left)), 169, 0.001)
	near(t, "B sf", squareFeet(ofSide(l, run.Right)), 169, 0.001)
	same(t, "studs", len(l.Studs), 13)
	for k, s := range l.Studs {
		near(t, "stud", s.Length.Inches(), 125.25+float64(k)/3, 1e-5)
	}
	for _, p := range l.Pieces {
		u := p.Outline.Bounds().Min.X
		for _, h := range p.Heights {
			s := p.Face.Station(u + h.X).Inches()
			near(t, p.ID, h.Y.Inches(), 124.75+s/48, 1e-5)
		}
	}
}

func TestCase_tops(t *testing.T) {
	l := sketch{length: 240 * in, spacing: 16 * in, deck: slope(240*in, 210*in, 215*in), board: fourFoot()}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "48 96 144 192")
	same(t, "B", stationsOf(l, run.Right, 1, in), "32 80 128 176 224")
	same(t, "sheets", l.Cost.Area.SqFt(), 10*40.0+10*32)
	near(t, "A horizontal", jointFeet(l, run.Left, false), 20, 0)
	near(t, "B horizontal", jointFeet(l, run.Right, false), 20, 0)
	same(t, "studs", len(l.Studs), 16)
	for k, s := range l.Studs {
		near(t, "stud", s.Length.Inches(), 209.25+float64(k)/3, 1e-5)
	}
	for _, p := range l.Pieces {
		if p.Role != Top {
			near(t, p.ID, p.Heights[0].Y.Inches(), 120, 0)
			continue
		}
		u := p.Outline.Bounds().Min.X
		for _, h := range p.Heights {
			near(t, p.ID, h.Y.Inches(), 88.75+p.Face.Station(u+h.X).Inches()/48, 1e-5)
		}
	}
}

func TestCase_metric(t *testing.T) {
	l := sketch{length: 5900 * mm, spacing: 400 * mm, deck: level(2950 * mm), system: 1,
		board: stock("12.5", 125*mm/10, 1200*mm, 2400*mm, 3000*mm)}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, mm), "1200 2400 3600 4800")
	same(t, "B", stationsOf(l, run.Right, 1, mm), "800 2000 3200 4400 5600")
	near(t, "sheets", l.Cost.Area.M2(), 10*3.6, 1e-9)
	near(t, "m²", l.Pieces[0].Face.Length.Metres()*2.918, 17.216, 0.001)
	same(t, "studs", len(l.Studs), 16)
}

func TestCase_ductInstalledFirst(t *testing.T) {
	duct := run.Opening{Kind: 4, First: true, Centre: 72 * in, Width: 24 * in, Sill: 150 * in, Head: 164 * in}
	l := sketch{length: 144 * in, spacing: 16 * in, deck: level(216 * in), board: fourFoot(), openings: []run.Opening{duct}}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "32 80 128")
	same(t, "B", stationsOf(l, run.Right, 1, in), "16 64 112")
	same(t, "sheets", l.Cost.Area.SqFt(), 6*40.0+6*32)
	for _, p := range l.Pieces {
		if len(p.Cutouts) > 0 {
			t.Errorf("%s closes a hole round the duct", p.ID)
		}
		if p.Role == Top {
			near(t, p.ID, p.Heights[0].Y.Inches(), 94.75, 0)
		}
	}
}
