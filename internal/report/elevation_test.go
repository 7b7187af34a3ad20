package report

import (
	"math"
	"math/rand"
	"sort"
	"testing"
)

func shoelace(o Poly) float64 {
	s := 0.0
	for i, a := range o {
		b := o[(i+1)%len(o)]
		s += float64(a[0]*b[1] - b[0]*a[1])
	}
	return math.Abs(s) / 2
}

// Oracle: the definition; and that nothing moves where there is room.
func TestSpread_keepsOrderAndGap(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 300 {
		want := make([]float64, r.Intn(12))
		for i := range want {
			want[i] = r.Float64() * 30
		}
		sort.Float64s(want)
		got := spread(want, 2)
		room := true
		for i := 1; i < len(want); i++ {
			room = room && want[i]-want[i-1] >= 2
			if got[i]-got[i-1] < 2-1e-9 {
				t.Fatalf("spread(%v) = %v: %d and %d are nearer than 2", want, got, i-1, i)
			}
		}
		for i := range want {
			if room && math.Abs(got[i]-want[i]) > 1e-9 {
				t.Fatalf("spread(%v) = %v moved what had room", want, got)
			}
		}
	}
	if got := spread([]float64{10, 10, 10}, 3); got[0] != 7 || got[1] != 10 || got[2] != 13 {
		t.Errorf("three at 10 spread to %v, want 7 10 13", got)
	}
}

// hook is a sheet with a door at its lower right: 48 × 120 in, notch 27 × 84.
var hook = Poly{{0, 0}, {21, 0}, {21, 84}, {48, 84}, {48, 120}, {0, 120}}

// Oracle: by eye, on the hook's two widest rectangles.
func TestRoom_ofAHook(t *testing.T) {
	lo, hi := room(hook, nil, 40, 10)
	if lo != (UV{0, 84}) || hi != (UV{48, 120}) {
		t.Errorf("a wide label gets %v to %v, want the head of the hook", lo, hi)
	}
	lo, hi = room(hook, nil, 10, 100)
	if lo != (UV{0, 0}) || hi != (UV{21, 120}) {
		t.Errorf("a tall label gets %v to %v, want the stem and above", lo, hi)
	}
	lo, hi = room(Poly{{0, 0}, {48, 0}, {48, 20}, {0, 24}}, nil, 10, 5)
	if lo != (UV{0, 0}) || hi != (UV{48, 20}) {
		t.Errorf("under a slope: %v to %v, want up to the low side", lo, hi)
	}
	lo, hi = room(Poly{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, []Poly{{{10, 10}, {20, 10}, {20, 20}, {10, 20}}}, 15, 15)
	if lo[0] < 20 && hi[0] > 10 && lo[1] < 20 && hi[1] > 10 {
		t.Errorf("%v to %v lies over the cut-out", lo, hi)
	}
}

// A piece cut at a match line is whole on the two pages together. Oracle: area
// balance.
func TestClip_partsAddUp(t *testing.T) {
	for _, o := range []Poly{hook, {{0, 0}, {48, 0}, {48, 20}, {0, 24}}, {{0, 0}, {48, 0}, {48, 120}, {30, 120}, {30, 90}, {20, 90}, {20, 120}, {0, 120}}} {
		for u := MM(1); u < 48; u += 3.7 {
			sum := shoelace(halfPlane(o, u, 1)) + shoelace(halfPlane(o, u, -1))
			if math.Abs(sum-shoelace(o)) > 1e-6 {
				t.Errorf("%v at %v: %v of %v", o, u, sum, shoelace(o))
			}
		}
	}
}

// job of one hook on a side hung from its right end, with the hole at its left.
func hookJob(from string) (*Draft, *Piece) {
	mm := func(o Poly) Poly {
		var q Poly
		for _, p := range o {
			q = append(q, UV{p[0] * 25.4, p[1] * 25.4})
		}
		return q
	}
	o := mm(hook)
	t := &Takeoff{
		Job:      JobInfo{System: "inch-pound"},
		Runs:     []Run{{ID: "1-W001", Storey: "1", Flange: "end", AxisMM: []UV{{0, 0}, {1219.2, 0}}, LengthMM: 1219.2, ThicknessMM: 124}},
		Faces:    []Face{{ID: "1-W001-R1", Run: "1-W001", Side: "right", Boarded: true, LengthMM: 1219.2, HangFrom: from, OutlineUV: mm(Poly{{0, 0}, {48, 0}, {48, 120}, {0, 120}}), HolesUV: []Poly{mm(Poly{{21, 0}, {59, 0}, {59, 84}, {21, 84}})}, Plies: []Ply{{Ply: 1, OutlineUV: mm(Poly{{0, 0}, {48, 0}, {48, 120}, {0, 120}})}}}},
		Openings: []Opening{{ID: "1-W001-O1", Run: "1-W001", Kind: "door", Mark: "12", Faces: []string{"1-W001-R1"}, UMM: 40 * 25.4, WidthMM: 38 * 25.4, HeadMM: 84 * 25.4}},
		Pieces:   []Piece{{ID: "1-W001-R1/1/01", Face: "1-W001-R1", Ply: 1, Role: "sheet", OutlineUV: o, HeightsMM: []UV{{0, 3048}, {1219.2, 3048}}, CentresMM: []MM{406.4, 812.8}, Hooks: []string{"1-W001-O1"}}},
	}
	w := NewDraft(t)
	return w, &t.Pieces[0]
}

// Oracle: the hook's own numbers: 48 − 21 = 27.
func TestCutShape_saysTheHook(t *testing.T) {
	for from, want := range map[string]string{
		"left":  "notch 27 × 84, far side, bottom (door 12)",
		"right": "notch 27 × 84, start side, bottom (door 12)",
	} {
		w, q := hookJob(from)
		if got := w.CutShape(q); got != want {
			t.Errorf("from the %s: %q, want %q", from, got, want)
		}
	}
}

// Beside a door a leg may fill part of what the sheet leaves: the sheet's own
// outline says what is cut. Oracle: 48 − 21 = 27 wide although the hole is 20.
func TestCutShape_isOfTheOutline(t *testing.T) {
	w, q := hookJob("left")
	w.t.Faces[0].HolesUV[0] = Poly{{533.4, 0}, {1041.4, 0}, {1041.4, 2133.6}, {533.4, 2133.6}}
	if got, want := w.CutShape(q), "notch 27 × 84, far side, bottom (door 12)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	q.OutlineUV = Poly{{0, 0}, {1219.2, 0}, {1219.2, 2900}, {1200, 2900}, {0, 3048}}
	q.HeightsMM = []UV{{0, 3048}, {1200, 2900}, {1219.2, 2900}}
	if got := w.CutShape(q); got != "" {
		t.Errorf("a top that ends level under a lap is no notch: %q", got)
	}
}

// The marks to make on a piece: across from the starting edge, up from the
// bottom. Oracle: the hook's own numbers.
func TestPieceCut_isMeasuredFromTheStart(t *testing.T) {
	for from, want := range map[string][]string{"left": {"21", "48", "84", "120"}, "right": {"27", "48", "84", "120"}} {
		w, q := hookJob(from)
		said := map[string]bool{}
		for _, m := range w.PieceCut(q, 40).Marks {
			said[m.Text] = true
		}
		for _, s := range want {
			if !said[s] {
				t.Errorf("from the %s: %q is not on the picture: %v", from, s, said)
			}
		}
	}
}

// On a right face stations grow to the right, on a left face to the left.
// Oracle: the contract's u = station − start on a right face.
func TestOpenSide_asOneFacesIt(t *testing.T) {
	for _, c := range []struct{ side, flange, want string }{
		{"right", "end", "right"}, {"right", "start", "left"}, {"left", "end", "left"}, {"left", "start", "right"}, {"end", "end", ""}, {"left", "", ""},
	} {
		if got := openSide(&Face{Side: c.side}, &Run{Flange: c.flange}); got != c.want {
			t.Errorf("%s face, flanges to the %s: %q, want %q", c.side, c.flange, got, c.want)
		}
	}
}

// Parts cover a side, on its joints, from the starting end.
func TestParts_coverTheSide(t *testing.T) {
	w, _ := hookJob("right")
	f := &w.t.Faces[0]
	f.Plies[0].OutlineUV = Poly{{0, 0}, {300000, 0}, {300000, 3000}, {0, 3000}}
	k := sidePly{f.ID, 1}
	for u := MM(1219.2); u < 300000; u += 1219.2 {
		w.joints[k] = append(w.joints[k], &Joint{FromUV: UV{u, 0}, ToUV: UV{u, 3000}})
	}
	parts := w.Parts(f, 1, 10000, 48)
	at := MM(300000)
	for i, v := range parts {
		if v.To != at || v.To-v.From > 10000 {
			t.Fatalf("part %d is %v to %v, want to end at %v and no longer than 10000", i, v.From, v.To, at)
		}
		at = v.From
	}
	if at != 0 {
		t.Errorf("the parts end at %v, want 0", at)
	}
	for _, v := range parts[:len(parts)-1] {
		if n := float64(v.From / 1219.2); math.Abs(n-math.Round(n)) > 1e-6 {
			t.Errorf("match line at %v is on no joint", v.From)
		}
	}
}

// Labels of an elevation do not lie over one another, at the scale they were
// laid out for.
func TestElevation_labelsKeepApart(t *testing.T) {
	w, _ := hookJob("left")
	for _, scale := range []float64{16, 48, 96} {
		d := w.Elevation(&w.t.Faces[0], 1, View{Scale: scale})
		for _, bad := range d.Overlaps() {
			t.Errorf("1:%.0f: %s", scale, bad)
		}
	}
}

// What is cut out of a piece is what it lacks of its blank. Oracle: area
// balance of random hooks, sills, saddles and tops under a slope.
func TestMissing_areaBalance(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	n := func(lo, hi int) MM { return MM(lo + r.Intn(hi-lo)) }
	for range 500 {
		a, b, c, d := n(100, 500), n(600, 1100), n(200, 900), n(1000, 1900)
		l, rt := n(2100, 2400), n(2100, 2400)
		var o Poly
		switch r.Intn(4) {
		case 0: // hook
			o = Poly{{0, 0}, {b, 0}, {b, d}, {1200, d}, {1200, rt}, {0, l}}
		case 1: // window beside
			o = Poly{{0, 0}, {1200, 0}, {1200, c}, {b, c}, {b, d}, {1200, d}, {1200, rt}, {0, l}}
		case 2: // astride a door
			o = Poly{{0, 0}, {a, 0}, {a, d}, {b, d}, {b, 0}, {1200, 0}, {1200, rt}, {0, l}}
		default: // two steps
			o = Poly{{0, 0}, {a, 0}, {a, c}, {b, c}, {b, d}, {1200, d}, {1200, rt}, {0, l}}
		}
		q := &Piece{OutlineUV: o, BlankMM: []UV{{0, l}, {1200, rt}}}
		sum := 0.0
		for _, m := range missing(q) {
			sum += shoelace(m)
		}
		blank := float64(1200 * (l + rt) / 2)
		if math.Abs(blank-shoelace(o)-sum) > 1e-3 {
			t.Fatalf("%v lacks %v of its blank, %v is told", o, blank-shoelace(o), sum)
		}
	}
}
