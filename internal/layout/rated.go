package layout

import (
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// A rated wall is boarded after the pattern of its listed design, which is data
// in rules. A rating with no design behind it, or with one whose pattern is not
// held, is refused: its sides are listed and left out, the run's studs stay.

// refused says why no side of the run may be boarded; "" if they may.
func refused(r *run.Run) string {
	if r.Make != nil && r.Make.Unlisted != "" {
		return r.Make.Unlisted
	}
	if r.Listing == "" {
		return ""
	}
	if _, err := rules.FindListing(r.Listing); err != nil {
		return err.Error()
	}
	return ""
}

// govern finds the listed design of the run; false where its sides are refused.
func (w *wall) govern() bool {
	why := refused(w.Run)
	if why == "" {
		if w.Listing != "" {
			w.listing, _ = rules.FindListing(w.Listing)
		}
		return true
	}
	for _, f := range w.Faces {
		if f.Boarded {
			w.list(plan.Person, codeNoLayout, f.ID, "no legal layout: %s",
				"left out, its studs are counted; name a design whose pattern is held, or listing: none to board it by the general rules, which give no rating", why)
		}
	}
	return false
}

// rated reports whether a rating or a listed design governs the run.
func (w *wall) rated() bool { return w.Rating != "" || w.listing != nil }

// mayLie reports whether courses across the studs may be tried.
func (w *wall) mayLie() bool {
	return w.lowEnough() && (w.listing == nil || w.listing.Either)
}

// checkListing lists a layout that the listed design does not have.
func (w *wall) checkListing() {
	if w.Layout == job.Horizontal && w.listing != nil && !w.listing.Either {
		w.list(plan.Warning, codeListing, w.ID, "%s has its boards along the studs, the job wants them across", "hung vertically, as the design has it", w.listing.Name)
	}
}
