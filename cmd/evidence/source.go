package main

import (
	"fmt"
	"regexp"
	"sort"
	"strings"
)

// source is something outside the project that checks rest on. say finds it in
// the text of a test: its comments, names and literals.
type source struct {
	key, kind, cite string
	say             *regexp.Regexp
}

func pattern(p string) *regexp.Regexp { return regexp.MustCompile(p) }

// sources is the bibliography of the checks. O-n are the ids of the replayed
// values; where an id has a source of its own, the row names that.
var sources = []source{
	{"GA-216", "standard", "Gypsum Association GA-216, application and finishing, as its columns quote it", pattern(`GA-216`)},
	{"GA-226", "standard", "Gypsum Association GA-226-08, curved gypsum board, Table 1", pattern(`GA-226|\bCRV-\d`)},
	{"GA-600", "handbook", "Fire resistance design manual's generic systems WP 1200, 1201, 1204 as public listings print them", pattern(`\bWP ?12\d\d|wp-12`)},
	{"ASTM-C840", "standard", "ASTM C840, clause 1.2.1: the stricter of two rules holds", pattern(`C840`)},
	{"ASTM-C1002", "standard", "ASTM C1002 and C954, scopes of screws by steel thickness", pattern(`\bC1002|\bC954`)},
	{"IRC-702", "standard", "International Residential Code 2021, R702.3.5, board on framing", pattern(`R702`)},
	{"maker-US", "handbook", "US makers' board data: frame spacing, screw spacing, masses", pattern(`maker's wallboard|maker guide|\bFS-\d|\bWT-\d`)},
	{"frames", "handbook", "distributors' tables of door frames and jamb depths", pattern(`DR-\d+|door opening tables|jamb depths`)},
	{"jamb-band", "handbook", "US Navy NAVEDTRA 14044 and the British Columbia association's manual, joints beside openings", pattern(`NAVEDTRA`)},
	{"estimating", "handbook", "Dagostino and Peterson, Estimating in Building Construction, worked examples EX-1 to EX-5", pattern(`Dagostino|\bEX-\d`)},
	{"convention-C1", "worked values", "screws per sheet under a stated convention, SC-1 to SC-14", pattern(`\bSC-\d+`)},
	{"cases", "worked values", "whole walls worked by hand, C-1 to C-8", pattern(`\b[Cc]ases? C-\d|\bC-[1-8]\b|worked cases?`)},
	{"AWCI", "handbook", "Association of the Wall and Ceiling Industry, hours above 10 ft", pattern(`AWCI`)},
	{"sealant-yield", "handbook", "makers' yield of a 29 oz cartridge", pattern(`AS-1\b|O-34`)},
	{"inch", "standard", "international yard and pound agreement 1959, 1 in = 25.4 mm", pattern(`1959`)},
	{"DXF-reference", "standard", "DXF Reference: group codes, $INSUNITS, text codes", pattern(`DXF Reference|O-4[3-5]`)},
	{"layers", "standard", "US National CAD Standard and ISO 13567-2, layer names", pattern(`national CAD standard|ISO 13567`)},
	{"ISO-10303-21", "standard", "ISO 10303-21:2016, clear text encoding", pattern(`ISO 10303-21`)},
	{"ISO-16739", "standard", "ISO 16739-1, IFC: property overrides, layer sets, quantities", pattern(`ISO 16739`)},
	{"HTML", "standard", "HTML Living Standard, script elements; Content Security Policy hashes", pattern(`rules of HTML|policy's hashes`)},
	{"ezdxf", "library", "ezdxf 0.18.1 (Debian): audit, counts, lengths per layer", pattern(`(?i)ezdxf`)},
	{"web-ifc", "library", "web-ifc 0.0.78 (npm): areas of the walls' triangles by direction", pattern(`web-ifc`)},
	{"GLPK", "library", "GLPK (glpsol), linear programmes", pattern(`GLPK`)},
	{"poppler", "program", "pdftotext and qpdf on the PDF", pattern(`pdftotext|qpdf`)},
	{"jsonschema", "library", "santhosh-tekuri/jsonschema: what is written is valid", pattern(`santhosh-tekuri`)},
	{"excelize", "library", "excelize reads the workbook back", pattern(`excelize (reads|counts)`)},
	{"strconv", "library", "Go's strconv, numbers read faster", pattern(`Oracle: strconv\.ParseFloat`)},
	{"OR-Library", "open data", "OR-Library bin packing and PM cutting instances, optima published with BPPLib.jl", pattern(`BPPLib|OR-Library`)},
	{"silva2010", "open data", "two-stage cutting instances of Silva et al. 2010, brackets", pattern(`(?i)silva`)},
	{"vsbpp", "open data", "multi-stock instances of Cintra et al., best published costs", pattern(`Cintra|vsbpp`)},
	{"ifc-corpus", "open data", "published IFC models: quantities their authoring tools wrote, instance counts", pattern(`authoring tools?|golden/counts|[Ii]nstances of IfcWall|counted in the`)},
	{"dxf-corpus", "open data", "published DXF drawings: counts and lengths per layer by another reader", pattern(`golden/dxf|golden\.csv|dxf-.*\.csv`)},
	{"plans", "known truth", "generated and model-derived plans with their truth beside them", pattern(`truth beside|generator's own room|generator's room|known truth`)},
	{"generators", "known truth", "benchmark generators, which add up what they draw", pattern(`gen_ifc|gen_dxf`)},
	{"brute-force", "mathematics", "brute force over all layouts, all points, all subsets", pattern(`[Bb]rute force`)},
	{"duality", "mathematics", "strong duality; area and perimeter balance; Euler's formula", pattern(`[Dd]uality|area balance|[Pp]erimeter balance|Euler`)},
	{"judge", "independent program", "internal/check, which shares no code with the solvers", pattern(`internal/check|independent judge`)},
}

// check is one row of the page: a source and the tests that rest on it.
type check struct {
	source
	tests   []string // package.Test
	outcome outcome
}

type checks []check

// gather joins sources, the tests that name them and how those ended. A source
// that no test names is an error: the list would claim what nothing checks.
func gather(sources []source, oracles []oracle, results map[testKey]outcome) (checks, error) {
	var out checks
	var silent []string
	for _, s := range sources {
		c := check{source: s}
		for _, o := range oracles {
			if !s.say.MatchString(o.text) {
				continue
			}
			r, ran := results[testKey{o.pkg, o.test}]
			if !ran {
				continue // built for another system
			}
			c.tests = append(c.tests, o.pkg+"."+o.test)
			c.outcome.passed += r.passed
			c.outcome.failed += r.failed
			c.outcome.skipped += r.skipped
		}
		if len(c.tests) == 0 {
			silent = append(silent, s.key)
			continue
		}
		sort.Strings(c.tests)
		out = append(out, c)
	}
	if len(silent) > 0 {
		return nil, fmt.Errorf("no test that ran names the sources %s", strings.Join(silent, ", "))
	}
	return out, nil
}

func (c check) result() string {
	switch {
	case c.outcome.failed > 0:
		return fmt.Sprintf("**%d failed**", c.outcome.failed)
	case c.outcome.passed == 0:
		return "skipped"
	case c.outcome.skipped > 0:
		return fmt.Sprintf("pass, %d skipped", c.outcome.skipped)
	}
	return "pass"
}

// markdown is the table: a row a source, with the tests of each package.
func (cs checks) markdown() string {
	var b strings.Builder
	b.WriteString("| row | kind | source | checks | result | tests |\n|---|---|---|---|---|---|\n")
	for _, c := range cs {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %d | %s | %s |\n", c.key, c.kind, c.cite, c.outcome.passed+c.outcome.failed, c.result(), byPackage(c.tests))
	}
	return b.String()
}

// byPackage folds tests to packages: "internal/rules 9, internal/layout 2".
func byPackage(tests []string) string {
	n := map[string]int{}
	var order []string
	for _, t := range tests {
		p := t[:strings.LastIndex(t, ".")]
		if n[p] == 0 {
			order = append(order, p)
		}
		n[p]++
	}
	for i, p := range order {
		order[i] = fmt.Sprintf("%s %d", p, n[p])
	}
	return strings.Join(order, ", ")
}
