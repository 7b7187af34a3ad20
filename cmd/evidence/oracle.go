package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// oracle is what a test says it is checked against.
type oracle struct {
	pkg, test string // package path below the module, test function
	text      string // its source with its comment, and the comment at the head of its file
}

// scanOracles reads every test function as it stands, with its doc comment, and
// the comments before the first test of its file, which hold for all of them.
func scanOracles(root string) ([]oracle, error) {
	var out []oracle
	fset := token.NewFileSet()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && path != root) {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(fset, path, src, parser.ParseComments)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		out = append(out, fileOracles(fset, f, src, filepath.ToSlash(rel))...)
		return nil
	})
	sort.Slice(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.pkg != b.pkg {
			return a.pkg < b.pkg
		}
		return a.test < b.test
	})
	return out, err
}

// fileOracles gives each test of a file its text.
func fileOracles(fset *token.FileSet, f *ast.File, src []byte, pkg string) []oracle {
	var out []oracle
	head := ""
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Recv != nil || !isTest(fn.Name.Name) {
			continue
		}
		from := fn.Pos()
		if fn.Doc != nil {
			from = fn.Doc.Pos()
		}
		if out == nil {
			for _, c := range f.Comments {
				if c.End() < from {
					head += " " + c.Text()
				}
			}
		}
		text := string(src[fset.Position(from).Offset:fset.Position(fn.End()).Offset])
		text = strings.ReplaceAll(text+head, "//", " ")
		out = append(out, oracle{pkg, fn.Name.Name, strings.Join(strings.Fields(text), " ")})
	}
	return out
}

func isTest(name string) bool {
	return strings.HasPrefix(name, "Test") && name != "TestMain"
}
