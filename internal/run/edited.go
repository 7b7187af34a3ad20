package run

// editOpenings applies what the job says about single openings, by id: the
// rough opening is as given, the hole in the board moves with it by as much.
func (bld *builder) editOpenings(list []Opening) {
	for i := range list {
		q := &list[i]
		e, ok := bld.j.Openings[q.ID]
		if !ok {
			continue
		}
		if e.RoughWidth != nil {
			q.Width += *e.RoughWidth - q.RoughWidth
			q.RoughWidth = *e.RoughWidth
		}
		if e.RoughHead != nil {
			q.Head += *e.RoughHead - q.RoughHead
			q.RoughHead, q.HeadBy = *e.RoughHead, "given for this opening"
		}
		if e.Sill != nil {
			q.Sill = *e.Sill
		}
		if e.Centre != nil {
			q.Centre = *e.Centre
		}
		q.Shape = nil
	}
}
