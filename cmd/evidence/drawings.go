package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// drawing is a real or generated drawing taken off as it comes: survey, start,
// takeoff --verify, nothing said by hand.
type drawing struct {
	name             string
	size             int64
	walls, openings  string
	used             string // share of the wall linework
	taken, persons   int
	status           int
	seconds, message string
}

var (
	foundLine = regexp.MustCompile(`(?m)^(\d+) walls, (\d+) openings`)
	usedLine  = regexp.MustCompile(`([\d.]+) % of wall linework used`)
)

// planMark is how the index of the drawings marks a floor plan.
var planMark = regexp.MustCompile(`(?m)^\| \*\*PLAN\*\* (\S+\.dxf) \|`)

// drawings takes off every floor plan and every model that lies beside the
// project.
func drawings(root string) ([]drawing, error) {
	data := filepath.Join(root, "..", "shared", "data")
	index, err := os.ReadFile(filepath.Join(data, "INDEX.md"))
	if err != nil {
		return nil, err
	}
	var files []string
	for _, m := range planMark.FindAllStringSubmatch(string(index), -1) {
		files = append(files, filepath.Join(data, "dxf", m[1]))
	}
	models, err := filepath.Glob(filepath.Join(data, "ifc", "*.ifc"))
	if err != nil {
		return nil, err
	}
	files = append(files, models...)
	dir, err := os.MkdirTemp("", "boardrun-evidence-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	bin := filepath.Join(dir, "boardrun")
	if out, err := run(root, []string{"go", "build", "-o", bin, "./cmd/boardrun"}); err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	var all []drawing
	for i, f := range files {
		d, err := takeOff(bin, f, filepath.Join(dir, fmt.Sprint(i)))
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(os.Stderr, "%+v\n", d)
		all = append(all, d)
	}
	return all, nil
}

func takeOff(bin, file, dir string) (drawing, error) {
	st, err := os.Stat(file)
	if err != nil {
		return drawing{}, err
	}
	d := drawing{name: filepath.Base(file), size: st.Size(), walls: "0", openings: "0"}
	survey, err := run("", []string{bin, "survey", file})
	if err != nil && exitCode(err) != 3 {
		d.status, d.message = exitCode(err), firstLine(survey)
		return d, nil
	}
	if m := foundLine.FindStringSubmatch(survey); m != nil {
		d.walls, d.openings = m[1], m[2]
	}
	if m := usedLine.FindStringSubmatch(survey); m != nil {
		d.used = m[1] + " %"
	}
	job := filepath.Join(dir, "job.yaml")
	if out, err := run("", []string{bin, "start", file, "-o", job}); err != nil && exitCode(err) != 3 {
		d.status, d.message = exitCode(err), firstLine(out)
		return d, nil
	}
	t := once(entrant{args: []string{bin, "takeoff", job, "-o", filepath.Join(dir, "out"), "--effort", "quick", "--only", "json", "--verify"}, ok: []int{0, 1, 3}})
	d.seconds = fmt.Sprintf("%.1f", t.cpu.Seconds())
	b, err := os.ReadFile(filepath.Join(dir, "out", "takeoff.json"))
	if err != nil {
		d.status = 1
		d.message = "nothing to take off, or the judge objects"
		return d, nil
	}
	var told struct {
		Runs       []json.RawMessage
		Exceptions []struct{ Severity string }
	}
	if err := json.Unmarshal(b, &told); err != nil {
		return drawing{}, err
	}
	d.taken = len(told.Runs)
	for _, e := range told.Exceptions {
		if e.Severity == "person" {
			d.persons++
			d.status = 3
		}
	}
	return d, nil
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(s), "\n")
	return line
}

func drawingsTable(all []drawing) string {
	var b strings.Builder
	b.WriteString("| drawing | size | walls found | openings | wall linework used | runs taken off | for a person | CPU s | status |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, d := range all {
		status := fmt.Sprint(d.status)
		if d.message != "" {
			status += ": " + strings.ReplaceAll(filepath.Base(d.message), "|", "\\|")
		}
		fmt.Fprintf(&b, "| %s | %.1f MB | %s | %s | %s | %d | %d | %s | %s |\n", d.name, float64(d.size)/1e6, d.walls, d.openings, d.used, d.taken, d.persons, d.seconds, status)
	}
	return b.String()
}
