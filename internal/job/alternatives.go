package job

import (
	"slices"
	"strings"
)

// Alternative is the same job with some of it changed: another layout, other
// stock, other heights.
type Alternative struct {
	Name    string
	Job     *Job     // resolved; its own Alternatives are empty
	Changes []string // what it changes, "path: value", in the file's order
	Line    int
}

// maxAlternatives bounds the work of one job file.
const maxAlternatives = 20

// readAlternatives reads each alternative as the job file with the keys under
// changes: laid over it, so that it is checked as strictly as the file itself.
func (j *Job) readAlternatives(name string, root *node, find func(string) (string, error)) Errors {
	r := &reader{file: name, sys: j.System, job: j}
	top := r.fields(root, jobFile, topKeys...)
	list := top.list("alternatives")
	if len(list) > maxAlternatives {
		r.fail(list[maxAlternatives], "more than %d alternatives", maxAlternatives)
		return r.errs
	}
	var names []string
	for _, n := range list {
		f := r.fields(n, "an alternative", "name", "changes")
		alt := Alternative{Line: n.line}
		if k := f.must("name", "horizontal"); k != nil {
			alt.Name = r.text(k)
			if slices.Contains(names, alt.Name) {
				r.fail(k, "alternative %q stands here a second time", alt.Name)
			}
			names = append(names, alt.Name)
		}
		changes := f.must("changes", "{offcuts: job}")
		if changes == nil {
			continue
		}
		before := len(r.errs)
		r.fields(changes, "the changes of an alternative", changeKeys...)
		if len(r.errs) > before {
			continue
		}
		merged := merge(without(root, "alternatives"), changes)
		var errs Errors
		alt.Changes = told(changes, "")
		alt.Job, errs = parseJob(name, merged, find)
		r.errs = append(r.errs, errs...)
		j.Alternatives = append(j.Alternatives, alt)
	}
	return r.errs
}

// changeKeys are what an alternative may change: how the job is built, not
// which drawings it reads.
var changeKeys = []string{"title", "types", "walls", "ceilings", "decks", "frames", "zones", "stock", "rules", "framing", "offcuts", "prices", "order", "limiting-heights", "notes"}

// told lists the values of a tree with the path of each.
func told(n *node, path string) []string {
	switch n.kind {
	case scalar:
		return []string{path + ": " + n.text}
	case mapping:
		var out []string
		for i, k := range n.keys {
			if k.text != "name" {
				out = append(out, told(n.vals[i], strings.TrimPrefix(path+"."+k.text, "."))...)
			}
		}
		return out
	case list:
		var out, words []string
		for _, item := range n.items {
			if item.kind == scalar {
				words = append(words, item.text)
				continue
			}
			at := path
			if name := item.get("name"); name != nil {
				at += "." + name.text
			}
			out = append(out, told(item, at)...)
		}
		if len(words) > 0 {
			out = append(out, path+": "+strings.Join(words, ", "))
		}
		return out
	}
	return nil
}

func without(n *node, key string) *node {
	out := *n
	out.keys, out.vals = nil, nil
	for i, k := range n.keys {
		if k.text != key {
			out.keys, out.vals = append(out.keys, k), append(out.vals, n.vals[i])
		}
	}
	return &out
}

// merge lays over onto base: mappings key by key, lists of named entries entry
// by entry, everything else replaced, the sheets of a board as a whole. Neither
// is changed.
func merge(base, over *node) *node {
	switch {
	case base.kind == mapping && over.kind == mapping:
		out := without(base, "")
		for i, k := range over.keys {
			at := slices.IndexFunc(out.keys, func(b *node) bool { return b.text == k.text })
			if at < 0 {
				out.keys, out.vals = append(out.keys, k), append(out.vals, over.vals[i])
				continue
			}
			if k.text == "sheets" {
				out.vals[at] = over.vals[i]
				continue
			}
			out.vals[at] = merge(out.vals[at], over.vals[i])
		}
		return out
	case base.kind == list && over.kind == list && named(base) && named(over):
		out := *base
		out.items = slices.Clone(base.items)
		for _, n := range over.items {
			name := n.get("name").text
			at := slices.IndexFunc(out.items, func(b *node) bool { return b.get("name").text == name })
			if at < 0 {
				out.items = append(out.items, n)
				continue
			}
			out.items[at] = merge(out.items[at], n)
		}
		return &out
	}
	return over
}

// named reports whether every entry of a list has a name.
func named(n *node) bool {
	for _, item := range n.items {
		if k := item.get("name"); k == nil || k.kind != scalar {
			return false
		}
	}
	return true
}
