package app_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"boardrun/internal/app"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"boardrun": func() { os.Exit(app.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// Scripts are whole commands with their output and exit status. $ROOT is the
// project; every command that README.md and DEVELOPERS.md show is in one.
func TestScript(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("ROOT", root)
			return nil
		},
	})
}
