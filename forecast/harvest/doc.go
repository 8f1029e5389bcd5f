// Package harvest turns flushes into kilograms: the dry wood of a log, the
// crop it gives over its life, how flushes take from it, and what is left
// after drying.
//
// A log's crop is a stock. It is drawn once, flushes take from it, and over
// an unlimited time they take all of it: what a dry year leaves carries on,
// what comes early is gone later.
package harvest
