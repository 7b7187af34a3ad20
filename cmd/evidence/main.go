// Command evidence writes the page of DEVELOPERS.md that says what the program
// was checked against and how fast it is beside its peers.
//
//	go run ./cmd/evidence            run the checks, rewrite the page
//	go run ./cmd/evidence -check     run them and compare with the page
//	go run ./cmd/evidence -speed     run the benchmarks beside their peers too
//	go run ./cmd/evidence -drawings  take off every drawing of ../shared/data too
//
// A check is a test whose comment names its oracle; what stands outside the
// project is in the list of sources. -check fails if a row of the page has no
// passing check behind it any more, or fewer than the page claims, or if
// README.md points to a row that is not there.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	var o options
	flag.BoolVar(&o.check, "check", false, "compare with the page, do not write it")
	flag.BoolVar(&o.speed, "speed", false, "measure beside the peers of ../shared/bench too")
	flag.BoolVar(&o.load, "load", false, "with -speed: take off the 100 MB drawings whole, which takes half an hour")
	flag.BoolVar(&o.drawings, "drawings", false, "take off every drawing of ../shared/data too")
	flag.StringVar(&o.tests, "tests", "", "read this output of go test -json instead of running the tests")
	flag.StringVar(&o.outside, "outside", "", "read this output of .ci/crosscheck/all instead of leaving those rows as they are")
	flag.Parse()
	if err := o.run(); err != nil {
		fmt.Fprintln(os.Stderr, "evidence:", err)
		os.Exit(1)
	}
}

type options struct {
	check, speed, load, drawings bool
	tests, outside               string
}

const guide = "DEVELOPERS.md"

func (o options) run() error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	page, err := os.ReadFile(filepath.Join(root, guide))
	if err != nil {
		return err
	}
	results, err := o.results(root)
	if err != nil {
		return err
	}
	oracles, err := scanOracles(root)
	if err != nil {
		return err
	}
	checks, err := gather(sources, oracles, results)
	if err != nil {
		return err
	}
	sections := map[string]string{"checks": checks.markdown()}
	if o.outside != "" {
		if sections["programs"], err = crosscheckTable(o.outside); err != nil {
			return err
		}
	}
	if o.speed {
		rows, err := measure(root, o.load)
		if err != nil {
			return err
		}
		sections["speed"] = speedTable(rows)
	}
	if o.drawings {
		all, err := drawings(root)
		if err != nil {
			return err
		}
		sections["drawings"] = drawingsTable(all)
	}
	if o.check {
		readme, err := os.ReadFile(filepath.Join(root, "README.md"))
		if err != nil {
			return err
		}
		return verify(string(page), string(readme), checks)
	}
	text := string(page)
	for name, body := range sections {
		if text, err = replaceSection(text, name, body); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(root, guide), []byte(text), 0o666)
}

// moduleRoot is the folder of go.mod at or above the current one.
func moduleRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", fmt.Errorf("no go.mod here or above")
		}
		dir = up
	}
}
