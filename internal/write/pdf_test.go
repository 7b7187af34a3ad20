package write

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"

	"boardrun/internal/report"
)

// Oracle: the typeface's own list of blocks: Latin, fractions, Hebrew; no
// Arabic, no pictures.
func TestLetters(t *testing.T) {
	l := newLetters(liberationsansregular.TTF)
	for _, c := range []struct{ name, in, want string }{
		{"plain", "4x10 5/8 type X", "4x10 5/8 type X"},
		{"fractions and signs", "½ × ⅜ – m² ° é ß Ω Ж", "½ × ⅜ – m² ° é ß Ω Ж"},
		{"picture", "door 🐶 12", "door ? 12"},
		{"joined picture", "👨‍👩‍👧", "???"},
		{"control", "a\tb\x00c", "a b c"},
		{"right to left", "שלום", "םולש"},
		{"broken bytes", "a\xffb", "a�b"},
	} {
		if got := l.shown(c.in); got != c.want && !(c.name == "broken bytes" && got == "a?b") {
			t.Errorf("%s: %q is shown as %q, want %q", c.name, c.in, got, c.want)
		}
	}
	if lost := string(l.lost()); !strings.Contains(lost, "🐶") {
		t.Errorf("the dog is not told as lost: %q", lost)
	}
}

func TestLetters_ofNoTypeface(t *testing.T) {
	for _, b := range [][]byte{nil, []byte("no font"), liberationsansregular.TTF[:300]} {
		if l := newLetters(b); len(l.has) != 0 {
			t.Errorf("%d bytes give %d letters", len(b), len(l.has))
		}
	}
}

// Drawings are laid out with widths known without the typeface. Oracle: the
// typeface.
func TestTextWidth_isNearTheTypeface(t *testing.T) {
	k := newInk(false, "")
	for _, s := range []string{"94-3/8", "12'-4 1/2\"", "48 × 120, uncut", "penetration O1 24-1/2 × 14-1/2", "slip line: no screw above", "1-W001-L1/01"} {
		for _, bold := range []bool{false, true} {
			k.font(10, bold)
			real := k.width(s)
			if got := report.TextWidth(s, 10, bold); got < real*0.97 || got > real*1.15 {
				t.Errorf("%q, bold %v: taken as %.1f, is %.1f", s, bold, got, real)
			}
		}
	}
}

func TestInk_fitsAndWraps(t *testing.T) {
	k := newInk(false, "")
	long := strings.Repeat("x", 500) + " end"
	if s := k.fit(long, 3, false, 40); !strings.HasSuffix(s, "…") || k.width(s) > 40 {
		t.Errorf("fit gives %q", s)
	}
	all := ""
	for _, l := range k.wrap(long, 3, false, 40) {
		if k.width(l) > 40.001 {
			t.Errorf("a line of %.1f mm in 40", k.width(l))
		}
		all += l
	}
	if strings.ReplaceAll(all, " ", "") != strings.ReplaceAll(long, " ", "") {
		t.Error("wrapping lost letters")
	}
	if got := k.wrap("é", 3, false, 0.1); len(got) != 1 || got[0] != "é" {
		t.Errorf("a letter wider than the line: %q", got)
	}
}

// odd are takeoffs no building gives: they are written, and without a panic.
func odd() map[string]*report.Takeoff {
	far := report.MM(1e9) // the longest length there is: 1000 km
	face := report.Face{ID: "1-W001-L1", Run: "1-W001", Side: "left", Boarded: true, Plies: []report.Ply{{Ply: 1}}}
	piece := report.Piece{ID: "1-W001-L1/1/01", Face: face.ID, Ply: 1, Role: "top"}
	return map[string]*report.Takeoff{
		"empty":         {},
		"no wall":       {Job: report.JobInfo{Title: "t", System: "metric"}},
		"no run":        {Faces: []report.Face{face}},
		"empty piece":   {Faces: []report.Face{face}, Pieces: []report.Piece{piece}, Joints: []report.Joint{{Face: face.ID, Ply: 1}}},
		"lone points":   {Faces: []report.Face{{ID: "a", Boarded: true, Plies: []report.Ply{{Ply: 1, OutlineUV: report.Poly{{1, 1}}}}}}, Pieces: []report.Piece{{ID: "a/1/1", Face: "a", Ply: 1, OutlineUV: report.Poly{{1, 1}}}}},
		"empty sheet":   {Sheets: []report.Sheet{{ID: "S1"}, {ID: "S2", Placements: []report.Placement{{Piece: "none"}}}}},
		"map wide":      {Faces: []report.Face{{ID: "a", Side: "right", Boarded: true, LengthMM: far, Plies: []report.Ply{{Ply: 1}}}}, Pieces: []report.Piece{{ID: "a/1/1", Face: "a", Ply: 1, OutlineUV: report.Poly{{0, 0}, {far, 0}, {far, 9}}}}},
		"no plies":      {Runs: []report.Run{{ID: "1-W001", Type: "P"}}, Faces: []report.Face{{ID: "1-W001-L1", Run: "1-W001", Side: "left", Boarded: true}}, Pieces: []report.Piece{piece}, Sheets: []report.Sheet{{ID: "S1"}}},
		"run of points": {Runs: []report.Run{{ID: "1-W001", AxisMM: []report.UV{{0, 0}, {0, 0}}, Deck: []report.UV{{0, 0}, {0, 0}}}}, Faces: []report.Face{face}, Pieces: []report.Piece{piece}},
	}
}

func TestPDF_oddTakeoffs(t *testing.T) {
	for name, out := range odd() {
		for what, write := range map[string]func(io.Writer, *report.Takeoff) error{"xlsx": XLSX, "html": HTML, "walls.dxf": WallsDXF, "plan.dxf": PlanDXF, "sides.zip": Sides} {
			if err := write(io.Discard, out); err != nil {
				t.Errorf("%s: %s: %v", name, what, err)
			}
		}
		var b bytes.Buffer
		if err := PDF(&b, out); err != nil || !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
		if err := Tops(&bytes.Buffer{}, out); err != nil {
			t.Errorf("%s: tops: %v", name, err)
		}
	}
}

// Names come from drawings: nothing in them is markup.
func TestTops_namesAreText(t *testing.T) {
	bad := `<script>alert(1)</script>"'&`
	out := &report.Takeoff{
		Job:    report.JobInfo{Title: bad},
		Faces:  []report.Face{{ID: "1-W001-L1", Side: "left", Room: bad, HangFrom: "left", Boarded: true, Plies: []report.Ply{{Ply: 1}}}},
		Pieces: []report.Piece{{ID: "1-W001-L1/1/01", Face: "1-W001-L1", Ply: 1, Role: "top", Board: bad, OutlineUV: report.Poly{{0, 0}, {1219.2, 0}, {1219.2, 2400}, {0, 2400}}, HeightsMM: []report.UV{{0, 2400}, {1219.2, 2400}}}},
	}
	var b bytes.Buffer
	if err := Tops(&b, out); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script") || !strings.Contains(b.String(), "94-3/8") {
		t.Errorf("the card reads:\n%s", b.String())
	}
}

// Every pen has its ink, in print and on the page; no two lines that can be
// mistaken for one another differ by colour alone.
func TestPens_everyPenHasInk(t *testing.T) {
	on := pagePens()
	if len(on) != int(report.PenKey)+1 {
		t.Fatalf("%d pens on the page, want %d", len(on), report.PenKey+1)
	}
	for k := report.PenOutline; k <= report.PenKey; k++ {
		if p, ok := pens[k]; !ok || p.width <= 0 || len(p.colour) != 7 || on[k].Colour != p.colour {
			t.Errorf("pen %d has no ink", k)
		}
	}
	lines := []report.Pen{report.PenOutline, report.PenJoint, report.PenHidden, report.PenStud, report.PenAdded, report.PenSlip, report.PenDeck, report.PenCeiling, report.PenMatch, report.PenJamb}
	for i, a := range lines {
		for _, b := range lines[:i] {
			if p, q := pens[a], pens[b]; p.width == q.width && slices.Equal(p.dash, q.dash) {
				t.Errorf("pens %d and %d are told apart by colour alone", a, b)
			}
		}
	}
}
