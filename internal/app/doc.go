// Package app holds the commands: flags, the pipeline in its order, exit
// status. It is the only package that sees both importers and writers.
package app
