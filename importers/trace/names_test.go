package trace

import (
	"testing"

	"boardrun/internal/measure"
)

// Oracle: the national CAD standard's layer list, ISO 13567-2, dictionary words.
func TestWordRole(t *testing.T) {
	tests := []struct {
		name string
		want Role
	}{
		{"A-WALL", Walls}, {"a-wall-full", Walls}, {"A-WALL-PRHT", Walls}, {"A-WALL-FIRE", Walls}, {"Plan$0$A-WALL", Walls}, {"Plan|A-WALL", Walls},
		{"A-WALL-PATT", WallFill}, {"A-WALL-IDEN", TagText}, {"A-WALL-HEAD", Heads}, {"A-WALL-JAMB", Heads},
		{"A-DOOR", Doors}, {"A-DOOR-FRAM", Heads}, {"A-DOOR-IDEN", OpeningText}, {"A-GLAZ", Windows}, {"A-GLAZ-SILL", Heads},
		{"S-COLS", Columns}, {"A-AREA-IDEN", RoomText}, {"A-ANNO-DIMS", Background}, {"I-FURN", Background}, {"A-FLOR-CASE", Background},
		{"S-STEM-WALL", Background}, {"S-GRID", Background}, {"G-ANNO-TTLB", Background},
		{"TRENNWAND-GK", Walls}, {"WAND-AUSSEN", Walls}, {"Außenwände", Walls}, {"WANDTYP", TagText}, {"TÜREN", Doors}, {"FENSTER", Windows}, {"RAUMTEXT", RoomText},
		{"STÜTZEN", Columns}, {"MÖBEL", Background}, {"BEMASSUNG", Background},
		{"MUROS", Walls}, {"PUERTAS", Doors}, {"VENTANAS", Windows}, {"tabiques", Walls},
		{"MURI", Walls}, {"pareti interne", Walls}, {"PORTE", Doors}, {"FINESTRE", Windows},
		{"CLOISONS", Walls}, {"FENETRES", Windows}, {"Стены", Walls}, {"перегородки", Walls}, {"Двери", Doors}, {"Окна", Windows},
		{"wall low", Walls}, {"doorswindows", Doors}, {"A.Wall_Internal", Walls}, {"Wallpaper", Background},
		{"A-22----E-", Walls}, {"A-21----H-", WallFill}, {"A-32----E-", Doors}, {"A-31----E-", Windows}, {"A-22----D-", Background}, {"A-28----E-", Columns},
		{"0", Background}, {"Defpoints", Background}, {"", Background},
	}
	for _, tt := range tests {
		if got := wordRole(tt.name); got != tt.want {
			t.Errorf("%q: %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestThicknessIn(t *testing.T) {
	tests := []struct {
		name string
		want Length
	}{
		{"A-WALL-CNTR-125", measure.FromMM(125)}, {"WALL_150MM", measure.FromMM(150)}, {"wand 11.5cm", measure.FromMM(115)}, {`A-WALL-4.875"`, measure.FromMM(123.825)},
		{"A-WALL-6in", measure.FromMM(152.4)}, {"A-WALL", 0}, {"A-WALL-2", 0}, {"L2-WALL-100", measure.FromMM(100)}, {"WALL-100-L2", measure.FromMM(100)}, {"A-WALL-9000", 0},
	}
	for _, tt := range tests {
		if got := thicknessIn(tt.name); got != tt.want {
			t.Errorf("%q: %v mm, want %v", tt.name, got.MM(), tt.want.MM())
		}
	}
}

func TestGlob(t *testing.T) {
	tests := []struct {
		pattern, name string
		want          bool
	}{
		{"a-wall*", "a-wall-full", true}, {"a-wall", "a-wall-full", false}, {"*-demo", "a-wall-demo", true}, {"a-?all", "a-wall", true}, {"*", "", true},
		{"*w*l*", "a-wall", true}, {"türe?", "türen", true}, {"a*b*c", "axxbyyc", true}, {"a*b*c", "axxbyy", false},
	}
	for _, tt := range tests {
		if got := glob(tt.pattern, tt.name); got != tt.want {
			t.Errorf("%q on %q: %v", tt.pattern, tt.name, got)
		}
	}
}

// Oracle: hand conversion.
func TestSizes(t *testing.T) {
	const in = measure.Inch
	tests := []struct {
		s      string
		unit   float64
		w, h   Length
		isPair bool
	}{
		{"3068", 25.4, 36 * in, 80 * in, true}, {"900x2100", 1, measure.FromMM(900), measure.FromMM(2100), true}, {`3'-0" x 7'-0"`, 25.4, 36 * in, 84 * in, true},
		{"88.5/213.5", 10, measure.FromMM(885), measure.FromMM(2135), true}, {"D101", 1, 0, 0, false}, {"101", 1, 0, 0, false}, {"", 1, 0, 0, false},
	}
	for _, tt := range tests {
		w, h, ok := sizePair(tt.s, tt.unit)
		if ok != tt.isPair || ok && (w != tt.w || h != tt.h) {
			t.Errorf("%q: %v x %v %v", tt.s, w.MM(), h.MM(), ok)
		}
	}
	for _, tt := range []struct {
		s    string
		unit float64
		want Length
	}{{"36", 25.4, 36 * in}, {"1010", 1, measure.FromMM(1010)}, {"101", 10, measure.FromMM(1010)}, {"1010", 10, measure.FromMM(1010)}, {`3'-6"`, 25.4, 42 * in}, {"0,885", 1000, measure.FromMM(885)}, {"x", 1, 0}} {
		if got := sizeOf(tt.s, tt.unit, 250*mm, 8000*mm); got != tt.want {
			t.Errorf("%q in %g: %v mm, want %v", tt.s, tt.unit, got.MM(), tt.want.MM())
		}
	}
}

// Oracle: by eye.
func TestNameIn(t *testing.T) {
	tests := []struct{ s, name, number string }{
		{"MEETING 1\nRM 101\n190 SF", "MEETING 1", "101"}, {"LAB 1\nRM 101\n18.5 m2", "LAB 1", "101"}, {"118", "", "118"}, {"A-101B", "", "A-101B"}, {"LOBBY", "LOBBY", ""},
		{"TYPE B1", "TYPE B1", ""}, {"Raum 1.03\nBüro", "Büro", "1.03"}, {"855 SQ. FT.", "", ""},
	}
	for _, tt := range tests {
		if name, number := nameIn(tt.s); name != tt.name || number != tt.number {
			t.Errorf("%q: %q %q, want %q %q", tt.s, name, number, tt.name, tt.number)
		}
	}
}
