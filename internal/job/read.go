package job

import (
	"os"
	"path/filepath"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// Read reads a job file. The error is Errors: every fault found, with line and
// column, or the one reason why the file could not be read at all. Drawings
// are looked for beside the job file and must exist.
func Read(path string) (*Job, error) {
	src, err := readCapped(path)
	if err != nil {
		return nil, Errors{{File: path, Msg: err.Error()}}
	}
	folder := filepath.Dir(path)
	return Parse(path, src, func(file string) (string, error) {
		full := file
		if !filepath.IsAbs(file) {
			full = filepath.Join(folder, filepath.FromSlash(file))
		}
		info, err := os.Stat(full)
		if err == nil && info.IsDir() {
			err = os.ErrInvalid
		}
		return full, err
	})
}

// readCapped reads at most one byte more than a job file may have.
func readCapped(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	buf := make([]byte, maxBytes+1)
	n := 0
	for n < len(buf) {
		m, err := f.Read(buf[n:])
		n += m
		if err != nil {
			break
		}
	}
	return buf[:n], nil
}

// Parse is Read of a file already in memory. find returns where a drawing
// named in the file is, or an error where there is none; nil finds everything.
func Parse(name string, src []byte, find func(file string) (string, error)) (*Job, error) {
	root, fault := parseTree(src)
	if fault != nil {
		fault.File = name
		return nil, Errors{fault}
	}
	j, errs := parseJob(name, root, find)
	if len(errs) > 0 {
		return nil, errs.sorted()
	}
	if errs := j.readAlternatives(name, root, find); len(errs) > 0 {
		return nil, errs.sorted()
	}
	return j, nil
}

// topKeys are the keys of a job file, in the order of the page that Start
// writes.
var topKeys = []string{"job", "title", "stamp", "units", "drawings", "types", "walls", "ceilings", "decks", "frames",
	"zones", "stock", "rules", "framing", "offcuts", "prices", "order", "limiting-heights", "alternatives", "notes", "assumed"}

// parseJob reads one tree; alternatives are read by the caller.
func parseJob(name string, root *node, find func(string) (string, error)) (*Job, Errors) {
	r := &reader{file: name, job: &Job{File: name}, at: map[string]*node{}}
	f := r.fields(root, jobFile, topKeys...)
	r.units(f)
	r.heading(f)
	r.rules(f)
	r.stock(f)
	r.drawings(f, find)
	r.types(f)
	r.walls(f)
	r.ceilings(f)
	r.decks(f)
	r.frames(f)
	r.zones(f)
	r.prices(f, find)
	r.order(f)
	r.limitingHeights(f, find)
	r.given(f)
	r.check()
	return r.job, r.errs
}

// units settles the system of units before any length is read.
func (r *reader) units(f *fields) {
	if n := f.get("units"); n != nil {
		r.sys = measure.System(r.choice(n, "inch-pound", "metric"))
	} else {
		metric, inches := 0, 0
		countUnits(f.node, &metric, &inches)
		if metric > inches {
			r.sys = measure.Metric
		}
		r.assume("units", r.sys.String(), "by the lengths in this file", false)
	}
	r.job.System = r.sys
}

// countUnits counts the lengths of each system in a tree.
func countUnits(n *node, metric, inches *int) {
	if n.kind == scalar && n.text != "" {
		if _, err := measure.Parse(n.text, measure.Metric); err == nil {
			switch {
			case strings.HasSuffix(strings.ToLower(n.text), "m"):
				*metric++
			case strings.Trim(n.text, "0.") != "":
				*inches++
			}
		}
	}
	for _, list := range [][]*node{n.items, n.vals} {
		for _, c := range list {
			countUnits(c, metric, inches)
		}
	}
}

// heading reads names, stamp and modes.
func (r *reader) heading(f *fields) {
	j := r.job
	j.Name = f.text("job")
	if j.Name == "" {
		j.Name = strings.TrimSuffix(filepath.Base(r.file), filepath.Ext(r.file))
		j.Name = folderName(j.Name) // "...yaml" would name the folder above
	}
	if n := f.get("job"); n != nil && folderName(j.Name) != j.Name {
		r.fail(n, "%q cannot name a folder; use letters, digits, spaces and hyphens", j.Name)
	}
	j.Title = f.text("title")
	if j.Title == "" {
		j.Title = j.Name
	}
	j.Stamp = "BUDGET"
	if n := f.get("stamp"); n != nil {
		j.Stamp = [...]string{"BUDGET", "BID", "BUILD"}[r.choice(n, "BUDGET", "BID", "BUILD")]
	}
	if n := f.get("framing"); n != nil {
		j.Framing = r.framing(n)
	}
	if n := f.get("offcuts"); n != nil {
		j.Offcuts = Travel(r.choice(n, travelWords...))
	} else {
		j.Offcuts = TravelRoom // first the same run, then the same room
	}
	for _, n := range f.list("notes") {
		j.Notes = append(j.Notes, r.text(n))
	}
}

var travelWords = []string{"run", "room", "storey", "job"}
var framingWords = []string{"to layout", "as framed"}

func (r *reader) framing(n *node) Framing { return Framing(r.choice(n, framingWords...)) }

// rules reads the rules changed. All are set before they are checked against
// one another, so that their order does not matter.
func (r *reader) rules(f *fields) {
	r.job.Rules = rules.Default(r.sys)
	keys, vals := f.pairs("rules")
	before := len(r.errs)
	for i, k := range keys {
		if err := r.job.Rules.Assign(k.text, r.text(vals[i])); err != nil {
			at := vals[i]
			if rules.Lookup(k.text) == nil {
				at = k
			}
			r.fail(at, "%v", err)
			continue
		}
		r.job.Changed = append(r.job.Changed, k.text)
		r.at["rule "+k.text] = vals[i]
	}
	if len(r.errs) > before {
		return
	}
	for _, err := range r.job.Rules.Check() {
		id, _, _ := strings.Cut(err.Error(), ":")
		at := r.at["rule "+id]
		if at == nil && len(vals) > 0 {
			at = vals[0]
		}
		if at != nil {
			r.fail(at, "%v", err)
		}
	}
}
