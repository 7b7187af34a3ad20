// Package write puts a takeoff on disk: one file per format, and the folder
// that holds them, which is never a mix of old and new. Writers place ink; the
// numbers come from package report.
package write
