// Package plots draws results: it turns what mount/fit found into figures and
// writes them as SVG, PDF and PNG.
//
// A [Figure] is a gonum plot together with the paper size for which it was laid
// out. Figures that are to scale ([Scene], [View3D], [Region], [Assessments],
// [ScreenTargets], [HiddenFloor], [Passage]) have equal axes and are drawn 1:N on paper of exactly that
// size; drawn at another size they keep their proportions only if both sides change
// by the same factor.
//
// Nothing is told apart by color alone: every line has a dash pattern or a
// label of its own, and fills are light enough to be read in gray. The same
// figure gives the same bytes every time.
//
// Lengths of the world are in mm; lengths on paper are [vg.Length]. Views are in
// chair axes: the side view has forward to the right (it is seen from the
// person's right), the top view forward to the right and left upward, the front
// view the person's left to the right.
package plots
