// Package dxf reads DXF drawings into linework: every placed entity of
// modelspace with blocks expanded, in millimetres.
//
//	file ─group codes─► Model (flat pages, blocks kept once) ─Walk─► placed pieces ─► linework.Drawing
//
// Open reads a file of any release once, through one buffer, into a Model: flat
// pages of records and numbers in drawing units, a quarter or so of the file's
// size. Walk expands blocks on the way out and hands each piece to a Sink, so
// that a large drawing is never whole in memory; Read collects the pieces into
// a linework.Drawing.
//
// Invariants. Every entity of modelspace comes out in exactly one list, those
// without linework, or wholly outside the clip of their insert, among Others with
// the reason; of what a clip cuts the part it shows comes out. What is damaged, missing or
// over a limit is an exception that names the file, line and entity; the rest
// is still read. Units are applied on the way out only, so that they can be
// settled after reading (JudgeUnit, Rescale).
package dxf
