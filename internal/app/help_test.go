package app

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// The help of every command, word for word: a changed option shows as a
// changed line. Regression of our own text; rewritten with -update.
func TestHelp_everyCommand(t *testing.T) {
	var paths [][]string
	var walk func(c *cobra.Command, path []string)
	walk = func(c *cobra.Command, path []string) {
		paths = append(paths, path)
		for _, sub := range c.Commands() {
			walk(sub, append(path[:len(path):len(path)], sub.Name()))
		}
	}
	walk(newRoot(&env{}), nil)
	if len(paths) < 8 {
		t.Fatalf("only %d commands", len(paths))
	}
	want := map[string]bool{}
	for _, path := range paths {
		name := strings.Join(append([]string{"boardrun"}, path...), "-") + ".txt"
		want[name] = true
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			if st := Main(append(path[:len(path):len(path)], "--help"), strings.NewReader(""), &out, &errs); st != Done || errs.Len() > 0 {
				t.Fatalf("status %d, stderr %q", st, errs.String())
			}
			for n, line := range strings.Split(out.String(), "\n") {
				if strings.TrimRight(line, " ") != line {
					t.Errorf("line %d ends in blanks", n+1)
				}
			}
			file := filepath.Join("testdata", "help", name)
			if *update {
				if err := os.WriteFile(file, out.Bytes(), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if string(b) != out.String() {
				t.Errorf("the help changed; read it, then -update\n%s", out.String())
			}
		})
	}
	// A command that went leaves no page behind.
	left, err := os.ReadDir(filepath.Join("testdata", "help"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range left {
		if !want[f.Name()] {
			t.Errorf("%s: there is no such command", f.Name())
		}
	}
}

// Wrong usage: status 2, nothing on stdout, one line on stderr that says what is
// wrong, whatever the command.
func TestUsage_oneLineEach(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"takeof"}, `unknown command "takeof"; see boardrun --help`},
		{[]string{"--nonsense"}, `unknown flag: --nonsense; see boardrun --help`},
		{[]string{"survey"}, `see boardrun survey --help`},
		{[]string{"survey", "--nonsense"}, `unknown flag: --nonsense; see boardrun survey --help`},
		{[]string{"start"}, `see boardrun start --help`},
		{[]string{"takeoff"}, `see boardrun takeoff --help`},
		{[]string{"takeoff", "job.yaml"}, `say where to write: -o DIR`},
		{[]string{"takeoff", "job.yaml", "-o"}, `flag needs an argument: 'o' in -o; see boardrun takeoff --help`},
		{[]string{"takeoff", "job.yaml", "-o", "out", "--effort", "fast"}, `--effort "fast": say quick or best`},
		{[]string{"takeoff", "job.yaml", "-o", "out", "--only", "xls"}, `--only "xls": say some of`},
		{[]string{"compare"}, `see boardrun compare --help`},
		{[]string{"compare", "a.yaml", "b.yaml", "-o", "out"}, `see boardrun compare --help`},
		{[]string{"remeasure"}, `see boardrun remeasure --help`},
		{[]string{"cut"}, `see boardrun cut --help`},
		{[]string{"cut", "list.csv"}, `say which sheets are on sale`},
		{[]string{"rules", "floor-gap", "more"}, `see boardrun rules --help`},
		{[]string{"schema", "sheets"}, `there is no schema of "sheets"`},
	} {
		t.Run(strings.Join(c.args, " "), func(t *testing.T) {
			t.Chdir(t.TempDir())
			var out, errs bytes.Buffer
			st := Main(c.args, strings.NewReader(""), &out, &errs)
			said := errs.String()
			if st != WrongUsage || out.Len() > 0 || strings.Count(said, "\n") != 1 || !strings.HasPrefix(said, "boardrun: ") || !strings.Contains(said, c.says) {
				t.Errorf("status %d, stdout %q, stderr %q; want %q", st, out.String(), said, c.says)
			}
			if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
				t.Errorf("left %v (%v)", left, err)
			}
		})
	}
}
