// Package dxf reads and writes group codes: the pairs of a whole number and a
// value that every DXF file is made of. It knows nothing of drawings.
//
// The reader (Scanner) is forgiving: it takes ASCII files of any release with
// any line end, with a UTF-8 or UTF-16 mark, and binary files with one-byte
// (R10 to R12) or two-byte (R13 and later) group codes; it goes on after
// damage and keeps an account of it (Audit). It streams through one buffer of
// fixed size, keeps nothing, and allocates nothing by a count found in the file.
//
// The writer (Writer) is strict: it writes the few entities a takeoff needs in
// one release (AC1027, UTF-8) so that an independent audit finds nothing to
// repair, and refuses what it cannot write soundly.
//
// Source of codes, value types and table layouts: Autodesk, "DXF Reference",
// the chapters "Group Codes in Numerical Order" and "DXF File Structure".
package dxf
