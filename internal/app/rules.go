package app

import (
	"encoding/json"
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/report"
	"boardrun/internal/rules"
)

func rulesCommand(e *env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "rules",
		Short: "Print each rule of the layout: value, source, who may change it",
		Long: `Print each rule the layout obeys, with its value in both systems of units, where it comes
from, and whether a job file may change it (under "rules:", by id).`,
		Args: args(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error { return printRules(e, asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

type ruleJSON struct {
	ID        string `json:"id"`
	Group     string `json:"group"`
	Text      string `json:"text"`
	InchPound string `json:"inch_pound"`
	Metric    string `json:"metric"`
	Source    string `json:"source"`
	Fixed     bool   `json:"fixed"`
	Against   string `json:"checked_against,omitempty"`
}

func printRules(e *env, asJSON bool) error {
	sets := [2]*rules.Set{rules.Default(measure.InchPound), rules.Default(measure.Metric)}
	var list []ruleJSON
	for i := range rules.Table {
		r := &rules.Table[i]
		list = append(list, ruleJSON{r.ID, r.Group, r.Text, r.Format(r.Get(sets[0]), measure.InchPound), r.Format(r.Get(sets[1]), measure.Metric), r.Source, r.Fixed, r.Against})
	}
	if asJSON {
		enc := json.NewEncoder(e.out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(list)
	}
	w := tabwriter.NewWriter(e.out, 0, 0, 2, ' ', 0)
	group := ""
	for _, r := range list {
		if r.Group != group {
			group = r.Group
			fmt.Fprintf(w, "\n%s\n", strings.ToUpper(group))
		}
		fixed := ""
		if r.Fixed {
			fixed = "fixed"
		}
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\n", r.ID, r.InchPound, r.Metric, fixed, r.Text)
		fmt.Fprintf(w, "  \t\t\t\t  from: %s\n", r.Source)
	}
	return w.Flush()
}

func schemaCommand(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:       "schema [takeoff|job|compare]",
		Short:     "Print the JSON Schema of takeoff.json, of the job file or of compare.json",
		Args:      args(cobra.MaximumNArgs(1)),
		ValidArgs: []string{"takeoff", "job", "compare"},
		RunE: func(_ *cobra.Command, a []string) error {
			what := "takeoff"
			if len(a) > 0 {
				what = a[0]
			}
			switch what {
			case "takeoff":
				_, err := e.out.Write(report.SchemaJSON())
				return err
			case "job":
				_, err := e.out.Write(job.Schema())
				return err
			case "compare":
				_, err := e.out.Write(report.CompareSchemaJSON())
				return err
			}
			return usagef("there is no schema of %q: say takeoff, job or compare", what)
		},
	}
	return c
}
