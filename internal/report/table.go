package report

import (
	"slices"
	"strings"
)

// Tab is one sheet of the workbook, or one printed list: blocks one under
// the other.
type Tab struct {
	Name      string
	Landscape bool
	Lead      []string // sentences above the blocks
	Large     int      // so many of them are set large
	Blocks    []Block
	OnePage   bool   // printed on one page, however small
	Picture   string // name of a drawing to stand below, "" for none
}

// Block is one table. Key names it in formulas of other blocks.
type Block struct {
	Key     string
	Title   string
	Columns []Column
	Rows    [][]Cell
	Total   []Cell   // last row, set off; nil for none
	Notes   []string // sentences below it
}

// Column is one column; Key names it in formulas.
type Column struct {
	Key   string
	Head  string
	Width float64 // in characters
	Kind  Kind
	Flow  bool // the last column takes what is left of the sheet's width
}

// Kind says how a column's cells are shown and aligned.
type Kind uint8

// Kinds of cell.
const (
	Words   Kind = iota // text, left
	Lengths             // a length as the trade writes it, right
	Whole               // a whole number
	Decimal             // one decimal
	Money               // two decimals
	Percent
	Box // an empty box to tick
)

// Cell is one value. A cell with a Formula carries its cached value in Num.
// Formulas name cells by key, in braces: {count} is the cell of that column in
// the same row, {count*} the whole column of the block, {Order/board/count*} a
// column of another sheet's block, {Prices/price/amount+} its total,
// {Prices/price/amount#2} its third row.
type Cell struct {
	Text    string
	Num     float64
	Formula string
	Look    Look
	IsNum   bool
}

// Look sets a cell off.
type Look uint8

// Looks.
const (
	Plain Look = iota
	Strong
	Muted
	Alert
	Input // a cell the user may change
)

// T is a text cell, N a number, F a formula with its value.
func T(s string) Cell { return Cell{Text: s} }

// N is a number cell.
func N(v float64) Cell { return Cell{Num: v, IsNum: true} }

// I is a whole number cell.
func I(v int) Cell { return Cell{Num: float64(v), IsNum: true} }

// F is a formula cell with its cached value.
func F(formula string, v float64) Cell { return Cell{Formula: formula, Num: v, IsNum: true} }

// As returns c with a look.
func (c Cell) As(l Look) Cell { c.Look = l; return c }

func col(key, head string, width float64, kind Kind) Column {
	return Column{Key: key, Head: head, Width: width, Kind: kind}
}

// flow is a column of remarks that may run on over the edge.
func flow(key, head string, width float64) Column {
	return Column{Key: key, Head: head, Width: width, Flow: true}
}

// withoutBlanks drops, in place, the columns in which no row says anything. A column a
// formula of the block names stays, so does a box to tick.
func (b Block) withoutBlanks() Block {
	keep := make([]bool, len(b.Columns))
	for c := range b.Columns {
		keep[c] = b.Columns[c].Kind == Box
	}
	named := map[string]bool{}
	for _, row := range b.Rows {
		for c := range row {
			v := &row[c]
			keep[c] = keep[c] || v.Text != "" || v.IsNum || v.Formula != ""
			if v.Formula != "" {
				named[v.Formula] = true
			}
		}
	}
	for c := range b.Columns {
		for f := range named { // a handful: one formula for each column that has any
			keep[c] = keep[c] || strings.Contains(f, "{"+b.Columns[c].Key+"}") || strings.Contains(f, b.Columns[c].Key+":") || strings.Contains(f, ":"+b.Columns[c].Key)
		}
	}
	if !slices.Contains(keep, false) {
		return b
	}
	pickCells := func(row []Cell) []Cell {
		n := 0
		for c := range row {
			if keep[c] {
				row[n] = row[c]
				n++
			}
		}
		return row[:n]
	}
	out := b
	out.Columns = nil
	for c := range b.Columns {
		if keep[c] {
			out.Columns = append(out.Columns, b.Columns[c])
		}
	}
	for r, row := range b.Rows {
		out.Rows[r] = pickCells(row)
	}
	if b.Total != nil {
		out.Total = pickCells(b.Total)
	}
	return out
}
