package report

// labelBox is the room a label takes.
type labelBox struct {
	lo, hi UV
	text   string
}

func (d *Picture) boxOf(m *Mark) labelBox {
	c := m.corners(d.Scale)
	b := labelBox{text: m.Text}
	b.lo, b.hi = bounds(c[:])
	return b
}

// over tells whether two labels lie over one another; letters are lower than
// their size, so that a little is let pass.
func (b labelBox) over(a labelBox, slack MM) bool {
	return a.lo[0] < b.hi[0]-slack && b.lo[0] < a.hi[0]-slack && a.lo[1] < b.hi[1]-slack && b.lo[1] < a.hi[1]-slack
}

func (d *Picture) slack() MM { return MM(0.35 * d.Scale) }

// Overlaps lists the labels of a picture that lie over one another at the scale
// they were laid out for, as "this over that". A drawing that is fit to give
// away has none.
func (d *Picture) Overlaps() []string {
	var all []labelBox
	var out []string
	for i := range d.Marks {
		m := &d.Marks[i]
		if m.Text == "" {
			continue
		}
		b := d.boxOf(m)
		for _, a := range all {
			if b.over(a, d.slack()) {
				out = append(out, b.text+" over "+a.text)
			}
		}
		all = append(all, b)
	}
	return out
}

// clear tells whether the label at index n lies over none before it.
func (d *Picture) clear(n int) bool {
	b := d.boxOf(&d.Marks[n])
	for i := range d.Marks[:n] {
		if m := &d.Marks[i]; m.Text != "" && b.over(d.boxOf(m), d.slack()) {
			return false
		}
	}
	return true
}
