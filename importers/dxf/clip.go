package dxf

import (
	"fmt"
	"slices"

	"boardrun/internal/plan"
)

// objects looks through the OBJECTS section for clipped inserts: what of a block
// lies outside the clip is not shown, but stands in the file like the rest. A
// clip is owned by a dictionary, that by another, and that by the insert.
// Source: observed; DXF Reference, SPATIAL_FILTER.
func (p *parser) objects() {
	owner := map[uint64]uint64{} // of dictionaries
	var clips []uint64           // owners of clips
	p.skip()
	for p.live && !p.is0("ENDSEC") && !p.is0("SECTION") {
		typ := string(p.s.Bytes())
		if typ != "DICTIONARY" && typ != "SPATIAL_FILTER" {
			p.skip()
			continue
		}
		handle, of, on := p.object()
		if typ == "DICTIONARY" {
			owner[handle] = of
		} else if on {
			clips = append(clips, of)
		}
	}
	for i, h := range clips {
		clips[i] = owner[owner[h]]
	}
	slices.Sort(clips)
	p.clipped = slices.Compact(clips)
}

// object reads a DICTIONARY or a SPATIAL_FILTER: its handle, its owner, and
// whether a clip is switched on.
func (p *parser) object() (handle, owner uint64, on bool) {
	inside := false
	for p.next() {
		switch p.s.Code {
		case 5:
			handle, _ = p.s.Handle()
		case 330:
			if h, ok := p.s.Handle(); ok && !inside {
				owner = h // of several the last before the subclass is the owner
			}
		case 100:
			inside = true
		case 71:
			v, _ := p.s.Int()
			on = v != 0
		}
	}
	return handle, owner, on
}

// reportClips names the inserts that are clipped.
func (p *parser) reportClips() {
	if len(p.clipped) == 0 {
		return
	}
	m := p.m
	report := func(s span) {
		var r rec
		for pos := s.first; pos < s.end; {
			if pos = m.store.next(pos, &r); r.kind != kInsert {
				continue
			}
			if i, ok := slices.BinarySearch(p.clipped, r.handle); ok && r.handle != 0 {
				block, _ := insertOf(&r)
				m.report.add("", m.exception(plan.Person, CodeClipped, &r, nil,
					fmt.Sprintf("block %q is clipped here and is read whole, with what the clip hides", m.blocks.list[block]),
					"look for walls that the drawing does not show; bind and trim the reference to settle it"))
				p.clipped = slices.Delete(p.clipped, i, i+1)
			}
		}
	}
	for _, s := range m.spaces {
		report(s)
	}
	for i := range m.block {
		report(m.block[i].span)
	}
}
