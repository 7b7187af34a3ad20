package write

import (
	"bufio"
	"encoding/json"
	"io"

	"boardrun/internal/report"
)

// JSON writes takeoff.json: UTF-8, one entry of each list per line, so that two
// takeoffs can be compared line by line.
func JSON(w io.Writer, t *report.Takeoff) error { return lines(w, t, keys) }

// keys fixes the order of the file: that of the contract.
var keys = []string{
	"schema", "job", "drawings", "runs", "junctions", "faces", "openings", "rooms", "pieces", "joints", "sheets", "screws",
	"framing", "finishing", "order", "stocking", "phases", "cost", "bound", "overrides", "revisions", "exceptions", "ledger", "standing",
}

// entries writes a list with one entry a line and anything else as it is.
func entries(out *bufio.Writer, v json.RawMessage) {
	var list []json.RawMessage
	if v[0] != '[' || json.Unmarshal(v, &list) != nil || len(list) == 0 {
		out.Write(v)
		return
	}
	for i, e := range list {
		if i == 0 {
			out.WriteString("[\n")
		} else {
			out.WriteString(",\n")
		}
		out.Write(e)
	}
	out.WriteString("\n]")
}
