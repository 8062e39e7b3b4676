// Package guide writes a page that shows how to describe a mount as a kit. In go the table
// of a kit, the pictures of its entries and one invented kit with every kind of part; out
// comes HTML that needs nothing else. Read guide.go first; guide.html has what the table
// does not say.
package guide
