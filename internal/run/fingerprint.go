package run

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
)

// fingerprint is the first 8 hex digits of a hash over a run's geometry and
// make-up: what an edit or a site sheet was written against. Marks, names of
// rooms and sources are left out: they may change while the wall does not.
func fingerprint(r *Run) string {
	h := sha256.New()
	fmt.Fprintln(h, r.Storey, r.Type, r.Thickness, r.Spacing, r.StudDepth, r.Mil, r.Length, r.Axis, r.Deck, r.Rating, r.Listing)
	if r.Arc != nil {
		fmt.Fprintln(h, *r.Arc)
	}
	for _, f := range r.Faces {
		printFace(h, f)
	}
	for _, o := range r.Openings {
		fmt.Fprintln(h, o.Kind, o.FrameKind, o.Centre, o.Width, o.Sill, o.Head, o.RoughWidth, o.RoughHead, o.First, o.Shape)
	}
	return hex.EncodeToString(h.Sum(nil))[:8]
}

func printFace(h hash.Hash, f *Face) {
	fmt.Fprintln(h, f.Side, f.Boarded, f.Start, f.Length, f.Bottom, f.Top, f.Head)
	for _, p := range f.Plies {
		fmt.Fprintln(h, p.Number, p.Board, p.U0, p.U1, p.Zones)
	}
	for _, q := range f.Holes {
		fmt.Fprintln(h, q.Rect, q.Shape, q.First, q.Wrapped)
	}
}
