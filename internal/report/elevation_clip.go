package report

// clipTo returns the part of a line that runs along u, either way, between u0
// and u1.
func clipTo(line []UV, u0, u1 MM) []UV {
	var out []UV
	at := func(a, b UV, u MM) UV { return UV{u, a[1] + (b[1]-a[1])*(u-a[0])/(b[0]-a[0])} }
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if a[0] > b[0] {
			a, b = b, a
		}
		if b[0] <= u0 || a[0] >= u1 || a[0] == b[0] {
			continue
		}
		p, q := at(a, b, max(a[0], u0)), at(a, b, min(b[0], u1))
		if line[i-1][0] > line[i][0] {
			p, q = q, p
		}
		if n := len(out); n == 0 || out[n-1] != p {
			out = append(out, p)
		}
		out = append(out, q)
	}
	return out
}

// clip cuts an outline to the stretch shown.
func (e *elevation) clip(o Poly) Poly {
	lo, hi := bounds(o)
	if lo[0] < e.u0-0.01 {
		o = halfPlane(o, e.u0, 1)
	}
	if hi[0] > e.u1+0.01 {
		o = halfPlane(o, e.u1, -1)
	}
	return o
}

// halfPlane keeps of an outline what lies right (side 1) or left (side −1) of
// u. An outline that falls apart there stays one, joined along the line.
func halfPlane(o Poly, u, side MM) Poly {
	var out Poly
	for i, a := range o {
		b := o[(i+1)%len(o)]
		inA, inB := (a[0]-u)*side >= 0, (b[0]-u)*side >= 0
		if inA {
			out = append(out, a)
		}
		if inA != inB {
			out = append(out, UV{u, a[1] + (b[1]-a[1])*(u-a[0])/(b[0]-a[0])})
		}
	}
	return out
}
