package importers

import (
	"fmt"
	"sort"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/geom"
)

const (
	// maxShares is the number of lines up to which every layer is tried as walls.
	maxShares = 300_000
	// worthTelling is the share of a layer's line from which that is told.
	// Source: own choice.
	worthTelling = 0.3
)

// layers lists the file's layers and blocks with what they would be read as.
func (s *Survey) layers(l *linework.Drawing, m trace.Mapping) {
	role := map[string]*trace.LayerUse{}
	shares := map[string]float64{}
	if len(l.Segments) <= maxShares {
		shares = trace.Shares(l)
	}
	for i := range m.Layers {
		role[m.Layers[i].Pattern] = &m.Layers[i]
	}
	for _, y := range l.Layers {
		out := Layer{Name: y.Name, Entities: y.Entities, LengthMM: y.Length, Hidden: y.Off || y.Frozen}
		if u := role[y.Name]; u != nil {
			out.Role, out.Why, out.Share = u.Role.String(), u.Why, u.Share
		}
		if share := trace.ShareOf(shares, y.Name); out.Role != trace.Walls.String() && share >= worthTelling && !out.Hidden {
			out.Share = share
			also := fmt.Sprintf("if it held walls, %.0f %% of its line would pair up as wall faces", 100*share)
			if out.Why != "" {
				also = out.Why + "; " + also
			}
			out.Why = also
		}
		s.Layers = append(s.Layers, out)
	}
	sort.Slice(s.Layers, func(i, k int) bool { return s.Layers[i].Name < s.Layers[k].Name })
	count := map[string]int{}
	for i := range l.Inserts {
		count[l.Inserts[i].Name]++
	}
	for name, n := range count {
		b := Block{Name: name, Count: n}
		for _, u := range m.Blocks {
			if u.Pattern == name {
				b.Role = u.Role.String()
			}
		}
		s.Blocks = append(s.Blocks, b)
	}
	sort.Slice(s.Blocks, func(i, k int) bool { return s.Blocks[i].Name < s.Blocks[k].Name })
}

// Thicknesses are the thicknesses of the walls found with the length of each,
// the longest first: what a job file asks a make-up for.
func (s *Survey) Thicknesses() []ThicknessLength {
	sum := map[geom.Length]*ThicknessLength{}
	for i := range s.Plan.Walls {
		w := &s.Plan.Walls[i]
		t := sum[w.Thickness]
		if t == nil {
			t = &ThicknessLength{Thickness: w.Thickness, Layers: map[string]bool{}}
			sum[w.Thickness] = t
		}
		t.LengthMM += AxisLength(w)
		t.Layers[w.Layer] = true
	}
	out := make([]ThicknessLength, 0, len(sum))
	for _, t := range sum {
		out = append(out, *t)
	}
	sort.Slice(out, func(i, k int) bool {
		if out[i].LengthMM != out[k].LengthMM {
			return out[i].LengthMM > out[k].LengthMM
		}
		return out[i].Thickness < out[k].Thickness
	})
	return out
}

// ThicknessLength is one thickness of wall with how much of it there is.
type ThicknessLength struct {
	Thickness geom.Length
	LengthMM  float64
	Layers    map[string]bool
}
