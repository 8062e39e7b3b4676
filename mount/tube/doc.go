// Package tube tells what weight does to a mount of tubes and joints: how far the
// screen sags and nods, how near every tube comes to its yield, what moment every
// joint has to hold, and how much every part carries.
//
// A mount is a chain without loops, so force and moment at every section follow
// from the weights beyond it alone. Deflections are small against the mount: they
// are summed up along the unloaded shape.
//
// Lengths are in mm, masses in kg, forces in N and moments in N·m; everything is in
// the chain's carrier axes unless it says otherwise.
package tube
