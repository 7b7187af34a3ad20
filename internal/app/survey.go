package app

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"boardrun/importers"
)

type surveyOptions struct {
	files   []string
	unit    string
	against string
	asJSON  bool
}

func surveyCommand(e *env) *cobra.Command {
	var o surveyOptions
	c := &cobra.Command{
		Use:   "survey DRAWING...",
		Short: "What a drawing holds, and what would be read from it",
		Long: `Read DXF plans or IFC models and tell what is in them: unit with the evidence for it,
layers with the length of line on each, blocks, and the walls, openings, rooms and decks
that would be taken from them; then what was not understood, longest first.`,
		Example: `  boardrun survey plan.dxf
  boardrun survey model.ifc --json
  boardrun survey plan.dxf --against older.dxf     walls and openings added, removed, moved`,
		Args: args(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, a []string) error {
			o.files = a
			return runSurvey(e, o)
		},
	}
	c.Flags().BoolVar(&o.asJSON, "json", false, "as JSON: one object, or a list for several drawings")
	c.Flags().StringVar(&o.against, "against", "", "an older drawing: tell what was added, removed, moved since")
	c.Flags().StringVar(&o.unit, "unit", "", "the drawing's unit, where its header is silent or wrong")
	return c
}

func runSurvey(e *env, o surveyOptions) error {
	var all []*importers.Survey
	worst := Done
	var older *importers.Survey
	if o.against != "" {
		if len(o.files) > 1 {
			return usagef("--against goes with one drawing")
		}
		var err error
		if older, err = importers.Look(o.against, o.unit); err != nil {
			return err
		}
	}
	for _, f := range o.files {
		s, err := importers.Look(f, o.unit)
		if err != nil {
			worst = status(err, e.err)
			continue
		}
		if older != nil {
			s.Revision = s.Against(older)
		}
		all = append(all, s)
		if person(s) && worst == Done {
			worst = Exceptions
		}
	}
	if o.asJSON {
		var v any = all
		if len(o.files) == 1 && len(all) == 1 {
			v = all[0]
		}
		if len(all) > 0 {
			if err := encodeJSON(e.out, v); err != nil {
				return err
			}
		}
	} else {
		for i, s := range all {
			if i > 0 {
				fmt.Fprintln(e.out)
			}
			printSurvey(e.out, s)
		}
	}
	if worst != Done {
		return exitError{worst}
	}
	return nil
}

func person(s *importers.Survey) bool {
	for _, x := range s.Exceptions {
		if x.Severity == "person" {
			return true
		}
	}
	return false
}

func printSurvey(w io.Writer, s *importers.Survey) {
	fmt.Fprintf(w, "%s: %s %s, drawn in %s (header: %s)\n", s.File, s.Format, s.Version, orUnknown(s.Unit.Used), orUnknown(s.Unit.Header))
	for _, v := range s.Unit.Evidence {
		fmt.Fprintf(w, "  %s\n", v)
	}
	fmt.Fprintf(w, "%d walls, %d openings (%d doors, %d windows), %d rooms, %d decks\n", s.Counts.Walls, s.Counts.Openings, s.Counts.Doors, s.Counts.Windows, len(s.Plan.Rooms), len(s.Decks))
	for _, t := range s.Thicknesses() {
		layers := make([]string, 0, len(t.Layers))
		for l := range t.Layers {
			layers = append(layers, l)
		}
		sort.Strings(layers)
		fmt.Fprintf(w, "  %8.1f mm thick  %9.2f m  %s\n", t.Thickness.MM(), t.LengthMM/1000, strings.Join(layers, ", "))
	}
	if len(s.Layers) > 0 {
		fmt.Fprintf(w, "layers\n")
		for _, l := range s.Layers {
			if l.Role == "" && l.Entities == 0 {
				continue
			}
			fmt.Fprintf(w, "  %-32s %6d entities %12.2f m  %-12s %s\n", l.Name, l.Entities, l.LengthMM/1000, l.Role, l.Why)
		}
	}
	for _, l := range s.Ledger {
		fmt.Fprintf(w, "%d entities on mapped layers: %d used, %d ignored with a reason", l.Read, l.Used, l.Read-l.Used)
		if l.WallLineMM > 0 {
			fmt.Fprintf(w, "; %.1f %% of wall linework used", 100*l.WallLineUsedMM/l.WallLineMM)
		}
		fmt.Fprintln(w)
	}
	if r := s.Revision; r != nil {
		fmt.Fprintf(w, "against %s: %d walls as they were, %.2f m of wall added, %.2f m removed\n", r.Older, r.Same, r.AddedMM/1000, r.RemovedMM/1000)
		for _, c := range r.Changes {
			fmt.Fprintf(w, "  %s\n", c.Text)
		}
	}
	for i, x := range s.Exceptions {
		if i == 40 {
			fmt.Fprintf(w, "and %d more: see --json\n", len(s.Exceptions)-i)
			break
		}
		fmt.Fprintln(w, x.Line)
	}
}

func orUnknown(s string) string {
	if s == "" || s == "none" {
		return "unknown unit"
	}
	return s
}
