// Package draft changes a case file entry by entry and leaves everything else in it
// as it is: comments, order, the way numbers are written. The text is all there
// is; a draft may hold entries that make no sense yet, because someone is still
// writing them.
//
// Entries are called by their dotted path, list entries by their number from 1, as
// package casefile calls them: "postures[2].head.flexion".
package draft
