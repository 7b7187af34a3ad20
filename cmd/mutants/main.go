// Command mutants asks whether the tests would notice: it changes one small
// thing in the source (a comparison, a sign, a constant, a statement left out),
// runs the tests, and lists the changes that no test noticed.
//
//	go run ./cmd/mutants -n 200 -seed 1 ./internal/layout ./internal/quantity
//
// The source itself is not touched: the changed file is laid over it
// (go test -overlay). A change that does not compile does not count. Tests of
// the changed package run first, then those of internal/app, which go end to
// end. What survives is printed with its place, to be killed by a test or shown
// to change nothing.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	n := flag.Int("n", 200, "how many changes to try")
	seed := flag.Int64("seed", 1, "which ones")
	limit := flag.Duration("timeout", time.Minute, "how long the tests of one package may take; longer counts as noticed")
	app := flag.Bool("app", true, "try what a package's tests missed on those of internal/app too")
	skip := flag.String("skip", "", "tests to leave out (a pattern as of go test -skip)")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *n, *seed, *limit, *app, *skip, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, n int, seed int64, limit time.Duration, app bool, skip string, pkgs []string) error {
	if len(pkgs) == 0 {
		return fmt.Errorf("name the packages, as ./internal/layout")
	}
	dir, err := os.MkdirTemp("", "boardrun-mutants-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	var all []mutant
	for _, p := range pkgs {
		m, err := find(p)
		if err != nil {
			return err
		}
		all = append(all, m...)
	}
	rand.New(rand.NewSource(seed)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	t := tester{ctx: ctx, dir: dir, limit: limit, skip: skip}
	for _, p := range pkgs { // tests that fail anyway would notice everything
		if out, err := t.run(p); err != nil {
			return fmt.Errorf("%s fails its tests as it stands; mend that first:\n%s", p, out)
		}
	}
	caught, tried := 0, 0
	for _, m := range all {
		if tried == n {
			break
		}
		end, err := t.try(m, m.pkg)
		if err == nil && end == missed && ctx.Err() == nil && app && m.pkg != "./internal/app" {
			end, err = t.try(m, "./internal/app")
		}
		if ctx.Err() != nil {
			break // what was tried so far is told
		}
		if err != nil {
			return err
		}
		if end == broken {
			continue
		}
		tried++
		if end == noticed {
			caught++
			continue
		}
		fmt.Println(m)
	}
	fmt.Printf("%d of %d changes noticed (%.1f %%), out of %d places, seed %d\n", caught, tried, 100*float64(caught)/float64(max(1, tried)), len(all), seed)
	return nil
}

// How the tests take a change.
type end int

const (
	noticed end = iota
	missed
	broken // it does not compile
)

type tester struct {
	ctx   context.Context
	dir   string
	limit time.Duration
	skip  string
}

// try runs a package's tests with a change laid over its file.
func (t tester) try(m mutant, pkg string) (end, error) {
	src, err := m.source()
	if err != nil {
		return 0, err
	}
	changed := filepath.Join(t.dir, "changed.go")
	if err := os.WriteFile(changed, src, 0o600); err != nil {
		return 0, err
	}
	file, err := filepath.Abs(m.file)
	if err != nil {
		return 0, err
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {file: changed}})
	if err != nil {
		return 0, err
	}
	list := filepath.Join(t.dir, "overlay.json")
	if err := os.WriteFile(list, overlay, 0o600); err != nil {
		return 0, err
	}
	out, err := t.run(pkg, "-overlay", list)
	switch {
	case err == nil:
		return missed, nil
	case strings.Contains(out, "[build failed]"), strings.Contains(out, "[setup failed]"):
		return broken, nil
	}
	return noticed, nil
}

// run runs a package's tests and returns what they print; an error where one fails.
func (t tester) run(pkg string, more ...string) (string, error) {
	args := append([]string{"test", "-short", "-failfast", "-vet=off", "-timeout", t.limit.String()}, more...)
	if t.skip != "" {
		args = append(args, "-skip", t.skip)
	}
	out, err := exec.CommandContext(t.ctx, "go", append(args, pkg)...).CombinedOutput()
	return string(out), err
}
