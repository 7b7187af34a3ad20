package quantity

import (
	"fmt"
	"sort"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
)

// StudRow is one line of a run's stud list: equal studs of one kind.
type StudRow struct {
	Run, Storey, Spec string
	Kind              string // field, jamb, corner, tee, cripple, added
	Mil               int
	Length            Length // cut length
	Count             int
	Stations          []Length // on the run's axis, rising
}

// MemberSpec names a stud (letter S) or track (T) by its designator: depth and
// flange in 1/100 in and mil, "362S125-18"; in metric "92x32 mm stud 18 mil".
// Source: the designator of ASTM C645 members, as steel framing makers print it.
func MemberSpec(depth, flange Length, mil int, letter string, sys measure.System) string {
	if sys == measure.Metric {
		word := map[string]string{"S": "stud", "T": "track"}[letter]
		return fmt.Sprintf("%sx%s mm %s %d mil", measure.Cut(depth+mm/2, sys), measure.Cut(flange+mm/2, sys), word, mil)
	}
	return fmt.Sprintf("%d%s%d-%d", depth*100/inch, letter, flange*100/inch, mil)
}

func (t *taker) studSpec(l *layout.Layout, kind layout.StudKind) (string, int) {
	mil := l.Run.Mil
	if kind == layout.JambStud {
		mil = t.in.Settings.jambMil(mil)
	}
	return MemberSpec(l.Run.StudDepth, t.set.Flange, mil, "S", t.sys), mil
}

// studList fills in the stud list: per run by kind, then length.
func (t *taker) studList(l *layout.Layout) {
	type key struct {
		kind   layout.StudKind
		length Length
	}
	rows := map[key]*StudRow{}
	var keys []key
	for i := range l.Studs {
		s := &l.Studs[i]
		k := key{s.Kind, s.Length}
		r := rows[k]
		if r == nil {
			spec, mil := t.studSpec(l, s.Kind)
			r = &StudRow{Run: l.Run.ID, Storey: l.Run.Storey, Spec: spec, Kind: s.Kind.String(), Mil: mil, Length: s.Length}
			rows[k] = r
			keys = append(keys, k)
		}
		r.Count++
		r.Stations = append(r.Stations, s.Station)
	}
	sort.Slice(keys, func(i, k int) bool {
		return keys[i].kind < keys[k].kind || keys[i].kind == keys[k].kind && keys[i].length < keys[k].length
	})
	for _, k := range keys {
		r := rows[k]
		sort.Slice(r.Stations, func(i, k int) bool { return r.Stations[i] < r.Stations[k] })
		t.res.Studs = append(t.res.Studs, *r)
	}
}

// stockFor cuts lengths from stock by first fit, longest first: every piece
// goes into the first opened length that still holds it, else the shortest
// stock that does. It returns how many of each stock length, parallel to
// stock, and the pieces longer than all of them.
func stockFor(pieces, stock []Length) (count []int, special []Length) {
	ps := append([]Length(nil), pieces...)
	sort.Slice(ps, func(i, k int) bool { return ps[i] > ps[k] })
	count = make([]int, len(stock))
	var left []Length // of opened lengths, in opening order
	from := 0         // no opened length before it holds a piece as long as the last one
next:
	for k, p := range ps {
		if k > 0 && p != ps[k-1] {
			from = 0
		}
		for ; from < len(left); from++ {
			if left[from] >= p {
				left[from] -= p
				continue next
			}
		}
		for i, s := range stock {
			if s >= p {
				count[i]++
				left = append(left, s-p)
				continue next
			}
		}
		special = append(special, p)
	}
	return count, special
}
