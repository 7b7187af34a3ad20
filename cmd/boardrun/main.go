// Command boardrun takes walls off architects' drawings and lays out the board
// on them. See README.md, or run it with --help.
package main

import (
	"os"

	"boardrun/internal/app"
)

func main() {
	os.Exit(app.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
