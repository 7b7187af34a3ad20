package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// mutant is one change to one file: the bytes from…to become text.
type mutant struct {
	pkg, file string
	line      int
	from, to  int
	was, text string
}

func (m mutant) String() string {
	return fmt.Sprintf("%s:%d: %s → %s", m.file, m.line, brief(m.was), brief(m.text))
}

// brief is code on one line, cut where it is long.
func brief(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 60 {
		s = string(r[:60]) + "…"
	}
	if s == "" {
		return "(nothing)"
	}
	return s
}

// source is the file with the change in it.
func (m mutant) source() ([]byte, error) {
	b, err := os.ReadFile(m.file)
	if err != nil {
		return nil, err
	}
	if m.to > len(b) || string(b[m.from:m.to]) != m.was {
		return nil, fmt.Errorf("%s changed while the tests ran; start again", m.file)
	}
	return bytes.Join([][]byte{b[:m.from], []byte(m.text), b[m.to:]}, nil), nil
}

// swaps are what an operator becomes: the neighbour a slip of the pen makes.
var swaps = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.REM: token.MUL,
	token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.MUL_ASSIGN: token.QUO_ASSIGN,
	token.INC: token.DEC, token.DEC: token.INC,
	token.BREAK: token.CONTINUE, token.CONTINUE: token.BREAK,
}

// find lists every change that can be made to a package, its tests aside.
func find(pkg string) ([]mutant, error) {
	files, err := filepath.Glob(filepath.Join(pkg, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []mutant
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		src, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, name, src, 0)
		if err != nil {
			return nil, err
		}
		s := site{pkg: pkg, file: name, src: src, fset: fset}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Body != nil {
				ast.Inspect(fn.Body, s.visit)
			}
		}
		out = append(out, s.found...)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: nothing to change there", pkg)
	}
	return out, nil
}

type site struct {
	pkg, file string
	src       []byte
	fset      *token.FileSet
	found     []mutant
}

func (s *site) add(pos, end token.Pos, text string) {
	p := s.fset.Position(pos)
	from, to := p.Offset, s.fset.Position(end).Offset
	s.found = append(s.found, mutant{s.pkg, s.file, p.Line, from, to, string(s.src[from:to]), text})
}

func (s *site) swap(pos token.Pos, op token.Token) {
	if to, ok := swaps[op]; ok {
		s.add(pos, pos+token.Pos(len(op.String())), to.String())
	}
}

func (s *site) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		s.swap(n.OpPos, n.Op)
	case *ast.AssignStmt:
		s.swap(n.TokPos, n.Tok)
	case *ast.IncDecStmt:
		s.swap(n.TokPos, n.Tok)
	case *ast.BranchStmt:
		if n.Label == nil {
			s.swap(n.TokPos, n.Tok)
		}
	case *ast.IfStmt:
		s.add(n.Cond.Pos(), n.Cond.End(), "!("+s.text(n.Cond)+")")
	case *ast.ExprStmt: // a call for its effect, left out
		s.add(n.Pos(), n.End(), "")
	case *ast.BasicLit:
		if n.Kind != token.INT {
			break
		}
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			s.add(n.Pos(), n.End(), strconv.FormatInt(v+1, 10))
		}
	}
	return true
}

func (s *site) text(n ast.Node) string {
	return string(s.src[s.fset.Position(n.Pos()).Offset:s.fset.Position(n.End()).Offset])
}
