package quantity

// A stud line is a row of screws along one stud. Its first screw is at f, its
// topmost at T, and none are further apart than s:
//
//	f   f+s  f+2s …        T
//	x    x    x    …   x   x
//
// n(f, s, T) = ceil((T − f)/s) + 1.

// Count returns how many screws a line from f to top takes at spacing s > 0;
// 1 where top is below f by less than one spacing (that screw is at top), 0
// where it is lower still.
func Count(f, s, top Length) int {
	if top < f {
		if f-top < s && top > 0 {
			return 1
		}
		return 0
	}
	return (top - f).CeilDiv(s) + 1
}

// line returns the positions of Count(f, s, top): whole spacings from f, so
// that they fall on round marks, and the last at top. Where the last gap would
// be under half a spacing the one before shares it, so that two screws do not
// tear one hole.
func line(f, s, top Length) []Length {
	n := Count(f, s, top)
	out := make([]Length, 0, n)
	for i := 0; i < n-1; i++ {
		out = append(out, f+Length(i)*s)
	}
	if n == 0 {
		return out
	}
	out = append(out, top)
	if n > 2 && out[n-1]-out[n-2] < s/2 {
		out[n-2] = (out[n-3] + out[n-1]) / 2
	}
	return out
}

// rowInset is how far inside a sheet's long edge the outer screws of a track
// row stand: 1 in inside each 3 in taper, so that the dimple does not stand in
// the taper's fill. Source: common practice, no source.
func rowInset(metric bool) Length {
	if metric {
		return 100 * mm
	}
	return 4 * inch
}

// TrackCount returns how many screws the track row of a piece of width w
// takes: ceil((w − 8 in)/s) + 1; 48 in gives 4 at 16 in and 5 at 12 in.
// Source: common practice, no source.
func TrackCount(w, s Length, metric bool) int {
	if w <= 0 {
		return 0
	}
	return max(w-2*rowInset(metric), 0).CeilDiv(s) + 1
}

// row returns the positions of TrackCount along [u0, u1], evenly spread; edge
// is the least distance from both ends.
func row(u0, u1, s, edge Length, metric bool) []Length {
	w := u1 - u0
	n := TrackCount(w, s, metric)
	switch {
	case w < 2*edge || n == 0:
		return nil
	case n == 1:
		return []Length{u0 + w/2}
	}
	in := rowInset(metric)
	out := make([]Length, n)
	for i := range out {
		out[i] = u0 + in + (w-2*in)*Length(i)/Length(n-1)
	}
	return out
}

// between returns the ceil(w/s) − 1 positions that divide [u0, u1] evenly: the
// screws along a head or sill, between the jambs' own.
func between(u0, u1, s Length) []Length {
	n := (u1 - u0).CeilDiv(s) - 1
	out := make([]Length, 0, max(n, 0))
	for i := 1; i <= n; i++ {
		out = append(out, u0+(u1-u0)*Length(i)/Length(n+1))
	}
	return out
}
