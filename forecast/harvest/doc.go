// Package harvest turns flushes into kilograms: the dry wood of a log, the
// crop it gives over its life, how flushes take from it, and what is left
// after drying.
//
// A log's crop is a stock. It is drawn once, flushes take from it, and over
// an unlimited time they take all of it: what a dry year leaves carries on,
// what comes early is gone later.
//
// What is on record teaches: Factors by which strains, piles and years differ
// are learned together from crops that were weighed, and from years in which
// nothing came; a Beta of the logs that never take from those that did not.
package harvest
