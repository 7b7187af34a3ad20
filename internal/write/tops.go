package write

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"

	"boardrun/internal/report"
)

var (
	//go:embed tops.html
	topsHTML string
	//go:embed tops.css
	topsCSS string

	topsPage = template.Must(template.New("tops").Parse(topsHTML))
)

// Tops writes tops.html: the tops in large numbers, one a row, with boxes to
// tick, for the lift; on letter or A4 paper and on a telephone. It is one file,
// fetches nothing and runs nothing.
func Tops(w io.Writer, t *report.Takeoff) error {
	d := report.NewDraft(t)
	paper, unit := "letter", "inches and eighths, rounded down"
	if d.Metric() {
		paper, unit = "A4", "whole millimetres, rounded down"
	}
	css := "@page{size:" + paper + ";margin:12mm}\n" + topsCSS
	var b bytes.Buffer
	err := topsPage.Execute(&b, map[string]any{
		"Job": t.Job, "Card": d.Tops(), "Unit": unit, "Cautions": topsCautions,
		"Style":  template.HTML("<style>" + css + "</style>"), //nolint:gosec // our own text, embedded
		"Policy": "default-src 'none'; style-src '" + hash(css) + "'; base-uri 'none'; form-action 'none'",
	})
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// topsCautions are those of the cautions that matter on a lift.
var topsCautions = []string{
	"Measure left and right of each top before cutting: the deck is rarely as drawn. Write what you find beside the printed number.",
	"No screw above the slip line. Rated walls: the listed head of wall governs.",
	"Lift: trained people only, level floor, rails up, nobody below. Two people where marked, or sooner if local law says so. Mask on when cutting.",
}
