package report

// Overlaps lists the labels of a picture that lie over one another at the scale
// they were laid out for, as "this over that". A drawing that is fit to give
// away has none.
func (d *Picture) Overlaps() []string {
	type box struct {
		lo, hi UV
		text   string
	}
	var all []box
	var out []string
	slack := MM(0.35 * d.Scale) // letters are lower than their size
	for i := range d.Marks {
		m := &d.Marks[i]
		if m.Text == "" {
			continue
		}
		c := m.corners(d.Scale)
		b := box{text: m.Text}
		b.lo, b.hi = bounds(c[:])
		for _, a := range all {
			if a.lo[0] < b.hi[0]-slack && b.lo[0] < a.hi[0]-slack && a.lo[1] < b.hi[1]-slack && b.lo[1] < a.hi[1]-slack {
				out = append(out, b.text+" over "+a.text)
			}
		}
		all = append(all, b)
	}
	return out
}
