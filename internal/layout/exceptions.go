package layout

import (
	"fmt"

	"boardrun/internal/plan"
)

// Codes of the exceptions of this stage.
const (
	codeNoLayout  = "no-legal-layout"    // no layout obeys every rule: what blocks it and the nearest change
	codeNarrow    = "narrow-between"     // a piece narrower than the sheet away from a run's end
	codeJambBand  = "joint-near-opening" // a joint in the band of a jamb line
	codeStem      = "narrow-stem"        // a stem or tongue beside an opening
	codeRip       = "narrow-rip"
	codeTop       = "low-top"
	codeShared    = "shared-stud"
	codeNear      = "plies-near"  // plies of one side nearer than a bay
	codeClosed    = "closed-hole" // a closed hole round something installed first
	codeHeader    = "header-and-leg"
	codeInLine    = "ends-in-line" // tops stand on one straight line
	codeModule    = "module-miss"  // sheets that do not fit the studs
	codeSpacing   = "frame-spacing"
	codeStagger   = "tops-in-line" // horizontal joints a listing or the job wants staggered
	codeListing   = "listing-departed"
	codeBend      = "bend-radius"
	codeControl   = "control-joint" // its place is assumed
	codeZone      = "zone-not-laid-out"
	codeTooHigh   = "too-high"  // more rows than the rules allow or stock covers
	codeEndInLine = "ends-near" // end joints of neighbouring courses
)

func exception(sev plan.Severity, code, target, did, format string, args ...any) plan.Exception {
	return plan.Exception{Severity: sev, Code: code, Target: target, Message: fmt.Sprintf(format, args...), Did: did}
}

func (w *wall) list(sev plan.Severity, code, target, format, did string, args ...any) {
	e := exception(sev, code, target, did, format, args...)
	if len(w.Sources) > 0 {
		e.Source = w.Sources[0]
	}
	w.exceptions = append(w.exceptions, e)
}
