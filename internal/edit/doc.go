// Package edit reads back what people write into the workbooks boardrun
// writes: the cells marked for it, by the headers of their columns. A workbook
// enters, rows of texts with their cells leave; what they mean is for others to
// say. A fault names file, sheet and cell. Whatever the file holds, reading it
// ends, without panic, within the limits below.
package edit
