package dxf

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"boardrun/importers/linework"
)

// doorSizes counts texts that are door sizes as written in feet and inches
// without marks: 3068 is 3 ft 0 in by 6 ft 8 in.
func doorSizes(d *linework.Drawing) witness {
	n := 0
	for i := range d.Texts {
		if doorCode.MatchString(strings.TrimSpace(d.Texts[i].Value)) && len(d.Texts[i].Value) < 10 {
			n++
		}
	}
	return func(u Unit) (float64, string) {
		if n < 3 || u.Code != 1 && u.Code != 2 {
			return 0, ""
		}
		return 0.5, fmt.Sprintf("%d texts are door sizes in feet and inches (such as 3068)", n)
	}
}

// doorSwings judges the radii of quarter circles.
func doorSwings(d *linework.Drawing, k float64) witness {
	var radii []float64
	for i := range d.Arcs {
		a := &d.Arcs[i]
		if sweep := a.End - a.Start; !a.Full && sweep >= 75 && sweep <= 105 {
			radii = append(radii, a.Radius*k)
		}
	}
	return shareWithin(radii, doorMin, doorMax, 2, 2.5, "door swings", "quarter circles")
}

var doorName = regexp.MustCompile(`(?i)door|(^|[^a-z])dr[^a-z]|t(ü|ue?)r|porte|puerta|porta|deur|d(ö|oe)r`)

// doorBlocks judges the size of inserts whose block is named for a door.
func doorBlocks(d *linework.Drawing, k float64) witness {
	var widths []float64
	for i := range d.Inserts {
		in := &d.Inserts[i]
		if in.Parent >= 0 || !doorName.MatchString(in.Name) {
			continue
		}
		w := math.Hypot(in.Box[1][0]-in.Box[0][0], in.Box[1][1]-in.Box[0][1])
		h := math.Hypot(in.Box[3][0]-in.Box[0][0], in.Box[3][1]-in.Box[0][1])
		widths = append(widths, math.Max(w, h)*k)
	}
	return shareWithin(widths, doorMin, 2*doorMax, 2, 1.5, "door blocks", "door blocks")
}

// shareWithin speaks for a unit by the share of sizes, in drawing units, that
// fall within a range of mm.
func shareWithin(sizes []float64, lo, hi float64, atLeast int, weight float64, what, of string) witness {
	slices.Sort(sizes)
	return func(u Unit) (float64, string) {
		from, _ := slices.BinarySearch(sizes, lo/u.MM)
		to, _ := slices.BinarySearch(sizes, hi/u.MM*(1+1e-9))
		if n := to - from; n >= atLeast {
			median := sizes[from+n/2] * u.MM
			return weight * math.Sqrt(float64(n)/float64(len(sizes))),
				fmt.Sprintf("%d of %d %s are %s, as %s are (middle one %s)", n, len(sizes), of, u.between(lo, hi), what, u.small(median))
		}
		return 0, ""
	}
}
