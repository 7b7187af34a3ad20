package job

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// Start writes a job file to begin from: filled in with what the drawings
// tell, a usual value wherever they tell nothing, and comments that ask, in
// this order, for a known dimension; which layers are new walls; make-ups; one
// deck and one ceiling height and how high each side goes; one door size and
// frame kind; prices. Every value that nobody gave is listed under assumed:.
// Read accepts the file as it is.
func Start(in StartInput) []byte {
	s := &starter{in: in, sys: in.System}
	s.models = !slices.ContainsFunc(in.Drawings, func(d StartDrawing) bool { return !(&Drawing{File: d.File}).Model() })
	s.types = s.startTypes()
	s.head()
	s.drawings()
	s.typesPart()
	s.heights()
	s.openings()
	s.stockAndPrices()
	s.rest()
	return []byte(s.page.String())
}

// starter writes the page; assumed collects what goes to its end.
type starter struct {
	in      StartInput
	sys     measure.System
	page    strings.Builder
	types   []startType
	models  bool        // every drawing is a model
	assumed [][2]string // path, reason
}

func (s *starter) line(format string, args ...any) {
	s.page.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

// comment writes one comment line; text from a drawing is kept to one line.
func (s *starter) comment(indent int, format string, args ...any) {
	s.line("%s# %s", strings.Repeat(" ", indent), oneLine(fmt.Sprintf(format, args...)))
}

func (s *starter) assume(path, reason string) { s.assumed = append(s.assumed, [2]string{path, reason}) }

// exact writes a length as drawings and people have it: nobody wants 64ths that
// come from a unit's change. Matching allows 3 mm.
func (s *starter) exact(l Length) string { return measure.Exact(l.RoundTo(s.step()), s.sys) }

func (s *starter) step() Length {
	return [2]Length{measure.EighthInch, measure.TenthOfMM}[s.sys]
}

func (s *starter) human(l Length) string { return measure.Human(l, s.sys) }

// pick returns the value of the job's system.
func (s *starter) pick(inchPound, metric string) string { return [2]string{inchPound, metric}[s.sys] }

func (s *starter) head() {
	name := s.in.Name
	if name == "" && len(s.in.Drawings) > 0 {
		file := path.Base(strings.ReplaceAll(s.in.Drawings[0].File, `\`, "/"))
		name = strings.TrimSuffix(file, path.Ext(file))
	}
	name = folderName(name)
	s.line("# Job file: the drawings, what the walls are made of, and how high they go.")
	s.line("# Everything here was read off the drawings or is a usual value. What nobody said")
	s.line("# is listed under assumed: at the end; delete a line there once its value is right.")
	s.line("# Lengths as you write them: %s", s.pick(`9'-6 1/2", 114.5in, 4 ft`, "2900mm, 290cm, 2.9m"))
	s.line("")
	s.line("job: %s", quote(name))
	s.line("title: %s", quote(name))
	s.line("stamp: BUDGET        # BUDGET, BID once heights and make-ups are confirmed, BUILD once measured")
	s.line("units: %s    # inch-pound or metric: which sheets and rules hold", s.sys)
	s.line("")
}

// folderName makes a job's name one that can name a folder.
func folderName(name string) string {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || unicode.IsControl(r) {
			return '-'
		}
		return r
	}, strings.TrimSpace(strings.ToValidUTF8(name, "-")))
	for len(name) > 100 {
		name = strings.TrimSpace(string([]rune(name)[:len([]rune(name))-1]))
	}
	if strings.Trim(name, ".") == "" {
		return "job"
	}
	if stem, _, _ := strings.Cut(name, "."); device.MatchString(stem) {
		return "job " + name
	}
	return name
}

// device are the names that one system keeps for devices, whatever follows a dot.
// Source: Microsoft, Naming Files, Paths, and Namespaces.
var device = regexp.MustCompile(`(?i)^ *(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]) *$`)

// drawings asks for a known dimension and for the walls' layers.
func (s *starter) drawings() {
	s.line("# 1. A known dimension: check the unit against a door or a written dimension.")
	s.line("#    A wrong one is put right with unit: (mm, cm, m, inch, foot) or scale:.")
	s.line("# 2. Which layers are new walls: wall, or {is: wall, status: existing}. Others are")
	s.line("#    door, window, opening, opening tag, room, tag, deck, column, wall fill, ignore.")
	s.line("drawings:")
	var seen []string
	for _, d := range s.in.Drawings {
		key := d.File + "\x00" + d.Storey
		if slices.Contains(seen, key) {
			continue
		}
		seen = append(seen, key)
		s.drawing(d)
	}
	s.line("")
}

func (s *starter) drawing(d StartDrawing) {
	model := (&Drawing{File: d.File}).Model()
	at := "drawings." + d.File
	s.line("  - file: %s", quote(d.File))
	storey := d.Storey
	if storey == "" && !model {
		storey = "1"
		s.assume(at+".storey", "the drawing does not say which storey it shows")
	}
	if storey != "" {
		s.line("    storey: %s", quote(storey))
	}
	if !model || d.Elevation != 0 {
		s.line("    elevation: %s    # of the storey's floor", s.exact(d.Elevation))
	}
	s.unit(d, at)
	if model {
		s.comment(4, "walls, openings and structure are the model's own; layers are not mapped")
		return
	}
	s.line("    # region: %s    # only this part of the sheet: two corners", s.pick("[[0ft, 0ft], [120ft, 80ft]]", "[[0m, 0m], [40m, 25m]]"))
	s.line("    drawn: %s    # what wall lines are: finish, stud or centre", drawnWords[min(int(d.Drawn), len(drawnWords)-1)])
	s.assume(at+".drawn", "a drawing does not say whether wall lines are finish or stud faces")
	s.layers(d, at)
	s.blocks(d)
}

func (s *starter) unit(d StartDrawing, at string) {
	if !slices.Contains(unitWords, d.Unit) {
		s.line("    # unit: %s", s.pick("inch", "mm"))
		return
	}
	header := d.Header
	if header == "" {
		header = "none"
	}
	for _, e := range d.Evidence {
		s.comment(4, "%s", e)
	}
	if d.Sure {
		s.line("    # unit: %s    # as the header says: %s", d.Unit, oneLine(header))
		return
	}
	s.line("    unit: %s    # header: %s", d.Unit, oneLine(header))
	s.assume(at+".unit", "header: "+header+"; check a known dimension")
}

func (s *starter) layers(d StartDrawing, at string) {
	if len(d.Layers) == 0 {
		s.line("    # layers: {A-WALL: wall, A-DOOR: door}")
		return
	}
	s.line("    layers:")
	written := map[string]bool{}
	for _, l := range d.Layers {
		if written[l.Name] || l.Name == "" || !sound(l.Name) {
			continue
		}
		written[l.Name] = true
		note := fmt.Sprintf("%d entities, %s of line", l.Entities, measure.OrderLength(l.Length.Metres(), s.sys))
		if l.Why != "" {
			note += "; " + l.Why
		}
		switch {
		case !slices.Contains(layerRoles, l.Role):
			s.comment(6, "%s: wall    # not read; %s", quote(l.Name), note)
		case l.Role == "wall" && l.Thickness > 0:
			s.line("      %s: {is: wall, thickness: %s}    # %s", quote(l.Name), s.exact(l.Thickness), oneLine(note))
			s.assume(at+".layers", "walls on "+oneLine(l.Name)+" are single lines; taken as "+s.human(l.Thickness)+" thick")
		case slices.Contains(statuses, l.Status) && l.Status != "new":
			s.line("      %s: {is: %s, status: %s}    # %s", quote(l.Name), l.Role, l.Status, oneLine(note))
		default:
			s.line("      %s: %s    # %s", quote(l.Name), l.Role, oneLine(note))
		}
	}
}

func (s *starter) blocks(d StartDrawing) {
	written := map[string]bool{}
	for _, b := range d.Blocks {
		if written[b.Name] || b.Name == "" || !sound(b.Name) || !slices.Contains(blockRoles, b.Role) {
			continue
		}
		if len(written) == 0 {
			s.line("    blocks:    # door, window, framed, wrapped, ignore")
		}
		written[b.Name] = true
		s.line("      %s: %s    # placed %d times", quote(b.Name), b.Role, b.Count)
	}
}

// heights asks for one deck and one ceiling height.
func (s *starter) heights() {
	s.line("# 4. One ceiling and one deck height, from the storey's floor. Rooms may differ:")
	s.line("#    ceilings: {default: %s, rooms: {Lobby: %s}}", s.pick(`9'-0"`, "2.7m"), s.pick(`10'-0"`, "3m"))
	s.line("#    A sloped deck takes three points with their heights:")
	s.line("#    points: %s", s.pick(`[[0ft, 0ft, 12'-6"], [80ft, 0ft, 12'-6"], [0ft, 50ft, 13'-6"]]`, "[[0m, 0m, 3.8m], [24m, 0m, 3.8m], [0m, 15m, 4.1m]]"))
	s.ceilings()
	s.decks()
	s.line("")
}

func (s *starter) ceilings() {
	s.line("ceilings:")
	s.line("  default: %s", s.pick(`9'-0"`, "2700mm"))
	s.assume("ceilings.default", "not on the drawing")
	rooms := map[string]bool{}
	for _, r := range s.in.Rooms {
		name := r.Name
		if name == "" {
			name = r.Number
		}
		if r.Ceiling <= 0 || name == "" || rooms[name] || !sound(name) {
			continue
		}
		if len(rooms) == 0 {
			s.line("  rooms:")
		}
		rooms[name] = true
		s.line("    %s: %s", quote(name), s.exact(max(r.Ceiling, s.step())))
	}
}

func (s *starter) decks() {
	for _, d := range s.in.Decks {
		s.comment(0, "storey %s: the model's structure is from %s to %s above the floor", d.Storey, s.human(d.Lowest), s.human(d.Highest))
	}
	storeys := s.openStoreys()
	if len(storeys) == 0 {
		s.line("# decks: the model's own")
		return
	}
	s.line("decks:")
	for _, st := range storeys {
		s.line("  - storey: %s", quote(st.Name))
		if st.Height > 0 {
			s.line("    level: %s    # floor to floor in the drawing; take off the slab", s.exact(st.Height))
			s.assume("decks."+st.Name+".level", "floor to floor height; nobody gave the underside of the structure")
			continue
		}
		s.line("    level: %s", s.pick(`10'-0"`, "3000mm"))
		s.assume("decks."+st.Name+".level", "not on the drawing")
	}
}

// A floor to floor height outside these is a mezzanine, a plinth or a slip of
// the model, and no guess at a deck. Source: common practice, none published.
const (
	leastStorey = 2400 * measure.Millimetre
	mostStorey  = 15 * measure.Metre
)

// openStoreys returns the storeys whose deck no model tells, each once.
func (s *starter) openStoreys() []StartStorey {
	told := map[string]bool{}
	for _, d := range s.in.Decks {
		told[d.Storey] = true
	}
	heights := map[string]Length{}
	for _, st := range s.in.Storeys {
		heights[st.Name] = st.Height
	}
	var out []StartStorey
	add := func(name string) {
		if name != "" && !told[name] && sound(name) {
			told[name] = true
			st := StartStorey{Name: name, Height: heights[name].RoundTo(s.sys.Step())}
			if st.Height < leastStorey || st.Height > mostStorey {
				st.Height = 0
			}
			out = append(out, st)
		}
	}
	models := false
	for _, d := range s.in.Drawings {
		if (&Drawing{File: d.File}).Model() {
			models = true
			continue
		}
		if d.Storey == "" {
			add("1")
		}
		add(d.Storey)
	}
	if models {
		for _, st := range s.in.Storeys {
			add(st.Name)
		}
	}
	return out
}

// openings asks for one door size and frame kind.
func (s *starter) openings() {
	s.line("# 5. One door size and frame kind: knock-down (after board), welded (before board),")
	s.line("#    slip-on (after board) or none. sizes-are: leaf, frame, rough or drawn.")
	s.line("frames:")
	for _, f := range []struct{ use, name, kind string }{{"door", "D", "knock-down"}, {"window", "W", "none"}, {"framed", "FO", "knock-down"}, {"wrapped", "WO", "none"}} {
		var found []string
		low, n := false, 0
		for _, o := range s.in.Openings {
			if o.Kind == f.use {
				n, low = n+o.Count, low || o.Height <= 0
				found = append(found, s.openingWords(o))
			}
		}
		if n == 0 && f.use != "door" {
			continue
		}
		s.line("  - name: %s", f.name)
		for _, w := range found[:min(len(found), 12)] {
			s.comment(4, "%s", w)
		}
		s.line("    for: %s", f.use)
		s.line("    kind: %s", f.kind)
		s.assume("frames."+f.name+".kind", "nobody said how the frame meets the board")
		s.line("    sizes-are: %s", usualBasis(f.use))
		s.assume("frames."+f.name+".sizes-are", "nobody said what the drawn or scheduled size is")
		s.frameHeight(f.use, f.name, low || n == 0)
	}
	s.line("")
}

func (s *starter) frameHeight(use, name string, lacking bool) {
	height, sill := s.pick("84in", "2100mm"), ""
	if use == "window" {
		height, sill = s.pick("48in", "1200mm"), s.pick("36in", "900mm")
	}
	if !lacking {
		s.line("    # height: %s    # the drawing tells them all", height)
		return
	}
	s.line("    height: %s    # where the drawing does not tell it", height)
	s.assume("frames."+name+".height", "not on the drawing")
	if sill != "" {
		s.line("    sill: %s", sill)
		s.assume("frames."+name+".sill", "not on the drawing")
	}
}

func (s *starter) openingWords(o StartOpening) string {
	size := s.human(o.Width) + " wide"
	if o.Height > 0 {
		size += ", " + s.human(o.Height) + " high"
	}
	if o.Type != "" {
		size += ", " + o.Type
	}
	return fmt.Sprintf("%d × %s", o.Count, size)
}

// stockAndPrices asks for prices of the sheets that the types need.
func (s *starter) stockAndPrices() {
	s.line("# 6. Price per sheet, and which sheets you can get. Without prices layouts are")
	s.line("#    compared by board bought, then joints.")
	s.line("stock:")
	r := &reader{sys: s.sys}
	names := s.boards()
	for _, name := range names {
		sheets := r.usualSheets(rules.FindProduct(s.sys, name))
		s.line("  %s:", quote(name))
		s.line("    sheets: {%s}", s.sheetList(sheets))
		s.assume("stock."+name+".sheets", "usual; nobody said which sheets can be bought")
	}
	s.line("# prices:")
	s.line("#   currency: %s", s.pick("USD", "EUR"))
	s.line("#   boards:")
	for _, name := range names {
		s.comment(0, "    %s: {%s}", quote(name), s.pick("4x8: 14.20, 4x10: 17.75, 4x12: 21.30", "1200x2400: 9.80, 1200x3000: 12.20"))
	}
	s.line("#   %s: {tapered: 1.10, tapered-cut: 1.60, butt: 3.30}", s.pick("joints-per-ft", "joints-per-m"))
	s.line("#   hour: 60")
	s.line("#   list: prices.csv    # or .xlsx: item, unit, price, hours, labour rate, section, date, note")
	s.line("#   add: [{name: Overhead, percent: 10}, {name: Tax, percent: 6, of: material}]")
	s.line("# order: {longest: %s, floor: %s}    # what fits the way in; what stacks may load the floor with, by the structure's engineer", s.pick("12ft", "3.6m"), s.pick("40 psf", "1.9 kPa"))
	s.line("# limiting-heights: heights.csv    # from the stud maker's tables: stud, spacing, height, note")
	s.line("")
}

func (s *starter) sheetList(sheets []SheetSize) string {
	var out []string
	for _, sh := range sheets {
		var lengths []string
		for _, l := range sh.Lengths {
			if s.sys == measure.InchPound && l%measure.Foot == 0 {
				lengths = append(lengths, fmt.Sprintf("%dft", l/measure.Foot))
				continue
			}
			lengths = append(lengths, measure.Exact(l, s.sys))
		}
		out = append(out, measure.Exact(sh.Width, s.sys)+": ["+strings.Join(lengths, ", ")+"]")
	}
	return strings.Join(out, ", ")
}

// rest writes the keys that most jobs leave alone, and what was assumed.
func (s *starter) rest() {
	s.line("framing: to layout    # or: as framed, once studs stand or are drawn")
	s.line("offcuts: room         # how far an offcut may go: run, room, storey, job")
	s.line("# rules: {floor-gap: %s}    # boardrun rules lists them all", s.pick("1/2in", "12mm"))
	s.line("# notes: [\"Gypsum ceilings, bulkheads and soffits are not in this takeoff.\"]")
	s.line("")
	s.line("# Nobody said these. Delete a line once the value it names is right.")
	s.line("assumed:")
	written := map[string]bool{}
	for _, a := range s.assumed {
		if !written[a[0]] && sound(a[0]) {
			written[a[0]] = true
			s.line("  %s: %s", quote(a[0]), quote(oneLine(a[1])))
		}
	}
}
