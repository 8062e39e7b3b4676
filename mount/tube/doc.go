// Package tube computes what weight does to a mount of tubes and joints: how far the
// screen sags and nods, how near every tube comes to its yield, what moment every
// joint has to hold, and how much every part carries.
//
// A mount is a chain without loops, so force and moment at every section follow
// from the weights beyond it alone. Deflections are small against the mount: they
// are summed up along the unloaded shape. Where the screen turns by more than
// [SmallTurn] under its load the sums are rough, and the mount is no use anyway; beyond
// [MostTurn] they are refused.
//
// # What is taken for granted
//
//   - A tube is held at one point, its held end, as if built in there. What sticks
//     out behind that point weighs, and is carried along.
//   - Tubes bend, twist, shear and stretch; all else is stiff, but for what a joint's
//     Compliance says. Nothing slips: the load on a joint is reported, not acted on.
//   - Two tubes on one joint are held one after the other, the later by the earlier.
//
// Lengths are in mm, masses in kg, forces in N and moments in N·m; everything is in
// the chain's carrier axes unless it says otherwise. Inside, moments are in N·mm,
// so that they go with moduli in N/mm².
package tube
