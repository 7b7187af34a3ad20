package job

import (
	"boardrun/internal/measure"
)

var (
	frameKinds = []string{"knock-down", "welded", "slip-on", "none"}
	frameUses  = []string{"door", "window", "framed", "wrapped"}
	basisWords = []string{"leaf", "frame", "rough", "drawn"}
)

// frames reads frames by door type, then adds what nobody gave, last, so that
// it serves only where no other frame matches.
func (r *reader) frames(f *fields) {
	seen := map[string]bool{}
	for _, n := range f.list("frames") {
		fr := r.frame(n)
		if seen[fr.Name] && fr.Name != "" {
			r.fail(n, "frame %q stands here a second time", fr.Name)
		}
		seen[fr.Name] = true
		r.job.Frames = append(r.job.Frames, fr)
	}
	r.defaultFrames()
}

func (r *reader) frame(n *node) Frame {
	f := r.fields(n, "a frame", "name", "mark", "for", "kind", "sizes-are", "add-width", "add-height", "face", "width", "height", "sill")
	fr := Frame{Line: n.line, Mark: f.text("mark")}
	if name := f.must("name", "D"); name != nil {
		fr.Name = r.text(name)
		r.at["frame "+fr.Name] = n
	}
	if u := f.get("for"); u != nil {
		fr.For = frameUses[r.choice(u, frameUses...)]
	}
	path := "frames." + fr.Name
	switch k := f.get("kind"); {
	case k != nil:
		fr.Kind = FrameKind(r.choice(k, frameKinds...))
	case fr.For == "wrapped":
		fr.Kind = NoFrame
	case fr.For == "" || fr.For == "door":
		r.assume(path+".kind", "knock-down", "nobody said how the frame meets the board", false)
	}
	if b := f.get("sizes-are"); b != nil {
		fr.Basis = basisWords[r.choice(b, basisWords...)]
	} else {
		fr.Basis = usualBasis(fr.For)
		r.assume(path+".sizes-are", fr.Basis, "nobody said what drawn or scheduled sizes are", false)
	}
	fr.AddWidth, fr.AddHeight = Allowance(fr.Kind, fr.Basis, r.sys)
	fr.FaceWidth = [2]Length{2 * measure.Inch, 50 * measure.Millimetre}[r.sys]
	for key, into := range map[string]*Length{"add-width": &fr.AddWidth, "add-height": &fr.AddHeight, "face": &fr.FaceWidth} {
		if f.get(key) != nil {
			*into = f.length(key)
		}
	}
	fr.Width, fr.Height, fr.Sill = f.length("width"), f.length("height"), f.length("sill")
	if f.get("sill") == nil {
		fr.Sill = r.usualSill(fr.For)
	}
	return fr
}

// usualBasis is what drawn sizes of doors and windows are where nobody says:
// the leaf of a door, else the opening as drawn.
// Source: common practice, none published.
func usualBasis(use string) string {
	if use == "" || use == "door" {
		return "leaf"
	}
	return "drawn"
}

// Allowance returns what a rough opening is wider and higher than the size of
// that basis.
//
// Source, leaf: door opening tables met on the web, low authority: welded
// + 4-1/4 × 2-1/4 in (40-1/4 × 86-1/4 for a 3070; others give 4-1/2),
// knock-down + 2 × 1-1/4 in (38 × 85-1/4; others 1 in high), slip-on + 1-1/4 ×
// 5/8 in. Frame: a borrowed light's + 1/4 in. Rough, drawn: as they are.
func Allowance(kind FrameKind, basis string, sys measure.System) (width, height Length) {
	const e = measure.EighthInch
	mm := measure.Millimetre
	switch {
	case basis == "frame" && kind != NoFrame:
		return [2]Length{2 * e, 6 * mm}[sys], [2]Length{2 * e, 6 * mm}[sys]
	case basis != "leaf" || kind == NoFrame:
		return 0, 0
	case kind == Welded:
		return [2]Length{34 * e, 108 * mm}[sys], [2]Length{18 * e, 57 * mm}[sys]
	case kind == SlipOn:
		return [2]Length{10 * e, 32 * mm}[sys], [2]Length{5 * e, 16 * mm}[sys]
	}
	return [2]Length{16 * e, 50 * mm}[sys], [2]Length{10 * e, 32 * mm}[sys]
}

// usualSill is the sill of a window that neither drawing nor job tells: 3 ft or
// 900 mm. A head that nobody tells is left at 0: only the openings that lack it
// are exceptions. Source: common practice, none published.
func (r *reader) usualSill(use string) Length {
	if use != "window" {
		return 0
	}
	return [2]Length{36 * measure.Inch, 900 * measure.Millimetre}[r.sys]
}

// defaultFrames adds one frame for each use that has none for every mark.
func (r *reader) defaultFrames() {
	for _, use := range frameUses {
		covered := false
		for _, fr := range r.job.Frames {
			covered = covered || fr.Mark == "" && (fr.For == "" || fr.For == use)
		}
		if covered {
			continue
		}
		fr := Frame{Name: "usual " + use, For: use, Basis: usualBasis(use), Assumed: true,
			FaceWidth: [2]Length{2 * measure.Inch, 50 * measure.Millimetre}[r.sys]}
		if use == "wrapped" {
			fr.Kind = NoFrame
		}
		fr.AddWidth, fr.AddHeight = Allowance(fr.Kind, fr.Basis, r.sys)
		fr.Sill = r.usualSill(use)
		r.job.Frames = append(r.job.Frames, fr)
		if use == "door" {
			r.assume("frames.door", "knock-down", "no frame given for every door; its sizes are leaf sizes as drawn", false)
		}
	}
}
