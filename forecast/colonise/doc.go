// Package colonise says how far the mycelium is: what a log needs in growing
// days to be run through, and from it the share of a pile that is through on
// a day.
//
// A log needs
//
//	ln R = μ(strain) + ln m(diameter) + ln m(spawn form) + ln m(wood) + u + v + s + w + e
//
// u is common to the yard, v to the species in it, s to the spawn lot, w to
// the pile, e is the log's own; all normal about zero. μ and the sum of the
// variances are solved from the trade's window and stand in
// data/requirement.toml; how the variance splits is judgement.
package colonise
