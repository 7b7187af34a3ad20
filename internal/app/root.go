package app

import (
	"context"
	"io"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"
)

// Version is stamped at release with -ldflags "-X boardrun/internal/app.Version=…".
var Version = ""

// env is what a command may touch beside its files.
type env struct {
	in       io.Reader
	out, err io.Writer
}

// Main runs one command line and returns the exit status. Results go to stdout,
// everything else to stderr.
func Main(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	setCollector()
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGINT, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	root := newRoot(&env{stdin, stdout, stderr})
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	return status(root.ExecuteContext(ctx), stderr)
}

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "boardrun",
		Short: "Take walls off drawings and lay out the board on them",
		Long: `boardrun takes architects' DXF plans and IFC models of steel-stud fit-outs and gives back
what the boarding contractor needs: wall runs with both sides measured, a sheet-by-sheet
board schedule, the tops to cut under a sloped deck, screws, framing and finishing
quantities, a cut list and drawings the crew can hang from.

  boardrun survey plan.dxf                      look before you measure
  boardrun start plan.dxf -o job.yaml           a job file to begin from
  boardrun takeoff job.yaml -o out              the takeoff
  boardrun compare job.yaml -o out              the job's alternatives side by side

Quantities are an estimate, not a design. Rated walls follow their listed design; local
codes and licensed practice govern.`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("unknown command %q; see boardrun --help", args[0])
			}
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetVersionTemplate("boardrun {{.Version}}\n")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return usagef("%v; see %s --help", err, c.CommandPath())
	})
	root.AddCommand(surveyCommand(e), startCommand(e), takeoffCommand(e), compareCommand(e), remeasureCommand(e), cutCommand(e), rulesCommand(e), schemaCommand(e))
	return root
}

func version() string {
	if Version != "" {
		return Version
	}
	if b, ok := debug.ReadBuildInfo(); ok && b.Main.Version != "" {
		return b.Main.Version
	}
	return "(unstamped)"
}

// args wraps an argument check so that its error is one of usage.
func args(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, a []string) error {
		if err := check(c, a); err != nil {
			return usagef("%v; see %s --help", err, c.CommandPath())
		}
		return nil
	}
}
