package trace

import (
	"strconv"
	"strings"
	"unicode"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Words that layers and blocks go by. Long words match anywhere in a name
// (compounds: TRENNWAND, doorswindows), short ones as a whole word only.
// Source: national CAD standard layer names (A-WALL, A-DOOR, A-GLAZ, S-COLS);
// the other languages are plain dictionary words.
var (
	wallWords = words{
		whole: []string{"wand", "mur", "murs", "muro", "muri", "muros", "fal", "zid", "sein", "wal", "wl", "ptn", "part"},
		any: []string{"wall", "wände", "waende", "wand-", "wand_", "wand ", "-wand", "mauer", "muratur", "cloison", "paret", "pared", "tabique",
			"tramezz", "partition", "vägg", "vaegg", "vegg", "seinä", "seina", "duvar", "ścian", "scian", "stěn", "sten_", "стен", "перегород",
			"τοίχ", "τοιχ", "墙", "牆", "壁", "벽", "trennwand", "innenwand", "aussenwand", "außenwand", "schachtwand", "drywall", "trockenbau", "gipskarton"},
	}
	doorWords = words{
		whole: []string{"tür", "tuer", "tur", "dr", "drs", "ovi", "ovet", "dør", "porte", "portes", "porta", "porte-"},
		any: []string{"door", "türen", "tueren", "tuer-", "tür-", "tuer_", "tür_", "porta-", "porta_", "portas", "porte_", "puerta", "dörr", "doerr",
			"kapı", "kapi_", "drzwi", "dveř", "dvere", "двер", "θύρ", "θυρ", "门", "門", "ドア", "扉", "문_"},
	}
	windowWords = words{
		whole: []string{"win", "wdw", "wndw", "fen", "okno", "okna", "glz"},
		any: []string{"glaz", "window", "fenster", "fenêtre", "fenetre", "ventana", "finestr", "janela", "caixilh", "fönster", "vindu", "ikkuna",
			"pencere", "okno", "окн", "παράθυρ", "窗", "窓", "창", "glass", "glas-", "verglas", "vitrag", "cristal", "crystal", "vetrat"},
	}
	columnWords = words{
		whole: []string{"col", "cols", "clmn", "pilar", "pilares"},
		any: []string{"column", "stütze", "stuetze", "pfeiler", "pilastr", "columna", "colonn", "poteau", "pelare", "søyle", "kolon", "słup", "slup",
			"sloup", "колонн", "κολών", "柱", "기둥"},
	}
	roomWords = words{
		whole: []string{"room", "rooms", "rm", "rmnm", "raum", "raeume", "räume", "piece", "pieces", "local", "locali", "vano", "vani"},
		any:   []string{"area-iden", "room", "raumtext", "raumname", "raumnummer", "habitaci", "recint", "ambient", "помещ", "pièce", "rumsnamn"},
	}
	tagWords = words{any: []string{"wall-iden", "wall-tag", "wall-type", "wall_tag", "walltag", "wall type", "wall tag", "walltype", "wandtyp", "part-iden", "partition tag",
		"partition type", "tipo muro", "type mur", "wall-symb", "wall-text", "wall-anno"}}
	markWords = words{any: []string{"door-iden", "glaz-iden", "door-tag", "door tag", "window tag", "door-numb", "door-text", "türnummer", "tuernummer", "fensternummer",
		"door-anno", "glaz-anno", "doornumber", "door number", "window-iden", "door_tag", "window_tag", "door-symb"}}
	headWords = words{any: []string{"wall-head", "wall-jamb", "door-fram", "door-jamb", "door-head", "glaz-sill", "glaz-fram", "sturz", "lintel", "zarge", "laibung",
		"leibung", "architrav", "dintel", "linteau", "wall-cavi", "case-open", "header", "opening", "oeffnung", "öffnung", "apertur", "abertur", "cased"}}
	fillWords = words{
		whole: []string{"patt", "fill", "poche", "poché", "htch"},
		any:   []string{"-patt", "hatch", "schraff", "tratteg", "sombread", "hachur", "штрих", "retino", "campitur", "poche", "solid", "füllung", "fuellung"},
	}
	// otherWords are layers that are never read, whatever else their name says.
	otherWords = words{
		whole: []string{"dim", "dims", "note", "symb", "revs", "nplt", "ttlb", "legn", "grid", "elev", "furn", "eqpm", "clng", "roof", "text", "txt", "sect"},
		any: []string{"-anno", "anno-", "dimens", "bemass", "bemaß", "annotat", "furnit", "möbel", "moebel", "defpoint", "viewport", "title", "plankopf", "raster",
			"ceiling", "decke", "elevation", "ansicht", "schnitt", "section", "treppe", "stair", "landsc", "insul", "dämm", "daemm", "foundation", "fundament", "footing",
			"wallpaper", "plumb", "firewall", "retaining", "stem-wall", "stemwall", "stem wall", "footer"},
	}
)

type words struct{ whole, any []string }

func (w *words) in(name string) bool {
	for _, x := range w.any {
		if strings.Contains(name, x) {
			return true
		}
	}
	if len(w.whole) == 0 {
		return false
	}
	for _, tok := range strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) }) {
		for _, x := range w.whole {
			if tok == x {
				return true
			}
		}
	}
	return false
}

// wordRole is what a layer's or block's name says it holds; Background where
// it says nothing.
func wordRole(name string) Role {
	n := plain(name)
	if r, ok := isoRole(n); ok {
		return r
	}
	switch {
	case tagWords.in(n):
		return TagText
	case markWords.in(n):
		return OpeningText
	case roomWords.in(n) && !wallWords.in(n) && !doorWords.in(n):
		return RoomText
	case otherWords.in(n):
		return Background
	case fillWords.in(n):
		if wallWords.in(n) {
			return WallFill
		}
		return Background
	case headWords.in(n):
		return Heads
	case wallWords.in(n):
		return Walls
	case doorWords.in(n):
		return Doors
	case windowWords.in(n):
		return Windows
	case columnWords.in(n):
		return Columns
	}
	return Background
}

// isoRole reads a layer name of ISO 13567-2: agent (2), element (6),
// presentation (2). Elements by CI/SfB table 1: 21 external walls, 22 internal
// walls, 31 windows, 32 doors, 28 frames.
func isoRole(n string) (Role, bool) {
	if len(n) < 10 || n[1] != '-' && (n[1] < '0' || n[1] > '9') {
		return 0, false
	}
	el, pres := n[2:8], n[8]
	if len(strings.TrimRight(el, "-_")) < 2 || el[0] < '0' || el[0] > '9' || el[1] < '0' || el[1] > '9' {
		return 0, false
	}
	for i := 2; i < 6; i++ {
		if el[i] != '-' && el[i] != '_' && (el[i] < '0' || el[i] > '9') {
			return 0, false
		}
	}
	wall := el[:2] == "21" || el[:2] == "22"
	switch {
	case pres == 'h' && wall:
		return WallFill, true
	case pres != 'e' && pres != '-' && pres != '_':
		return Background, true
	case wall:
		return Walls, true
	case el[:2] == "31":
		return Windows, true
	case el[:2] == "32":
		return Doors, true
	case el[:2] == "28":
		return Columns, true
	}
	return Background, true
}

// StatusOf is what a wall layer's name says happens to its walls.
// Source: national CAD standard status field (N new, E existing to remain,
// D to demolish), the campus variant with EXST and DEMO, and plain words.
func StatusOf(layer string) plan.Status {
	n := plain(layer)
	for _, w := range []string{"demo", "abbruch", "abriss", "demoli", "démoli", "rivn", "снос"} {
		if strings.Contains(n, w) {
			return plan.Demolish
		}
	}
	for _, w := range []string{"exst", "exist", "bestand", "esistent", "befintlig", "сущ"} {
		if strings.Contains(n, w) {
			return plan.Existing
		}
	}
	if i := strings.LastIndexAny(n, "-_"); i > 0 && i == len(n)-2 && strings.IndexAny(n, "-_") < i {
		switch n[i+1] {
		case 'e':
			return plan.Existing
		case 'd':
			return plan.Demolish
		}
	}
	return plan.New
}

// KindOf is what a wall layer's name says its walls are.
func KindOf(layer string) plan.WallKind {
	n := plain(layer)
	has := func(ws ...string) bool {
		for _, w := range ws {
			if strings.Contains(n, w) {
				return true
			}
		}
		return false
	}
	low := words{whole: []string{"low", "pony", "dwarf", "halb"}}
	switch {
	case has("curtain", "cwmg", "vorhang", "mur-rideau"):
		return plan.Curtain
	case has("glaz", "glass", "verglas", "vitrag", "vetrat", "crystal", "cristal"):
		return plan.Glazed
	case low.in(n) || has("parapet", "brüstung", "bruestung", "antepecho"):
		return plan.Low
	case has("masonry", "mauerwerk", "concrete", "beton", "brick", "-cmu", "-conc", "-mson", "ziegel", "hormig", "ladrill"):
		return plan.Masonry
	}
	return plan.Partition
}

// thicknessIn reads a thickness out of a layer's name: a number with a unit,
// or a bare whole number of millimetres between 2 in and 24 in. 0: none.
func thicknessIn(layer string) Length {
	n := plain(layer)
	for i := len(n); i > 0; {
		// the last number of the name first
		j := i
		for j > 0 && !isDigit(n[j-1]) {
			j--
		}
		if j == 0 {
			return 0
		}
		k := j
		for k > 0 && (isDigit(n[k-1]) || n[k-1] == '.' && k > 1 && isDigit(n[k-2])) {
			k--
		}
		v, err := strconv.ParseFloat(n[k:j], 64)
		if err == nil {
			if t := thicknessWith(v, strings.TrimLeft(n[j:], " _"), strings.Contains(n[k:j], ".")); t >= minThick && t <= maxThick {
				return t
			}
		}
		i = k
	}
	return 0
}

func thicknessWith(v float64, unit string, fraction bool) Length {
	switch {
	case strings.HasPrefix(unit, "mm"):
		return measure.FromMM(v)
	case strings.HasPrefix(unit, "cm"):
		return measure.FromMM(10 * v)
	case strings.HasPrefix(unit, "in"), strings.HasPrefix(unit, `"`):
		return measure.FromInches(v)
	case !fraction && v >= 50:
		return measure.FromMM(v)
	}
	return 0
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
