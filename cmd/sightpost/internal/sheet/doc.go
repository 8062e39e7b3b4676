// Package sheet makes the sheet from which a technician sets a mount, as PDF and as
// HTML: one page, or two.
//
// [New] gathers what is on the sheet into a [Content], all of it words and numbers
// of a document. Two renderers show the same content. The PDF's is a layout of its
// own: text is measured and placed, in steps that shrink until all of it fits on
// the pages ([ErrPage] if it does not even so), and only then drawn, so that
// nothing is ever cut off and what was placed can be checked. The HTML takes sizes
// and columns from that layout and leaves the lines to the browser.
//
// Lengths on paper are in mm, from the upper left corner of the page down and to
// the right; sizes of letters in points.
package sheet
