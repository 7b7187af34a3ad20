package report

import (
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// decks tells the planes of the structure's underside, those of the job first,
// for the drawings: one entry for each storey a deck covers.
func (b *builder) decks() {
	for i := range b.s.Job.Decks {
		d := &b.s.Job.Decks[i]
		text := deckText(d.Points, d.Level, b.s.Job.System)
		if d.Assumed {
			text += ", assumed"
		}
		b.deck(d.Storey, d.Outline, text)
	}
	for i := range b.s.Plan.Decks {
		d := &b.s.Plan.Decks[i]
		b.deck(d.Storey, d.Outline, deckText(points(d.Plane), 0, b.s.Job.System)+", from the model")
	}
}

// deck lists a deck under each storey it covers; "" covers all that have runs.
func (b *builder) deck(storey string, outline geom.Poly, text string) {
	if storey != "" {
		b.t.Decks = append(b.t.Decks, Deck{storey, Outline(outline), text})
		return
	}
	seen := map[string]bool{}
	for i := range b.t.Runs {
		if s := b.t.Runs[i].Storey; !seen[s] {
			seen[s] = true
			b.t.Decks = append(b.t.Decks, Deck{s, Outline(outline), text})
		}
	}
}

func points(plane [3]plan.Point3) []job.Point3 {
	var q []job.Point3
	for _, p := range plane {
		q = append(q, job.Point3(p))
	}
	return q
}

// deckText says how high a deck is: one height, or its lowest and highest
// given point.
func deckText(pts []job.Point3, level measure.Length, sys measure.System) string {
	lo, hi := level, level
	for i, p := range pts {
		if i == 0 {
			lo, hi = p.Z, p.Z
		}
		lo, hi = min(lo, p.Z), max(hi, p.Z)
	}
	if lo == hi {
		return "deck " + measure.Wall(lo, sys)
	}
	return "deck " + measure.Wall(lo, sys) + " to " + measure.Wall(hi, sys)
}
