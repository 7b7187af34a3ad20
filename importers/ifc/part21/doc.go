// Package part21 reads the clear-text exchange structure of ISO 10303-21: it
// finds every instance of a file once, remembers where each stands, and decodes
// one when asked. It knows nothing of IFC.
//
// What enters: a random-access file, plain or inside a ZIP archive. What
// leaves: the header, for each wanted keyword the ids of its instances in
// ascending order, and decoded records. The file is read in chunks and never
// mapped; beside the chunks only four bytes an instance stay in memory.
// Several goroutines scan; each that decodes takes its own Reader.
//
// Accepted beyond the letter of the standard: lower-case keywords, raw UTF-8 in
// strings, line breaks inside strings, blanks and comments anywhere, gaps and
// disorder of ids, ids up to 2^63. Refused with one line: an unfinished file,
// string or comment, XML, other formats, files beyond the constants in
// limits.go.
package part21
