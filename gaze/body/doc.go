// Package body holds published dimensions of seated people and the plain shapes that
// head, trunk and thighs take up. In go a scene and where the seat is; out come boxes
// and rods in the axes of head, back support and seat. Read [Seat] first.
//
// Lengths are in mm. Axes are those of package gaze: x forward, y to the person's left,
// z up.
package body
