package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
)

// outcome is how a test function ended; its leaves are its subtests without
// subtests of their own, or itself.
type outcome struct {
	passed, failed, skipped int // leaves
}

type testKey struct{ pkg, test string }

// event is a line of go test -json.
type event struct{ Action, Package, Test string }

func (o options) results(root string) (map[testKey]outcome, error) {
	if o.tests != "" {
		f, err := os.Open(o.tests)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return readEvents(f)
	}
	c := exec.Command("go", "test", "-json", "./...")
	c.Dir, c.Stderr = root, os.Stderr
	c.Env = append(os.Environ(), "BOARDRUN_OUTSIDE=required")
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	r, err := readEvents(out)
	c.Wait() // a failed test is a row that failed
	return r, err
}

// readEvents counts the leaves of every test function.
func readEvents(r io.Reader) (map[testKey]outcome, error) {
	end := map[testKey]string{}
	parent := map[testKey]bool{}
	s := bufio.NewScanner(r)
	s.Buffer(nil, 16<<20)
	for n := 1; s.Scan(); n++ {
		var e event
		if err := json.Unmarshal(s.Bytes(), &e); err != nil {
			return nil, fmt.Errorf("line %d of the test output: %w", n, err)
		}
		if e.Test == "" {
			continue
		}
		switch e.Action {
		case "pass", "fail", "skip":
			end[testKey{e.Package, e.Test}] = e.Action
			for t := e.Test; strings.Contains(t, "/"); {
				t = t[:strings.LastIndex(t, "/")]
				parent[testKey{e.Package, t}] = true
			}
		}
	}
	if err := s.Err(); err != nil {
		return nil, err
	}
	out := map[testKey]outcome{}
	for k, action := range end {
		if parent[k] && action != "fail" {
			continue
		}
		pkg := k.pkg
		if i := strings.Index(pkg, "/"); i >= 0 {
			pkg = pkg[i+1:]
		}
		top, _, _ := strings.Cut(k.test, "/")
		o := out[testKey{pkg, top}]
		switch action {
		case "pass":
			o.passed++
		case "fail":
			o.failed++
		case "skip":
			o.skipped++
		}
		out[testKey{pkg, top}] = o
	}
	return out, nil
}
