package quantity

import (
	"math"

	"boardrun/internal/run"
)

// Items of insulation and sealant.
const (
	ItemInsulation = "insulation"
	ItemFirestop   = "firestop sealant"
	ItemAcoustic   = "acoustical sealant"
)

// insulation fills in Result.Insulation: one cavity per run, as large as the
// larger of its sides, openings taken off; studs not taken off.
func (t *taker) insulation() {
	var sum tally
	for _, l := range t.layouts {
		r := l.Run
		if r.Make == nil || r.Make.Insulation == "" {
			continue
		}
		if area := cavity(r); area > 0 {
			sum.add(Item{Item: ItemInsulation, Spec: r.Make.Insulation, AreaM2: area, Storey: r.Storey}, r.ID)
		}
	}
	t.res.Insulation = sum.sorted()
}

// cavity is the area between the sides of a run, in m². Walls that meet one of
// its sides part it into faces; what they cover counts on the other side.
func cavity(r *run.Run) float64 {
	var side [2]float64
	for _, f := range r.Faces {
		if f.Boarded && (f.Side == run.Left || f.Side == run.Right) {
			side[f.Side] += netArea(f)
		}
	}
	return max(side[0], side[1])
}

// netArea is the area of a face less its holes, in m².
func netArea(f *run.Face) float64 {
	sum := 0.0
	vs := f.Top.Vertices(0, f.Length)
	for i := 1; i < len(vs); i++ {
		h := (vs[i].Y+vs[i-1].Y)/2 - f.Bottom
		sum += (vs[i].X - vs[i-1].X).Metres() * h.Metres()
	}
	for i := range f.Holes {
		r := f.Holes[i].Rect
		top := min(r.Max.Y, f.Top.Min(r.Min.X, r.Max.X))
		if b := max(r.Min.Y, f.Bottom); top > b {
			sum -= r.W().Metres() * (top - b).Metres()
		}
	}
	return max(sum, 0)
}

// sealant fills in Result.Sealant. A rated run takes firestop at its head and
// round penetrations, an insulated one acoustical sealant: a bead per face
// along the head where it reaches the deck and one along the floor less the
// openings. Penetrations are sealed whatever the wall.
// Sources: AWCI on sealant of acoustically rated partitions; an acoustic
// consultant's note: fill the perimeter gap back to the track; the listed
// head-of-wall and penetration designs govern.
func (t *taker) sealant() {
	var sum tally
	for _, l := range t.layouts {
		r := l.Run
		acoustic := r.Make != nil && r.Make.Insulation != ""
		for _, f := range r.Faces {
			if f.Boarded && len(f.Plies) > 0 {
				t.faceSealant(r, f, acoustic, &sum)
			}
		}
	}
	t.res.Sealant = sum.sorted()
}

func (t *taker) faceSealant(r *run.Run, f *run.Face, acoustic bool, sum *tally) {
	item := ItemAcoustic
	if r.Rating != "" {
		item = ItemFirestop
	}
	add := func(spec string, n Length, count int) {
		sum.add(Item{Item: item, Spec: spec, Length: n, Count: count, Storey: r.Storey, Sum: true}, r.ID)
	}
	if (f.Side == run.Left || f.Side == run.Right) && (r.Rating != "" || acoustic) {
		if f.Head == run.Slip {
			add("head of wall", slope(f.Top, 0, f.Length), 0)
		}
		add("floor", t.floorBead(f), 0)
	}
	for i := range f.Holes {
		if h := &f.Holes[i]; h.Sealed {
			add("penetration", perimeter(h), 1)
		}
	}
}

func (t *taker) floorBead(f *run.Face) Length {
	out := []span{{0, f.Length}}
	for i := range f.Holes {
		if r := f.Holes[i].Rect; r.Min.Y <= f.Bottom+inch/2 {
			out = without(out, r.Min.X, r.Max.X)
		}
	}
	var n Length
	for _, s := range out {
		n += s.hi - s.lo
	}
	return n
}

// perimeter is the length of the seal round a hole: its outline, clearance
// included.
func perimeter(h *run.Hole) Length {
	p := h.Shape
	if len(p) == 0 {
		p = h.Rect.Poly()
	}
	var n Length
	for i, a := range p {
		d := p[(i+1)%len(p)].Sub(a)
		n += Length(math.Round(math.Sqrt(float64(d.X*d.X + d.Y*d.Y))))
	}
	return n
}

// BeadPerCartridge returns the length of a round bead of the given diameter
// that a cartridge of millilitres gives.
// Source: geometry; 1 US fl oz = 29.5735 mL.
func BeadPerCartridge(millilitres float64, diameter Length) Length {
	d := diameter.MM()
	return measureMM(millilitres * 1000 / (math.Pi / 4 * d * d))
}

func measureMM(v float64) Length { return Length(math.Round(v * float64(mm))) }
