package run

import (
	"fmt"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
)

// reveals gives wrapped openings their returns: two jambs and a head, and a sill
// under a window, as wide as studs and both boards.
func (bld *builder) reveals(b *band) {
	n := 0
	k := b.endSide()
	if k < 0 {
		return
	}
	for i := range b.run.Openings {
		q := &b.run.Openings[i]
		if q.FrameKind != job.NoFrame || q.Kind == plan.Penetration || q.Kind == plan.Niche {
			continue
		}
		t := boards(b.plies(k), bld.j)
		bottom := max(q.Sill, b.base+bld.j.Rules.FloorGap)
		add := func(station, length, from, to Length) {
			n++
			step := bld.j.Rules.Step
			f := &Face{Run: b.run, Side: Reveal, ID: fmt.Sprintf("%s-V%d", b.run.ID, n), Boarded: true, Opening: i,
				Start: toStep(station, step), Length: toStep(length, step), Bottom: toStep(from, step), Head: FixedTop,
				HeightBy: "opening", Finish: b.made(k).Finish}
			f.Finished = f.Length
			f.Parts = []Part{{0, f.Length, ""}}
			f.Top = geom.Level(0, f.Length, toStep(to, step))
			f.Ends = [2]FaceEnd{{Kind: EndFree}, {Kind: EndFree}}
			b.run.Faces = append(b.run.Faces, f)
		}
		// The head board hangs first; jambs stand under it, on the sill board.
		low := bottom
		if q.Sill > bottom {
			low += t
		}
		add(q.lo(), b.thickness, low, q.Head-t)
		add(q.hi(), b.thickness, low, q.Head-t)
		add(q.lo(), q.Width, 0, b.thickness)
		if q.Sill > bottom {
			add(q.lo(), q.Width, 0, b.thickness)
		}
	}
}
