package dxf

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
)

// The table of limits for developers says what the constants are.
func TestLimits_table(t *testing.T) {
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]string{}
	within := false
	for _, line := range strings.Split(string(data), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 5 {
			continue
		}
		if strings.TrimSpace(cells[1]) != "" {
			within = strings.Contains(cells[1], "importers/dxf")
		}
		if !within {
			continue
		}
		values := regexp.MustCompile(`\d+(,\d{3})*(e\d+)?`).FindAllString(cells[3], -1)
		for i, name := range regexp.MustCompile("`Max\\w+`").FindAllString(cells[2], -1) {
			told[strings.Trim(name, "`")] = strings.ReplaceAll(values[i], ",", "")
		}
	}
	for name, v := range map[string]float64{"MaxPlaced": MaxPlaced, "MaxPerInsert": MaxPerInsert, "MaxDepth": MaxDepth, "MaxVertices": MaxVertices,
		"MaxClipPoints": MaxClipPoints, "MaxCoordinate": MaxCoordinate, "MaxMM": MaxMM, "MaxLayers": MaxLayers, "MaxBlocks": MaxBlocks, "MaxExceptions": MaxExceptions} {
		var x float64
		if _, err := fmt.Sscan(told[name], &x); err != nil || x != v {
			t.Errorf("%s is told as %q, is %v", name, told[name], v)
		}
	}
}
