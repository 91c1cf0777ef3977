// Package guide turns one Markdown guide into a finished guide: its blocks
// are read and computed, its tables filled, its figures in prose set.
//
// A finished guide is a pure function of its text, of the methods it names
// and of the edition. Nothing here knows another guide.
//
// Reading goes in this order: goldmark parses the text; the docket and the
// blocks are found in the tree; each block is read line by line, its values
// by the method's own inputs; the values of every point are checked against
// one another; then the points are computed; last, every <figure:…> in the
// prose takes the figure that its block named, and HTML, which a guide does
// not hold, is told. A block in which a fault stands gives no table, and
// figures that name it are passed over in silence, for they only follow.
package guide
