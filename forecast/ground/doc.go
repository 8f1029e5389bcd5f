// Package ground takes the weather of the air to where the mycelium lives:
// into a log in shade, and into a bed of buried logs.
//
// A log is a cylinder that exchanges warmth with the air at its surface; a
// bed lies in soil that conducts. Both turn a day of air into a mean and a
// half-range of the wood's temperature. Shade and exposure are those of a
// Place.
package ground
