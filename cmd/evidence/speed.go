package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A contest is one job done by us and by programs from outside, each as a whole
// process, in turn. The first peer is the floor: it does no more than it must.
type contest struct {
	what   string
	target string
	ours   entrant
	peers  []entrant
}

// entrant is a program in a contest.
type entrant struct {
	name string
	args []string
	env  []string
	// ok are the exit statuses that are no failure; nil means 0 alone.
	ok []int
}

// figures are what a process used.
type figures struct {
	cpu, wall time.Duration
	peakMB    float64
	absent    string // why it did not run
}

type speedRow struct {
	contest
	got []figures // ours, then the peers
}

const rounds = 3

// lab is a folder with the generated drawings and the built programs.
type lab struct {
	root, dir, bench string
	load             bool // the loads too, which take half an hour
}

// measure makes the drawings with the generators of ../shared/bench, builds the
// peers there that can be built here, and runs every contest. A program that
// is not here is said to be absent.
func measure(root string, load bool) ([]speedRow, error) {
	l := lab{root: root, load: load, bench: filepath.Join(root, "..", "shared", "bench")}
	if _, err := os.Stat(l.bench); err != nil {
		return nil, fmt.Errorf("the generators and peers are not beside the project: %w", err)
	}
	var err error
	if l.dir, err = os.MkdirTemp("", "boardrun-evidence-"); err != nil {
		return nil, err
	}
	defer os.RemoveAll(l.dir)
	if err := l.build(); err != nil {
		return nil, err
	}
	var rows []speedRow
	for _, c := range l.contests() {
		r := speedRow{contest: c, got: make([]figures, 1+len(c.peers))}
		for i, e := range append([]entrant{c.ours}, c.peers...) {
			r.got[i] = median(e)
			fmt.Fprintf(os.Stderr, "%s: %s: %s\n", c.what, e.name, r.got[i])
		}
		if r.got[0].absent != "" {
			return nil, fmt.Errorf("%s: %s", c.what, r.got[0].absent)
		}
		rows = append(rows, r)
	}
	return rows, nil
}

func (l lab) path(name string) string { return filepath.Join(l.dir, name) }

func (l lab) build() error {
	python := "/usr/bin/python3"
	if p := os.Getenv("BOARDRUN_PYTHON"); p != "" {
		python = p
	}
	for _, c := range []struct {
		dir  string
		args []string
	}{
		{l.bench, []string{python, "gen_dxf.py", l.path("gen100.dxf"), "--mb", "100", "--truth", l.path("gen100.dxf.json")}},
		{l.bench, []string{python, "gen_dxf.py", l.path("gen1000.dxf"), "--walls", "1000"}},
		{l.bench, []string{python, "gen_ifc.py", l.path("gen100.ifc"), "--mb", "100", "--truth", l.path("gen100.json")}},
		{l.root, []string{"go", "build", "-o", l.path("boardrun"), "./cmd/boardrun"}},
		{l.root, []string{"go", "test", "-c", "-o", l.path("dxf.test"), "./importers/dxf"}},
		{l.root, []string{"go", "test", "-c", "-o", l.path("ifc.test"), "./importers/ifc"}},
		{l.root, []string{"go", "test", "-c", "-o", l.path("write.test"), "./internal/write"}},
		{filepath.Join(l.bench, "peers", "go"), []string{"go", "build", "-o", l.dir + string(filepath.Separator), "./..."}},
	} {
		if out, err := run(c.dir, c.args); err != nil {
			return fmt.Errorf("%s: %w\n%s", strings.Join(c.args, " "), err, out)
		}
	}
	// These need libraries that may not be here; then they are absent.
	for name, lib := range map[string]string{"dime": "-ldime", "dxflib": "-ldxflib"} {
		run(filepath.Join(l.bench, "peers"), []string{"g++", "-O2", "-o", l.path(name + "_sum"), name + ".cpp", lib})
	}
	jobs := []string{"gen1000.dxf"}
	if l.load {
		jobs = append(jobs, "gen100.dxf", "gen100.ifc")
	}
	for _, n := range jobs {
		args := []string{l.path("boardrun"), "start", l.path(n), "-o", l.path(n + ".yaml")}
		if out, err := run(l.dir, args); err != nil && exitCode(err) != 3 {
			return fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, out)
		}
	}
	return nil
}

func run(dir string, args []string) (string, error) {
	c := exec.Command(args[0], args[1:]...)
	c.Dir = dir
	out, err := c.CombinedOutput()
	return string(out), err
}

func exitCode(err error) int {
	var e *exec.ExitError
	if errors.As(err, &e) {
		return e.ExitCode()
	}
	return -1
}

// contests are the targets of ../shared/bench/README.md and the loads.
func (l lab) contests() []contest {
	dxf, ifc := l.path("gen100.dxf"), l.path("gen100.ifc")
	bench := func(test, name string, env ...string) entrant {
		return entrant{"boardrun", []string{l.path(test), "-test.run=^$", "-test.bench=^" + name + "$", "-test.benchtime=1x"}, env, nil}
	}
	takeoff := func(drawing string) entrant {
		return entrant{"boardrun takeoff", []string{l.path("boardrun"), "takeoff", l.path(drawing + ".yaml"), "-o", l.path("out-" + drawing), "--effort", "quick", "--only", "xlsx"}, nil, []int{0, 3}}
	}
	peer := func(name string, args ...string) entrant {
		if !filepath.IsAbs(args[0]) && !strings.Contains(args[0], string(filepath.Separator)) {
			args = append([]string{l.path(args[0])}, args[1:]...)
		}
		return entrant{name: name, args: args}
	}
	script := func(name, interpreter, file string, args ...string) entrant {
		return entrant{name: name, args: append([]string{interpreter, filepath.Join(l.bench, "peers", file)}, args...)}
	}
	all := []contest{
		{"100 MB DXF, blocks expanded, attributes read", "≤ 4 × floor, goal 2.5; peak ≤ half the file",
			bench("dxf.test", "BenchmarkFile", "BOARDRUN_DXF="+dxf),
			[]entrant{peer("dxfstream (LINE lengths alone)", "dxfstream", dxf), peer("dxfsum (whole file in memory)", "dxfsum", dxf), peer("dxflib", "dxflib_sum", dxf), peer("dime", "dime_sum", dxf)}},
		{"100 MB IFC, walls with openings and fillings", "≤ 3 × floor, goal 2; heap ≤ 0.3 of the file",
			bench("ifc.test", "BenchmarkHosting", "BOARDRUN_IFC="+ifc),
			[]entrant{peer("stepmmap (memory mapped)", "stepmmap", ifc), peer("steprel (whole file in memory)", "steprel", ifc), script("web-ifc", "node", "webifc.mjs", "rel", ifc)}},
		{"100 MB IFC, all faces of 36,190 walls", "≤ 2.5 CPU s; net area within 1e-6 of the generator's",
			bench("ifc.test", "BenchmarkRead", "BOARDRUN_IFC="+ifc),
			[]entrant{script("web-ifc, meshes", "node", "webifc.mjs", "mesh", ifc)}},
		{"workbook of 5,000 walls", "≤ 1.2 × floor",
			bench("write.test", "BenchmarkWorkbook5000Walls"),
			[]entrant{bench("write.test", "BenchmarkBareStream").named("the same cells through a bare stream writer")}},
		{"1,000 walls, DXF to workbook", "< 5 s, < 500 MB", takeoff("gen1000.dxf"), nil},
	}
	if !l.load {
		return all
	}
	return append(all,
		contest{"100 MB DXF to workbook", "≤ 30 s, < 3 GB", takeoff("gen100.dxf"), nil},
		contest{"100 MB IFC (36,190 walls) to workbook", "≤ 60 s, < 3 GB", takeoff("gen100.ifc"), nil})
}

func (e entrant) named(name string) entrant {
	e.name = name
	return e
}

// median runs a program several times and gives the run of the middle CPU time.
func median(e entrant) figures {
	var all []figures
	for range rounds {
		f := once(e)
		if f.absent != "" {
			return f
		}
		all = append(all, f)
		if f.wall > 20*time.Second {
			break // long enough to speak for itself
		}
	}
	slices.SortFunc(all, func(a, b figures) int { return int(a.cpu - b.cpu) })
	return all[len(all)/2]
}

func once(e entrant) figures {
	c := exec.Command(e.args[0], e.args[1:]...)
	c.Env = append(os.Environ(), e.env...)
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	start := time.Now()
	err := c.Run()
	wall := time.Since(start)
	if c.ProcessState == nil {
		return figures{absent: "not here"}
	}
	if code := c.ProcessState.ExitCode(); err != nil && !slices.Contains(e.ok, code) {
		last := strings.TrimSpace(out.String())
		return figures{absent: fmt.Sprintf("ended with status %d: %s", code, last[max(0, len(last)-200):])}
	}
	s := c.ProcessState
	return figures{cpu: s.UserTime() + s.SystemTime(), wall: wall, peakMB: peakMB(s)}
}

func (f figures) String() string {
	if f.absent != "" {
		return "absent"
	}
	return fmt.Sprintf("%.2f CPU s, %.1f s, %.0f MB", f.cpu.Seconds(), f.wall.Seconds(), f.peakMB)
}

func speedTable(rows []speedRow) string {
	var b strings.Builder
	b.WriteString("| row | what | target | ours | beside it, in the same run |\n|---|---|---|---|---|\n")
	for i, r := range rows {
		var peers []string
		for k, p := range r.peers {
			f := r.got[k+1]
			if f.absent != "" {
				peers = append(peers, p.name+": absent")
				continue
			}
			peers = append(peers, fmt.Sprintf("%s %s (ours is %.2f ×)", p.name, f, r.got[0].cpu.Seconds()/f.cpu.Seconds()))
		}
		fmt.Fprintf(&b, "| `speed-%d` | %s | %s | %s | %s |\n", i+1, r.what, r.target, r.got[0], strings.Join(peers, "; "))
	}
	return b.String()
}
