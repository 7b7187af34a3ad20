package app

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"boardrun/internal/cutting"
	"boardrun/internal/measure"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

type cutOptions struct {
	list, stock, dir, effort string
	metric, asJSON           bool
}

func cutCommand(e *env) *cobra.Command {
	var o cutOptions
	c := &cobra.Command{
		Use:   "cut LIST.csv --stock WIDTH:LENGTH,LENGTH… -o DIR",
		Short: "A plain list of pieces to a cut list",
		Long: `Read a list of pieces and find what sheets to buy and how to cut them.

LIST.csv has the header  mark,board,width,left height,right height,count  and lengths as
people write them: 9'-6 1/2", 114.5in, 2900mm. Left and right differ where the head is
sloped. Cuts are straight, across a whole piece; a piece is turned, never mirrored.

DIR gets cuts.csv (one row a piece) and cuts.json (sheets, placements, cuts, bounds).`,
		Example: `  boardrun cut tops.csv --stock 48in:96in,120in,144in -o cuts
  boardrun cut tops.csv --stock "48in:96in,120in;54in:144in" --json`,
		Args: args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, a []string) error {
			o.list = a[0]
			return runCut(e, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.stock, "stock", "", "sheets on sale: width:lengths, several widths parted by ;")
	f.StringVarP(&o.dir, "out", "o", "", "folder to write into (made if missing)")
	f.StringVar(&o.effort, "effort", "best", "quick or best")
	f.BoolVar(&o.metric, "metric", false, "write millimetres")
	f.BoolVar(&o.asJSON, "json", false, "print the result as JSON instead of a table")
	return c
}

func runCut(e *env, o cutOptions) error {
	switch {
	case o.stock == "":
		return usagef("say which sheets are on sale: --stock 48in:96in,120in,144in")
	case o.dir == "" && !o.asJSON:
		return usagef("say where to write: -o DIR (or --json to print)")
	case o.effort != "quick" && o.effort != "best":
		return usagef("--effort %q: say quick or best", o.effort)
	}
	sys := measure.InchPound
	if o.metric {
		sys = measure.Metric
	}
	stock, err := cutting.ParseStock(o.stock, sys)
	if err != nil {
		return usageError{err}
	}
	f, err := os.Open(o.list)
	if err != nil {
		return fmt.Errorf("%s: can't be read: %w", o.list, err)
	}
	defer f.Close()
	pieces, err := cutting.ReadList(o.list, f, sys)
	if err != nil {
		return err
	}
	effort := cutting.Best
	if o.effort == "quick" {
		effort = cutting.Quick
	}
	s := cutting.Solve(cutting.ListProblem(pieces, stock), effort)
	result := cutResult(&s, sys)
	if o.dir != "" {
		if err := sparesInputs(o.dir, write.CutNames, []string{o.list}); err != nil {
			return err
		}
		if err := writeCuts(o.dir, &s, sys, result); err != nil {
			return err
		}
	}
	if o.asJSON {
		if err := encodeJSON(e.out, result); err != nil {
			return err
		}
	} else {
		printBounds(e.err, result, sys)
	}
	for _, u := range s.Unplaced {
		fmt.Fprintf(e.err, "%s: person [no-sheet] %s: %s; left out of the cut list\n", o.list, u.Piece, u.Reason)
	}
	if len(s.Unplaced) > 0 {
		return exitError{Exceptions}
	}
	return nil
}

// cutJSON is the result of `cut`, in the words of takeoff.json.
type cutJSON struct {
	Schema   int             `json:"schema"`
	Sheets   []report.Sheet  `json:"sheets"`
	Bound    []report.Bound  `json:"bound"`
	Unplaced []unplacedPiece `json:"unplaced"`
}

type unplacedPiece struct {
	Piece  string `json:"piece"`
	Board  string `json:"board"`
	Reason string `json:"reason"`
}

func cutResult(s *cutting.Solution, sys measure.System) cutJSON {
	t := report.Cuts(s)
	out := cutJSON{Schema: report.Schema, Sheets: t.Sheets, Bound: t.Bound, Unplaced: []unplacedPiece{}}
	for _, u := range s.Unplaced {
		out.Unplaced = append(out.Unplaced, unplacedPiece{u.Piece, u.Board, u.Reason})
	}
	return out
}

func writeCuts(dir string, s *cutting.Solution, sys measure.System, result cutJSON) error {
	f, err := write.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	err = f.Write("cuts.csv", func(w io.Writer) error {
		c := csv.NewWriter(w)
		c.Write(cutting.RowHeader)
		for _, r := range cutting.Rows(*s) {
			cells := r.Cells(sys)
			for i, t := range cells { // a mark must not become a formula in a spreadsheet
				if t != "" && strings.ContainsRune("=+-@\t\r", rune(t[0])) {
					cells[i] = "'" + t
				}
			}
			c.Write(cells)
		}
		c.Flush()
		return c.Error()
	})
	if err != nil {
		return err
	}
	if err := f.Write("cuts.json", func(w io.Writer) error { return encodeJSON(w, result) }); err != nil {
		return err
	}
	return f.Commit()
}

func encodeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(v)
}

func printBounds(w io.Writer, r cutJSON, sys measure.System) {
	for _, b := range r.Bound {
		name := b.Board
		if name == "" {
			name = "board"
		}
		var sizes []string
		for _, n := range b.Sheets {
			sizes = append(sizes, fmt.Sprintf("%d of %s", n.Count, measure.SheetName(n.WidthMM.Length(), n.LengthMM.Length(), sys)))
		}
		fmt.Fprintf(w, "%s: %s; bought %s, hung %s, fewest possible for these pieces %s (%s)\n", name, strings.Join(sizes, ", "),
			measure.OrderArea(float64(b.AreaM2), sys), measure.OrderArea(float64(b.HungM2), sys), measure.OrderArea(float64(b.ForPiecesM2), sys), b.Status)
	}
}
