package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// replaceSection puts a body between the marks of a section of the page.
func replaceSection(page, name, body string) (string, error) {
	from, to, err := section(page, name)
	if err != nil {
		return "", err
	}
	return page[:from] + "\n" + body + page[to:], nil
}

// section is the extent of a section's body, without its marks.
func section(page, name string) (from, to int, err error) {
	begin, end := "<!-- evidence: "+name+" -->", "<!-- end of "+name+" -->"
	from = strings.Index(page, begin)
	to = strings.Index(page, end)
	if from < 0 || to < from {
		return 0, 0, fmt.Errorf("%s has no section between %q and %q", guide, begin, end)
	}
	return from + len(begin), to, nil
}

var row = regexp.MustCompile("(?m)^\\| `([^`]+)` \\| [^|]* \\| [^|]* \\| (\\d+) \\|")

// pointer is how README.md points to a row of the page.
var pointer = regexp.MustCompile(`evidence: ([A-Za-z0-9-]+(?:, [A-Za-z0-9-]+)*)`)

// verify holds the page against the checks that just ran, and the pointers of
// README.md against the page.
func verify(page, readme string, now checks) error {
	from, to, err := section(page, "checks")
	if err != nil {
		return err
	}
	claimed := map[string]int{}
	for _, m := range row.FindAllStringSubmatch(page[from:to], -1) {
		claimed[m[1]], _ = strconv.Atoi(m[2])
	}
	var wrong []string
	for _, c := range now {
		n, there := claimed[c.key]
		switch ran := c.outcome.passed; {
		case !there:
			wrong = append(wrong, c.key+": not on the page; run go run ./cmd/evidence")
		case c.outcome.failed > 0:
			wrong = append(wrong, fmt.Sprintf("%s: %d checks failed", c.key, c.outcome.failed))
		case ran == 0:
			wrong = append(wrong, c.key+": every check was skipped")
		case ran < n:
			wrong = append(wrong, fmt.Sprintf("%s: the page claims %d checks, %d ran", c.key, n, ran))
		}
		delete(claimed, c.key)
	}
	for key := range claimed {
		wrong = append(wrong, key+": on the page, but no longer a source")
	}
	wrong = append(wrong, pointers(page, readme)...)
	if len(wrong) > 0 {
		return fmt.Errorf("%d rows do not hold:\n  %s", len(wrong), strings.Join(wrong, "\n  "))
	}
	return nil
}

// pointers lists the pointers of README.md that lead to no row of the page.
func pointers(page, readme string) (wrong []string) {
	for _, m := range pointer.FindAllStringSubmatch(readme, -1) {
		for _, key := range strings.Split(m[1], ", ") {
			if !strings.Contains(page, "| `"+key+"` |") {
				wrong = append(wrong, "README.md points to the row "+key+", which is not on the page")
			}
		}
	}
	return wrong
}
