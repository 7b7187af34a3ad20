// Package check judges a takeoff: an independent reading of the contract that
// knows nothing of how layouts and cut lists are found. It reads the contract's
// types and calls none of the code that made them; its geometry is its own, in
// floating millimetres, by sweeping vertical lines.
//
// What it holds: the pieces of each ply tile its boardable area; joints are
// exactly the shared boundaries, on studs, clear of openings and of the other
// side's studs unless an exception names them; every piece comes out of its
// sheet by the cuts listed, unmirrored; areas, masses, ids and the ledger add
// up.
package check
