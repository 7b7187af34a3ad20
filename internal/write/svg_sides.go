package write

import (
	"archive/zip"
	"fmt"
	"io"
	"strings"

	"boardrun/internal/report"
)

// Sides writes sides.zip: an SVG of each ply of each boarded side, named by its
// mark, to put into letters, orders and other people's documents. Entries carry
// no time: the same takeoff gives the same bytes.
func Sides(w io.Writer, t *report.Takeoff) error {
	z := zip.NewWriter(w)
	draft, used := report.NewDraft(t), map[string]bool{}
	for i := range t.Faces {
		f := &t.Faces[i]
		if !f.Boarded || report.Strip(f) {
			continue
		}
		for _, y := range f.Plies {
			d := draft.Elevation(f, y.Ply, report.View{Scale: report.DefaultScale})
			name := f.ID
			if len(f.Plies) > 1 {
				name += fmt.Sprintf("-layer-%d", y.Ply)
			}
			out, err := z.Create(entryName(name, used))
			if err != nil {
				return err
			}
			if err := SVG(out, d); err != nil {
				return err
			}
		}
	}
	if len(used) == 0 {
		out, err := z.Create("README.txt")
		if err != nil {
			return err
		}
		if _, err := io.WriteString(out, "No side of this job is boarded.\n"); err != nil {
			return err
		}
	}
	return z.Close()
}

// entryName makes a name any system can keep of a mark, which holds the name of
// a storey; none is given twice, not even where case does not count.
func entryName(mark string, used map[string]bool) string {
	safe := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '_'
	}, mark)
	if len(safe) > 80 {
		safe = safe[len(safe)-80:]
	}
	name := safe
	for n := 2; used[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s-%d", safe, n)
	}
	used[strings.ToLower(name)] = true
	return name + ".svg"
}
