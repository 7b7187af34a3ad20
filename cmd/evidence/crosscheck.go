package main

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What .ci/crosscheck/all prints of each comparison.
var (
	bookLine   = regexp.MustCompile(`(?m)^workbook: \d+ sheets, (\d+) cells, (\d+) formulas, (\d+) differences`)
	pieceLine  = regexp.MustCompile(`(?m)^pieces: (\d+) pieces, (\d+) sheets .* (\d+) screws, (\d+) differences`)
	auditLine  = regexp.MustCompile(`(?m)^ +\S+\.dxf: (\d+) entities, (\d+) errors, (\d+) repairs`)
	scoreLine  = regexp.MustCompile(`(?m)^-- (\S+) recall (\S+) precision (\S+) openings (\S+)/(\S+)`)
	modelLine  = regexp.MustCompile(`(?m)^-- \S+\.ifc\w*: (\d+) walls, (\d+) sides boarded`)
	nothing    = regexp.MustCompile(`(?m)^-- \S+\.ifc\w*: nothing to start from`)
	pageLine   = regexp.MustCompile(`review page: (\d+) faults`)
	webifcLine = regexp.MustCompile(`(?m)^ok\s+boardrun/importers/ifc\s`)
)

// crosscheckTable reads the output of .ci/crosscheck/all: a row for each kind
// of comparison, with the numbers added up.
func crosscheckTable(path string) (string, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	log := string(b)
	if !strings.Contains(log, "cross-checks done") {
		return "", fmt.Errorf("%s: the cross-checks did not come to their end", path)
	}
	rows := [][2]string{}
	add := func(what, format string, a ...any) { rows = append(rows, [2]string{what, fmt.Sprintf(format, a...)}) }
	n, s := sums(bookLine, log)
	add("LibreOffice recalculates, openpyxl reads: workbooks of the samples", "%d workbooks, %d cells, %d formulas, %d differences", n, s[0], s[1], s[2])
	n, s = sums(pieceLine, log)
	add("a separate program counts again from `pieces[]`: order, mass, screws, studs, prices", "%d takeoffs, %d pieces, %d sheets, %d screws, %d differences", n, s[0], s[1], s[2], s[3])
	n, s = sums(auditLine, log)
	add("ezdxf audits every DXF we write; areas of pieces, lengths of joints, walls of the plan as in the JSON", "%d files, %d entities, %d errors, %d repairs", n, s[0], s[1], s[2])
	add("plans with known truth, `start` to `takeoff`", "%s", scores(log))
	n, s = sums(modelLine, log)
	add("models of the collection, `start` to `takeoff --verify`", "%d models, %d walls, %d sides pass the judge; %d have nothing to board and say why", n, s[0], s[1], len(nothing.FindAllString(log, -1)))
	n, s = sums(pageLine, log)
	add("Chromium loads, taps, searches, prints the review page", "%d pages, %d faults", n, s[0])
	add("web-ifc measures the walls of the models", "%s", map[bool]string{true: "pass", false: "not run"}[webifcLine.MatchString(log)])
	var t strings.Builder
	t.WriteString("| what | result |\n|---|---|\n")
	for _, r := range rows {
		fmt.Fprintf(&t, "| %s | %s |\n", r[0], r[1])
	}
	return t.String(), nil
}

// sums counts the matches of a line and adds up their numbers.
func sums(line *regexp.Regexp, log string) (n int, sum []int) {
	sum = make([]int, line.NumSubexp())
	for _, m := range line.FindAllStringSubmatch(log, -1) {
		n++
		for i, t := range m[1:] {
			v, _ := strconv.Atoi(t) // the pattern takes digits alone
			sum[i] += v
		}
	}
	return n, sum
}

// scores tells how many plans are found whole and which are not.
func scores(log string) string {
	whole := 0
	var rest []string
	for _, m := range scoreLine.FindAllStringSubmatch(log, -1) {
		if !slices.ContainsFunc(m[2:], func(s string) bool { return s != "1.0000" }) {
			whole++
			continue
		}
		rest = append(rest, fmt.Sprintf("%s: recall %s, precision %s, openings %s/%s", m[1], m[2], m[3], m[4], m[5]))
	}
	out := fmt.Sprintf("%d with recall, precision and openings 1.0000", whole)
	if len(rest) > 0 {
		out += "; " + strings.Join(rest, "; ")
	}
	return out
}
