// Package importers looks at a file and runs the importer for it. What enters
// is a path and the job's word about it; what leaves is a plan with its ledger,
// and for a survey what the file was found to hold.
package importers
