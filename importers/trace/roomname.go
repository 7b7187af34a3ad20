package trace

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"boardrun/internal/measure"
)

// nameRooms gives each room the writing that stands in it: the name written
// largest, of equals the first of the alphabet, and the number nearest to it.
// Where the writing stands on the sheet decides nothing: the plan turned reads
// the same.
func (t *tracer) nameRooms() {
	var ix boxIndex
	for i := range t.out.Rooms {
		ix.add(int32(i), t.out.Rooms[i].Outline...)
	}
	names := make([][]label, len(t.out.Rooms))
	numbers := make([][]label, len(t.out.Rooms))
	for _, k := range t.textsOf(RoomText) {
		x := &t.d.Texts[k]
		p := gridPt(x.At)
		room, size := int32(-1), 0.0
		ix.search(0, func(i int32) {
			if o := t.out.Rooms[i].Outline; inside(o, p) {
				if a := areaM2(o); room < 0 || a < size {
					room, size = i, a
				}
			}
		}, p)
		if room < 0 {
			continue
		}
		name, number := nameIn(x.Value)
		if name != "" {
			names[room] = append(names[room], label{name, p, measure.FromMM(x.Height)})
		}
		if number != "" {
			numbers[room] = append(numbers[room], label{number, p, 0})
		}
		r := &t.out.Rooms[room]
		r.Sources = append(r.Sources, t.sourceOf(&x.Common))
		t.usedEnt[x.Entity] = true
	}
	for i := range t.out.Rooms {
		r := &t.out.Rooms[i]
		if len(names[i]) > 0 {
			n := slices.MinFunc(names[i], func(a, b label) int {
				return cmp.Or(-cmp.Compare(a.height, b.height), cmp.Compare(a.text, b.text))
			})
			r.Name, r.At = n.text, n.at
		}
		if len(numbers[i]) > 0 {
			r.Number = slices.MinFunc(numbers[i], func(a, b label) int {
				if r.Name == "" {
					return cmp.Compare(a.text, b.text)
				}
				return cmp.Or(cmp.Compare(norm2(a.at.Sub(r.At)), norm2(b.at.Sub(r.At))), cmp.Compare(a.text, b.text))
			}).text
		}
		sortSources(r.Sources)
	}
}

// label is a name or a number written in a room.
type label struct {
	text   string
	at     pt
	height Length
}

// textsOf lists the visible writings of a role by place, so that their order in
// the file decides nothing.
func (t *tracer) textsOf(role Role) []int {
	var out []int
	for i := range t.d.Texts {
		x := &t.d.Texts[i]
		if _, r := t.roleOf(&x.Common); r != role || x.Hidden && !t.opt.Hidden || !finite(x.At) || !t.inRegion(x.At, x.At) {
			continue
		}
		out = append(out, i)
	}
	slices.SortFunc(out, func(i, j int) int {
		a, b := &t.d.Texts[i], &t.d.Texts[j]
		return cmp.Or(-cmp.Compare(a.At[1], b.At[1]), cmp.Compare(a.At[0], b.At[0]), cmp.Compare(a.Value, b.Value))
	})
	return out
}

// nameIn reads a room's name and number out of its writing: a line of words is
// the name, a line that is a number, alone or after a short word, the number; a
// line with an area is neither.
func nameIn(s string) (name, number string) {
	for _, l := range strings.Split(s, "\n") {
		l = strings.TrimSpace(l)
		switch {
		case l == "" || areaLine(l):
		case number == "" && numberLine(l) != "":
			number = numberLine(l)
		case name == "":
			name = l
		}
	}
	return name, number
}

func areaLine(l string) bool {
	l = strings.ToLower(l)
	if !strings.ContainsAny(l, "0123456789") {
		return false
	}
	for _, u := range []string{"m2", "m²", "sf", "sq", "qm", "ft²", "sqm"} {
		if strings.Contains(l, u) {
			return true
		}
	}
	return false
}

// numberLine returns the number in "101", "A-101B", "RM 101", "Raum 1.03".
func numberLine(l string) string {
	f := strings.Fields(l)
	if len(f) == 0 || len(f) > 2 {
		return ""
	}
	n := f[len(f)-1]
	digits, letters := 0, 0
	for _, r := range n {
		switch {
		case unicode.IsDigit(r):
			digits++
		case unicode.IsLetter(r):
			letters++
		}
	}
	if digits == 0 || letters > 2 || digits < 2 && len(f) == 2 {
		return ""
	}
	if len(f) == 2 {
		switch strings.ToLower(strings.Trim(f[0], ".:#")) {
		case "rm", "room", "raum", "no", "nr", "r", "local", "pièce", "sala", "vano", "пом":
		default:
			return ""
		}
	}
	return n
}
