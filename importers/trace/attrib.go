package trace

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"boardrun/importers/linework"
	"boardrun/internal/measure"
)

// attribWords are the tags that block attributes of doors and windows go by,
// lower case. Source: common practice and dictionary words, none published.
var attribWords = map[string][]string{
	"mark": {"mark", "doormark", "door_mark", "doorno", "door_no", "no", "nr", "num", "number", "nummer", "numero", "número", "numéro", "tag", "id", "tuernr", "türnr",
		"türnummer", "tuernummer", "pos", "marke", "rep", "repere", "repère", "номер", "марка"},
	"width": {"width", "w", "doorwidth", "door_width", "leaf_width", "breite", "b", "ancho", "largeur", "larghezza", "largura", "bredd", "bredde", "szerokosc",
		"szerokość", "šířka", "sirka", "ширина", "l"},
	"height": {"height", "h", "ht", "doorheight", "door_height", "leaf_height", "höhe", "hoehe", "alto", "altura", "hauteur", "altezza", "höjd", "høyde", "wysokosc",
		"wysokość", "výška", "vyska", "высота"},
	"sill": {"sill", "sillheight", "sill_height", "brh", "brüstung", "bruestung", "brüstungshöhe", "antepecho", "allege", "allège", "davanzale", "peitoril"},
	"type": {"type", "doortype", "door_type", "typ", "tipo", "тип"},
}

// told is what a block's attributes say of an opening.
type told struct {
	mark, kind          string
	width, height, sill Length
}

// tellsOf reads a block's attributes: by their tag, and where no tag is known
// by their value: one that reads "900x2100" or "3068" is a width and a height.
func tellsOf(in *linework.Insert, unitMM float64) told {
	var t told
	get := func(what string) string {
		for _, w := range attribWords[what] {
			for _, k := range sortedTags(in.Attribs) {
				if strings.ToLower(strings.TrimSpace(k)) == w {
					return strings.TrimSpace(in.Attribs[k])
				}
			}
		}
		return ""
	}
	t.mark, t.kind = get("mark"), get("type")
	t.width = sizeOf(get("width"), unitMM, 250*mm, 8000*mm)
	t.height = sizeOf(get("height"), unitMM, 250*mm, 6000*mm)
	t.sill = sizeOf(get("sill"), unitMM, 0, 3000*mm)
	if t.width == 0 {
		for _, k := range sortedTags(in.Attribs) {
			if w, h, ok := sizePair(in.Attribs[k], unitMM); ok {
				t.width, t.height = w, h
				break
			}
		}
	}
	return t
}

func sortedTags(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// sizeOf reads a size: with a unit as people write it, a bare number in the
// drawing's unit, or in the first of mm, cm, in, ft and m in which it lies
// between lo and hi. 0: not a size.
func sizeOf(s string, unitMM float64, lo, hi Length) Length {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0
	}
	if l, err := measure.Parse(s, measure.Metric); err == nil && l >= lo && l <= hi && strings.ContainsAny(s, `'"′″mMcCiIfF`) {
		return l
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || v <= 0 {
		return 0
	}
	for _, u := range []float64{unitMM, 1, 10, 25.4, 304.8, 1000} {
		if l := v * u; l >= lo.MM() && l <= hi.MM() {
			return measure.FromMM(l)
		}
	}
	return 0
}

// sizePair reads "900x2100", "3'-0" x 7'-0"" or, in drawings in inches or
// feet, the four-figure size of American plans, "3068": 3 ft 0 in by 6 ft 8 in.
func sizePair(s string, unitMM float64) (w, h Length, ok bool) {
	s = strings.TrimSpace(s)
	inches := unitMM == 25.4 || unitMM == 304.8
	if inches && len(s) >= 4 && len(s) <= 5 && allDigits(s[:4]) && (len(s) == 4 || s[4] < '0' || s[4] > '9') {
		w = Length(s[0]-'0')*measure.Foot + Length(s[1]-'0')*measure.Inch
		h = Length(s[2]-'0')*measure.Foot + Length(s[3]-'0')*measure.Inch
		return w, h, w >= 12*measure.Inch && h >= 12*measure.Inch
	}
	for _, sep := range []string{"x", "X", "×", "/", "*"} {
		if a, b, found := strings.Cut(s, sep); found {
			w, h = sizeOf(a, unitMM, 250*mm, 8000*mm), sizeOf(b, unitMM, 250*mm, 6000*mm)
			return w, h, w > 0 && h > 0
		}
	}
	return 0, 0, false
}

func allDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if !isDigit(s[i]) {
			return false
		}
	}
	return s != ""
}

// trimMM prints a length in millimetres without needless digits.
func trimMM(l Length) string { return strconv.FormatFloat(math.Round(l.MM()*10)/10, 'f', -1, 64) }
