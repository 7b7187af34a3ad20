package job

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// kind is what a node of the file is.
type kind uint8

const (
	empty kind = iota // a key with nothing after it
	scalar
	list
	mapping
)

var kindNames = [...]string{"nothing", "a single value", "a list", "a group of keys"}

func (k kind) String() string { return kindNames[k] }

// node is the file as a plain tree with positions. Only what a job file needs
// is kept of YAML: anchors, aliases, merge keys and tags are refused.
type node struct {
	kind      kind
	text      string // of a scalar, as written without its quotes
	shift     int    // columns from col to the first character of text: 1 inside quotes
	line, col int
	items     []*node
	keys      []*node // of a mapping, in file order; vals beside them
	vals      []*node
}

// get returns the value of a key, nil if it is not there.
func (n *node) get(key string) *node {
	for i, k := range n.keys {
		if k.text == key {
			return n.vals[i]
		}
	}
	return nil
}

// Limits on a job file. They bound the work of the YAML parser, which is
// quadratic in the keys of one mapping and recursive in the nesting.
const (
	maxBytes  = 1 << 20
	maxLines  = 10000
	maxCommas = 40000
	maxDepth  = 40
)

// parseTree reads src to a tree. The error is an *Error without its file.
func parseTree(src []byte) (root *node, fault *Error) {
	src = []byte(strings.TrimPrefix(string(src), "\uFEFF"))
	if fault := limits(src); fault != nil {
		return nil, fault
	}
	// The parser is not ours; a fault of its own must not end the program.
	defer func() {
		if recover() != nil {
			root, fault = nil, &Error{Msg: "cannot be read as YAML; look for unbalanced quotes or brackets"}
		}
	}()
	file, err := parser.ParseBytes(src, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, syntaxError(err)
	}
	var bodies []ast.Node
	for _, d := range file.Docs {
		if d.Body != nil {
			bodies = append(bodies, d.Body)
		}
	}
	switch len(bodies) {
	case 0:
		return &node{kind: mapping, line: 1, col: 1}, nil
	case 1:
		c := converter{}
		root := c.convert(bodies[0], 0)
		return root, c.fault
	}
	line, col := position(bodies[1].GetToken())
	return nil, &Error{Line: line, Col: col, Msg: `a second document begins here; one job to a file (delete the "---" line)`}
}

// limits refuses what would keep the parser busy for long.
func limits(src []byte) *Error {
	if len(src) > maxBytes {
		return &Error{Msg: fmt.Sprintf("%d bytes; a job file is at most %d", len(src), maxBytes)}
	}
	if !utf8.Valid(src) {
		return &Error{Msg: "not UTF-8 text; save it as UTF-8"}
	}
	if n := strings.Count(string(src), "\n"); n > maxLines {
		return &Error{Msg: fmt.Sprintf("%d lines; a job file has at most %d", n, maxLines)}
	}
	if n := strings.Count(string(src), ","); n > maxCommas {
		return &Error{Msg: fmt.Sprintf("%d commas; a job file has at most %d", n, maxCommas)}
	}
	return tooDeep(string(src))
}

// tooDeep refuses nesting beyond maxDepth without parsing: open brackets
// outside quotes and comments, indentation, and list or key marks on one line.
func tooDeep(src string) *Error {
	depth := 0
	for i, line := range strings.Split(src, "\n") {
		fault := &Error{Line: i + 1, Col: 1, Msg: fmt.Sprintf("nested more than %d deep", maxDepth)}
		rest := strings.TrimLeft(line, " ")
		if rest != "" && rest[0] != '#' && len(line)-len(rest) > 8*maxDepth {
			return fault
		}
		for marks := 0; strings.HasPrefix(rest, "- ") || strings.HasPrefix(rest, "? "); marks++ {
			if marks > maxDepth {
				return fault
			}
			rest = strings.TrimLeft(rest[2:], " ")
		}
		depth += openBrackets(line)
		if depth > maxDepth {
			return fault
		}
		depth = max(depth, 0)
	}
	return nil
}

// openBrackets counts brackets opened less those closed in one line, the most
// open at once where that is too many. A quote that begins a word hides what
// stands in it; an unpaired one hides nothing, so the count errs towards
// refusing.
func openBrackets(line string) int {
	depth := 0
	for i := 0; i < len(line); i++ {
		switch b := line[i]; {
		case b == '#' && (i == 0 || line[i-1] == ' '):
			return depth
		case (b == '"' || b == '\'') && (i == 0 || strings.IndexByte(" [{,:", line[i-1]) >= 0):
			if end := strings.IndexByte(line[i+1:], b); end >= 0 {
				i += end + 1
			}
		case b == '[' || b == '{':
			if depth++; depth > maxDepth {
				return depth
			}
		case b == ']' || b == '}':
			depth--
		}
	}
	return depth
}

// syntaxError turns the parser's error into ours, in words a tradesman knows.
func syntaxError(err error) *Error {
	var ye yaml.Error
	if !errors.As(err, &ye) {
		return &Error{Msg: "cannot be read as YAML: " + firstLine(err.Error())}
	}
	line, col := position(ye.GetToken())
	msg := firstLine(ye.GetMessage())
	if strings.Contains(msg, "'\t'") || strings.Contains(msg, "tab character") {
		msg = "a tab; indent with spaces"
	}
	return &Error{Line: line, Col: col, Msg: msg}
}

func firstLine(s string) string {
	s, _, _ = strings.Cut(strings.TrimSpace(s), "\n")
	return s
}

func position(t *token.Token) (line, col int) {
	if t == nil || t.Position == nil {
		return 0, 0
	}
	return max(t.Position.Line, 1), max(t.Position.Column, 1)
}

// converter makes our tree of the parser's; it keeps the first fault.
type converter struct{ fault *Error }

func (c *converter) fail(t *token.Token, msg string) *node {
	if c.fault == nil {
		line, col := position(t)
		c.fault = &Error{Line: line, Col: col, Msg: msg}
	}
	return &node{}
}

func (c *converter) convert(a ast.Node, depth int) *node {
	if a == nil {
		return &node{}
	}
	t := a.GetToken()
	if depth > maxDepth {
		return c.fail(t, fmt.Sprintf("nested more than %d deep", maxDepth))
	}
	line, col := position(t)
	switch a := a.(type) {
	case *ast.MappingNode:
		return c.mapping(a.Values, depth)
	case *ast.MappingValueNode:
		return c.mapping([]*ast.MappingValueNode{a}, depth)
	case *ast.SequenceNode:
		n := &node{kind: list, line: line, col: col}
		for _, v := range a.Values {
			n.items = append(n.items, c.convert(v, depth+1))
		}
		return n
	case *ast.NullNode:
		if t.Type == token.NullType && t.Value != "" && t.Value != "null" && t.Value != "~" {
			return &node{kind: scalar, text: t.Value, line: line, col: col}
		}
		return &node{kind: empty, line: line, col: col}
	case *ast.StringNode:
		n := &node{kind: scalar, text: a.Value, line: line, col: col}
		if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
			n.shift = 1
		}
		return n
	case *ast.LiteralNode:
		return &node{kind: scalar, text: strings.TrimSpace(a.Value.Value), line: line, col: col}
	case *ast.AliasNode, *ast.AnchorNode, *ast.TagNode, *ast.MergeKeyNode, *ast.MappingKeyNode, *ast.DirectiveNode:
		return c.fail(t, fmt.Sprintf("%q begins something a job file has no use for; put words that begin with * & ! ? in quotes", t.Value))
	case ast.ScalarNode: // numbers and yes/no: as written, not as YAML reads them
		return &node{kind: scalar, text: t.Value, line: line, col: col}
	}
	return c.fail(t, "not understood here")
}

func (c *converter) mapping(values []*ast.MappingValueNode, depth int) *node {
	n := &node{kind: mapping}
	seen := map[string]*node{}
	for _, v := range values {
		key := c.convert(v.Key, depth+1)
		if key.kind != scalar {
			c.fail(v.GetToken(), "a key is missing before the colon")
			continue
		}
		if n.line == 0 {
			n.line, n.col = key.line, key.col
		}
		if first := seen[key.text]; first != nil {
			c.fail(v.Key.GetToken(), fmt.Sprintf("%q stands here a second time; first in line %d", key.text, first.line))
			continue
		}
		seen[key.text] = key
		val := c.convert(v.Value, depth+1)
		if val.line == 0 {
			val.line, val.col = key.line, key.col
		}
		n.keys, n.vals = append(n.keys, key), append(n.vals, val)
	}
	if n.line == 0 {
		n.line, n.col = 1, 1
	}
	return n
}
