package dxf

import (
	"bytes"
	"strconv"
)

// objects is what the OBJECTS section tells of how inserts are shown: clips, and
// the dynamic blocks that anonymous ones were made from. Each belongs to an
// insert by a chain of owners: its dictionary, that one's dictionary, the insert.
// Source: observed; DXF Reference, SPATIAL_FILTER.
type objects struct {
	owner   map[uint64]uint64 // of dictionaries
	filters []filter
	holes   map[uint64][]float64 // x y … of inverted clips, by the dictionary that holds them
	stands  map[uint64]uint64    // handles of block records, by the dictionary that holds them
}

// filter is a SPATIAL_FILTER.
type filter struct {
	handle, owner uint64
	on            bool
	front         bool
	sound         bool // its numbers can be used
	normal        [3]float64
	pts           []float64 // x y …
	reals         []float64 // group 40: two maps, the front plane's distance before them
}

// Names of the sections of an XRECORD that hold the boundary of an inverted
// clip, which the filter itself cannot tell. Source: observed.
const invertedClip = "ACAD_INVERTEDCLIP_ROUNDTRIP"

// objects reads the OBJECTS section.
func (p *parser) objects() {
	o := &p.objs
	if o.owner == nil {
		o.owner, o.holes, o.stands = map[uint64]uint64{}, map[uint64][]float64{}, map[uint64]uint64{}
	}
	p.skip()
	for p.live && !p.is0("ENDSEC") && !p.is0("SECTION") {
		switch string(bytes.TrimSpace(p.s.Bytes())) {
		case "DICTIONARY":
			handle, of := p.owned(nil)
			o.owner[handle] = of
		case "SPATIAL_FILTER":
			f := filter{sound: true, normal: flat}
			f.handle, f.owner = p.owned(func() { p.filterGroup(&f) })
			o.filters = append(o.filters, f)
		case "XRECORD":
			var hole []float64
			inside := false
			_, of := p.owned(func() {
				switch {
				case p.s.Code == 102:
					inside = string(bytes.TrimSpace(p.s.Bytes())) == invertedClip
				case inside && (p.s.Code == 10 || p.s.Code == 20) && len(hole) <= 2*MaxClipPoints:
					x, _ := p.s.Float()
					hole = append(hole, x)
				}
			})
			if hole != nil {
				o.holes[of] = hole
			}
		case "ACDB_BLOCKREPRESENTATION_DATA":
			record := uint64(0)
			_, of := p.owned(func() {
				if p.s.Code == 340 {
					record, _ = p.s.Handle()
				}
			})
			o.stands[of] = record
		default:
			p.skip()
		}
	}
}

// owned reads an object: its handle and its owner, the last of several handles
// before its class; group sees every other group. Old writers leave the class out.
func (p *parser) owned(group func()) (handle, owner uint64) {
	inside := false
	for p.next() {
		switch {
		case p.s.Code == 100:
			inside = true
		case !inside && p.s.Code == 5:
			handle, _ = p.s.Handle()
		case !inside && p.s.Code == 330:
			if h, ok := p.s.Handle(); ok {
				owner = h
			}
		case group != nil:
			group()
		}
	}
	return handle, owner
}

// filterGroup reads a group of a SPATIAL_FILTER. Its planes in front and behind
// matter to no plan.
func (p *parser) filterGroup(f *filter) {
	number := func() float64 {
		x, ok := p.s.Float()
		f.sound = f.sound && ok && x < MaxCoordinate && x > -MaxCoordinate
		return x
	}
	switch c := p.s.Code; c {
	case 10, 20:
		if len(f.pts) < 2*MaxClipPoints {
			f.pts = append(f.pts, number())
		} else {
			f.sound = false
		}
	case 40:
		if len(f.reals) < 1+2*12 {
			f.reals = append(f.reals, number())
		}
	case 71, 72:
		v, _ := p.s.Int()
		if c == 71 {
			f.on = v != 0
		} else {
			f.front = v != 0
		}
	case 210, 220, 230:
		f.normal[(c-210)/10] = number()
	}
}

// join gives the model what its inserts are clipped by and stand for.
func (o *objects) join(m *Model) {
	insertOf := func(dictionary uint64) uint64 { return o.owner[o.owner[dictionary]] }
	for dictionary, record := range o.stands {
		if h := insertOf(dictionary); h != 0 && record != 0 {
			if m.standIn == nil {
				m.standIn = map[uint64]uint64{}
			}
			m.standIn[h] = record
		}
	}
	holes := map[uint64][]float64{} // by filter
	for dictionary, pts := range o.holes {
		if h := o.owner[dictionary]; h != 0 {
			holes[h] = pts
		}
	}
	for i := range o.filters {
		f := &o.filters[i]
		h := insertOf(f.owner)
		if !f.on || h == 0 {
			continue
		}
		if m.clips == nil {
			m.clips = map[uint64]*clip{}
		}
		m.clips[h] = f.clip(holes[f.handle])
	}
}

// entities words a count: "1 entity", "3 entities".
func entities(n int) string {
	if n == 1 {
		return "1 entity"
	}
	return strconv.Itoa(n) + " entities"
}
