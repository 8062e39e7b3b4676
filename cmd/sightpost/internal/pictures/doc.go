// Package pictures shows how to measure the entries of a case and a kit: a person, chair,
// screen or mount of invented size, not to scale, with one dimension as an arrow. In goes a
// row of the table, out comes a small SVG drawing.
//
// All pictures are on one sheet, pictures.svg: an element for each, with the name of its entry
// as its id, what it shows in words as its description, and lines and outlines of a few
// classes. To add one, copy the element of one that is like it and change what is drawn, with
// an editor of drawings or by hand; a test names every entry that lacks one.
package pictures
