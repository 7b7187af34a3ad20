package job

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// startType is one wall type of the page.
type startType struct {
	wall   StartWall
	name   string
	match  string // "thickness: 4-7/8in", "tag: A", "model-type: …"; several lines where several layers hold it
	stud   Length
	plies  [2][]string
	leave  string
	reason string // where stud and boards come from
}

// startTypes makes one type of each wall group; groups that would match alike
// are one.
func (s *starter) startTypes() []startType {
	var out []startType
	names, matches := map[string]bool{}, map[string]bool{}
	for _, w := range s.in.Walls {
		if w.Thickness <= 0 {
			continue
		}
		t := s.startType(w)
		if matches[t.match] {
			continue
		}
		matches[t.match] = true
		base := t.name
		for n := 2; names[t.name]; n++ {
			t.name = fmt.Sprintf("%s (%d)", base, n)
		}
		names[t.name] = true
		out = append(out, t)
	}
	takeMasonry(out)
	return out
}

// takeMasonry boards masonry where a drawing holds nothing else to board: a job
// file that leaves every wall is nothing to begin from.
func takeMasonry(types []startType) {
	if slices.ContainsFunc(types, func(t startType) bool { return t.leave == "" }) {
		return
	}
	for i := range types {
		if t := &types[i]; t.wall.Kind == "masonry" {
			t.leave, t.reason = "", "a guess: masonry or concrete, boarded because the drawing holds no partition; say how it is lined"
		}
	}
}

func (s *starter) startType(w StartWall) startType {
	t := startType{wall: w}
	thick := s.exact(max(w.Thickness, s.step()))
	switch {
	case usable(w.Tag) && !(s.models && usable(w.TypeName)):
		t.name, t.match = w.Tag, "tag: "+quote(w.Tag)
	case usable(w.TypeName):
		t.name, t.match = w.TypeName, "model-type: "+quote(w.TypeName)
	default:
		t.name, t.match = s.human(w.Thickness), "thickness: "+thick
		// a low or a glazed wall may be as thick as a partition: its layer tells them apart
		if w.Kind != "" && len(w.Layers) > 0 && !slices.ContainsFunc(w.Layers, func(l string) bool { return !usable(l) }) {
			t.name = w.Kind + " " + t.name
			var any []string
			for _, l := range w.Layers {
				any = append(any, "layer: "+quote(l)+"\n        thickness: "+thick)
			}
			t.match = strings.Join(any, "\n      - ")
		}
	}
	t.leave = map[string]string{
		"glazed": "glazed, not boarded", "low": "low wall; say how it is boarded if it is", "masonry": "masonry or concrete; lined only where a type says so",
		"curtain": "curtain wall", "shaft": "shaft wall: liner is measured, not laid out",
	}[w.Kind]
	if t.ofMaterials(w.Materials, s.sys, s.step()) {
		t.reason = "by the model's make-up"
		return t
	}
	g := rules.GuessMakeup(w.Thickness, s.sys)
	t.stud = g.StudDepth
	for i, n := range g.Plies {
		t.plies[i] = slices.Repeat([]string{g.Board}, n)
	}
	t.reason = "usual for " + s.human(w.Thickness)
	switch {
	case g.Off.Abs() > tooFarOff:
		t.reason = "a guess: no usual partition is " + s.human(w.Thickness) + " thick; exterior, masonry or double wall? say how it is boarded, or leave: it"
	case g.Off.Abs() > measure.Millimetre:
		t.reason += fmt.Sprintf("; nothing usual is nearer, %s off", s.human(g.Off.Abs()))
	}
	return t
}

// tooFarOff is where a make-up from thickness alone is no more than a place to
// begin: one board beyond any usual one. Source: common practice, none
// published.
const tooFarOff = 12 * measure.Millimetre

// usable reports whether a name from a drawing can name a type: wildcards
// would match more than it.
func usable(name string) bool {
	return name != "" && len(name) <= 60 && sound(name) && strings.TrimSpace(name) == name && !strings.ContainsAny(name, "*?")
}

// sound reports whether text survives being written in quotes and read back.
func sound(text string) bool {
	if !utf8.ValidString(text) || strings.TrimSpace(text) != text {
		return false
	}
	return !strings.ContainsFunc(text, func(r rune) bool {
		return r < ' ' || r >= 0x7f && r < 0xa0 || r == 0xfeff || r == 0x2028 || r == 0x2029 || r == 0xfffd
	})
}

var (
	boardWords   = regexp.MustCompile(`(?i)gyp|gips|plaster ?board|drywall|wall ?board|gk[bf]\b|dry lining|plâtre`)
	masonryWords = regexp.MustCompile(`(?i)brick|block|concrete|masonry|cmu|stone|beton|mauer|ziegel|kalksand|mur\b`)
)

// ofMaterials takes stud and plies from a model's layers: board outside,
// everything between is the stud zone, up to masonry where one side is lined.
// It fails where there is no board or no zone, where the zone is deeper than
// any stud, or a board has no like in the catalogue.
func (t *startType) ofMaterials(layers []StartMaterial, sys measure.System, step Length) bool {
	first, last := 0, len(layers)
	for first < last && boardWords.MatchString(layers[first].Name) {
		first++
	}
	for last > first && boardWords.MatchString(layers[last-1].Name) {
		last--
	}
	if first == last || first == 0 && last == len(layers) {
		return false
	}
	var plies [2][]string
	for i := first - 1; i >= 0; i-- { // base ply first: from the stud outwards
		plies[0] = append(plies[0], likeBoard(layers[i], sys))
	}
	for _, l := range layers[last:] {
		plies[1] = append(plies[1], likeBoard(l, sys))
	}
	if len(plies[0]) > 4 || len(plies[1]) > 4 || slices.Contains(plies[0], "") || slices.Contains(plies[1], "") {
		return false
	}
	zone := studZone(layers[first:last], first > 0, last < len(layers)).RoundTo(step)
	if zone <= 0 || zone > deepestStud {
		return false
	}
	t.stud, t.plies = zone, plies
	return true
}

// deepestStud is deeper than any stock stud with its insulation.
const deepestStud = 10 * measure.Inch

// studZone is the depth between the boards; of a lined masonry wall that
// between board and masonry, 0 where board is on both sides of masonry.
func studZone(layers []StartMaterial, left, right bool) Length {
	at := slices.IndexFunc(layers, func(m StartMaterial) bool { return masonryWords.MatchString(m.Name) })
	switch {
	case at < 0:
	case left && right:
		return 0
	case left:
		layers = layers[:at]
	default:
		for at = len(layers) - 1; !masonryWords.MatchString(layers[at].Name); at-- {
		}
		layers = layers[at+1:]
	}
	var zone Length
	for _, l := range layers {
		zone += max(l.Thickness, 0)
	}
	return zone
}

// likeBoard returns the first product within 1 mm of a layer, one whose kind
// its name tells before others; thinner than what hangs on studs by itself is
// none.
func likeBoard(l StartMaterial, sys measure.System) string {
	best := ""
	name := strings.ToLower(l.Name)
	for _, p := range rules.Catalogue(sys) {
		if (p.Thickness-l.Thickness).Abs() > measure.Millimetre || p.Thickness < [2]Length{4 * measure.EighthInch, 12 * measure.Millimetre}[sys] {
			continue
		}
		if strings.Contains(name, p.Kind) {
			return p.Name
		}
		if best == "" || p.Kind == "type X" {
			best = p.Name
		}
	}
	return best
}

// typesPart asks for make-ups and how high each side goes.
func (s *starter) typesPart() {
	s.line("# 3. Make-up per thickness or tag. left: and right: may differ from both:, or be")
	s.line("#    \"not boarded: why\". A rated type names its listed design: listing: WP 1200.")
	s.line("#    height: to deck, to ceiling, above ceiling, ceiling + %s, or a length.", s.pick("6in", "150mm"))
	if len(s.types) == 0 {
		s.line("# types: no wall was found; every wall is boarded as usual until they are given")
		s.line("")
		return
	}
	s.line("types:")
	for i := range s.types {
		s.writeType(&s.types[i])
	}
	s.line("")
}

func (s *starter) writeType(t *startType) {
	w := &t.wall
	at := "types." + t.name
	s.line("  - name: %s", quote(t.name))
	on := ""
	if len(w.Layers) > 0 {
		on = ", on " + strings.Join(w.Layers, ", ")
	}
	s.comment(4, "%s of wall, %s thick%s", measure.OrderLength(w.Length.Metres(), s.sys), s.human(w.Thickness), on)
	s.line("    match:")
	s.line("      - %s", t.match)
	if t.leave != "" {
		s.line("    leave: %s", quote(t.leave))
		s.assume(at+".leave", "by its layer, name, kind or thickness; nobody said")
		return
	}
	if w.Rating != "" {
		s.line("    # rating: %s    # the drawing says so; with it goes a listed design", quote(oneLine(w.Rating)))
		s.line("    # listing: WP 1200")
	}
	s.line("    stud: %s", s.exact(t.stud))
	s.assume(at+".stud", t.reason)
	s.line("    mil: 18")
	s.assume(at+".mil", "nobody said; the thinnest usual stud")
	s.line("    spacing: %s", s.pick("16in", "600mm"))
	s.assume(at+".spacing", "nobody said; usual")
	if slices.Equal(t.plies[0], t.plies[1]) {
		s.writeSide("both", t.plies[0], at, t.reason)
		return
	}
	s.writeSide("left", t.plies[0], at, t.reason)
	s.writeSide("right", t.plies[1], at, t.reason)
}

func (s *starter) writeSide(key string, plies []string, at, reason string) {
	if len(plies) == 0 {
		s.line("    %s: not boarded", key)
		s.assume(at+"."+key, reason+": board on one side only")
		return
	}
	quoted := make([]string, len(plies))
	for i, p := range plies {
		quoted[i] = quote(p)
	}
	s.line("    %s:", key)
	s.line("      boards: [%s]", strings.Join(quoted, ", "))
	s.assume(at+"."+key+".boards", reason)
	s.line("      height: to deck")
	s.assume(at+"."+key+".height", "nobody said how high each side goes")
	s.line("      finish: 4")
	s.assume(at+"."+key+".finish", "nobody said; level 4")
}

// boards are the boards of all types, in the order of the catalogue.
func (s *starter) boards() []string {
	used := map[string]bool{}
	for _, t := range s.types {
		for _, side := range t.plies {
			for _, p := range side {
				used[p] = used[p] || t.leave == ""
			}
		}
	}
	var out []string
	for _, p := range rules.Catalogue(s.sys) {
		if used[p.Name] {
			out = append(out, p.Name)
		}
	}
	if len(out) == 0 {
		out = []string{rules.GuessMakeup(usualThickness[s.sys], s.sys).Board}
	}
	return out
}

var plainWord = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9 ._/+()$|°²×½-]*$`)

// quote writes text as a YAML word: bare where that is safe also inside
// braces, else in double quotes with JSON's escapes, which YAML shares.
func quote(text string) string {
	switch strings.ToLower(text) {
	case "", "null", "true", "false", "yes", "no", "on", "off", "y", "n", ".inf", ".nan":
	default:
		if plainWord.MatchString(text) && !strings.HasSuffix(text, " ") {
			return text
		}
	}
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(strings.ToValidUTF8(text, "\uFFFD")) // a string always encodes
	return strings.TrimSuffix(b.String(), "\n")
}

// oneLine makes text from a drawing fit a comment: one line, no control
// characters, at most 160 characters.
func oneLine(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 || r == 0xfeff {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	if r := []rune(text); len(r) > 160 {
		text = string(r[:159]) + "…"
	}
	return strings.TrimRight(text, " ")
}
