package layout

// Lays, their stations and their rips are made by the thousand and dropped with
// the wall: they stand together in slabs.

const slabSize = 256

// newLay returns a lay like l that stays.
func (w *wall) newLay(l *lay) *lay {
	if len(w.layRoom) == cap(w.layRoom) {
		w.layRoom = make([]lay, 0, slabSize)
	}
	w.layRoom = append(w.layRoom, *l)
	return &w.layRoom[len(w.layRoom)-1]
}

// keepLengths returns a copy of list that stays; it is never nil.
func (w *wall) keepLengths(list []Length) []Length {
	if n := len(list); w.lengthRoom == nil || cap(w.lengthRoom)-len(w.lengthRoom) < n {
		w.lengthRoom = make([]Length, 0, max(n, 4*slabSize))
	}
	at := len(w.lengthRoom)
	w.lengthRoom = append(w.lengthRoom, list...)
	return w.lengthRoom[at:len(w.lengthRoom):len(w.lengthRoom)]
}

// roomForRips returns an empty list to append a lay's rips to; keepRips then
// keeps them.
func (w *wall) roomForRips() []rip {
	if cap(w.ripRoom)-len(w.ripRoom) < 8 {
		w.ripRoom = make([]rip, 0, slabSize)
	}
	return w.ripRoom[len(w.ripRoom):]
}

func (w *wall) keepRips(l *lay) {
	if n := len(l.rips); n <= cap(w.ripRoom)-len(w.ripRoom) {
		w.ripRoom = w.ripRoom[:len(w.ripRoom)+n]
	}
	l.rips = l.rips[:len(l.rips):len(l.rips)]
}
