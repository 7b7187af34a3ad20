package job

import (
	"fmt"
	"strconv"
	"strings"
)

// given reads the list assumed: of the file, path: reason. It marks values
// that stand in the file although nobody gave them; they stay assumptions
// until their line is deleted.
func (r *reader) given(f *fields) {
	keys, vals := f.pairs("assumed")
	for i, k := range keys {
		n := find(f.node, k.text)
		if n == nil {
			r.fail(k, "%q names nothing in this file: delete the line, or write a path such as types.A.spacing", k.text)
			continue
		}
		a := Assumption{Path: k.text, Value: words(n), Reason: r.text(vals[i]), Height: isHeight(k.text), Line: n.line}
		r.markDeck(n, &a)
		r.job.Assumed = append(r.job.Assumed, a)
	}
}

// markDeck marks the deck whose height a path under decks names, and writes the
// path with the deck's storey, whichever way the file does.
func (r *reader) markDeck(n *node, a *Assumption) {
	for i := range r.job.Decks {
		d, at := &r.job.Decks[i], r.at[fmt.Sprint("deck ", i)]
		if n == at || n == at.get("level") || n == at.get("points") {
			d.Assumed = true
			a.Path = "decks." + d.Storey + ".level"
		}
	}
}

// find returns the node that a path names: keys joined by dots, entries of a
// list by their name, file, storey or number from 1. Keys may hold dots
// themselves, so every way of cutting the path is tried.
func find(n *node, path string) *node {
	if path == "" {
		return n
	}
	try := func(name string, child *node) *node {
		rest, ok := strings.CutPrefix(path, name)
		if !ok || name == "" || rest != "" && rest[0] != '.' {
			return nil
		}
		return find(child, strings.TrimPrefix(rest, "."))
	}
	for i, k := range n.keys {
		if hit := try(k.text, n.vals[i]); hit != nil {
			return hit
		}
	}
	for i, item := range n.items {
		for _, name := range itemNames(item, i) {
			if hit := try(name, item); hit != nil {
				return hit
			}
		}
	}
	return nil
}

func itemNames(item *node, index int) []string {
	var out []string
	for _, key := range []string{"name", "file", "storey"} {
		if k := item.get(key); k != nil && k.kind == scalar {
			out = append(out, k.text)
		}
	}
	return append(out, strconv.Itoa(index+1))
}

// words is what a value reads as on the page of assumptions.
func words(n *node) string {
	switch n.kind {
	case scalar:
		return n.text
	case list:
		if len(n.items) <= 4 {
			var out []string
			for _, item := range n.items {
				out = append(out, words(item))
			}
			return strings.Join(out, ", ")
		}
		return fmt.Sprintf("%d entries", len(n.items))
	case mapping:
		var out []string
		for i, k := range n.keys {
			out = append(out, k.text+": "+words(n.vals[i]))
		}
		if len(out) > 4 {
			out = append(out[:4], "…")
		}
		return strings.Join(out, ", ")
	}
	return ""
}

// isHeight reports whether a path names a height, which asks for a person.
func isHeight(path string) bool {
	if strings.HasPrefix(path, "ceilings") || strings.HasPrefix(path, "decks") {
		return true
	}
	last := path[strings.LastIndexByte(path, '.')+1:]
	return last == "height" || last == "heights" || last == "sill"
}
