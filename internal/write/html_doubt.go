package write

import (
	"sort"
	"strings"

	"boardrun/internal/report"
)

var severityRank = map[string]int{"person": 0, "warning": 1, "note": 2}

// doubts ranks what a person should look at: what needs a person first, then by
// the length of wall that rests on it.
func (p *page) doubts() {
	sum := map[string]report.MM{}
	for i := range p.t.Exceptions {
		e := &p.t.Exceptions[i]
		p.out.Doubts = append(p.out.Doubts, p.doubt(e))
		sum[e.Severity+"|"+e.Code] += e.SpanMM
	}
	p.out.Kinds = map[string]string{}
	for k, v := range sum {
		if v > 0 && !strings.HasSuffix(k, "|rounded") { // that one's span is no length of wall
			p.out.Kinds[k] = p.run(v)
		}
	}
	sort.SliceStable(p.out.Doubts, func(a, b int) bool {
		x, y := &p.out.Doubts[a], &p.out.Doubts[b]
		if r, s := severityRank[x.Severity], severityRank[y.Severity]; r != s {
			return r < s
		}
		return x.Len > y.Len
	})
}

func (p *page) doubt(e *report.Exception) pageDoubt {
	d := pageDoubt{
		Severity: e.Severity, Code: e.Code, Text: e.Message, Did: e.Did, Where: handle(&e.Source), Storey: -1, At: []int{}, Wall: -1, Len: unit(e.SpanMM),
	}
	if e.Target != "" {
		d.Where = strings.TrimSpace(e.Target + ": " + d.Where)
	}
	if w, ok := p.wall[target(e.Target, p.wall)]; ok {
		r := &p.t.Runs[w]
		d.Wall, d.Storey = w, p.storey[r.Storey]
		if e.Severity == "person" && e.SpanMM == 0 {
			d.Len = unit(r.LengthMM) // the whole wall rests on it
		}
	}
	if e.AtMM != nil && finite(*e.AtMM) {
		if d.Storey < 0 {
			d.Storey = p.storeyAt(e.Source.File, *e.AtMM)
		}
		if d.Storey >= 0 {
			org := p.out.Storeys[d.Storey].org
			d.At = []int{unit(e.AtMM[0] - org[0]), unit(e.AtMM[1] - org[1])}
			d.Placed = true
		}
	}
	if d.Len > 0 {
		d.Length = p.long(report.MM(d.Len) / tenths)
	}
	return d
}

// target finds the longest part of an id that names something known: pieces
// are named face/ply/number.
func target(id string, known map[string]int) string {
	for id != "" {
		if _, ok := known[id]; ok {
			return id
		}
		i := strings.LastIndexByte(id, '/')
		if i < 0 {
			return ""
		}
		id = id[:i]
	}
	return ""
}

// storeyAt is the storey of a drawing at a point: of several on one drawing the
// one whose walls lie nearest.
func (p *page) storeyAt(file string, at report.UV) int {
	best, dist := -1, report.MM(0)
	for _, s := range p.byFile[file] {
		st := &p.out.Storeys[s]
		x, y := at[0]-st.org[0], at[1]-st.org[1]
		dx := max(report.MM(st.Fit[0])/tenths-x, x-report.MM(st.Fit[2])/tenths, 0)
		dy := max(report.MM(st.Fit[1])/tenths-y, y-report.MM(st.Fit[3])/tenths, 0)
		if d := dx + dy; best < 0 || d < dist {
			best, dist = s, d
		}
	}
	if best < 0 && len(p.out.Storeys) == 1 {
		return 0
	}
	return best
}
