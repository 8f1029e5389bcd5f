// Package score says how right forecasts were. It takes past forecasts again
// with what was known when they would have been made, an entry written later
// being unknown then, and sets them against what was seen since: looks at log
// ends, the first harvest between two visits, kilograms weighed in a year.
// Nobody sees the day on which a pile is run through, so that is not scored.
//
// The scores are proper: nobody does better by saying anything but what he
// believes (Gneiting & Raftery 2007, Strictly proper scoring rules,
// prediction, and estimation, Journal of the American Statistical Association
// 102:359–378). Each is set beside that of two simple forecasters: the
// trade's rule of thumb, and thermal time on monthly normals.
//
// [Replay] gives a [Report]; [Pool] puts those of several yards together.
// [Wrong] picks out where the forecast of half a year ago has missed, and why.
// Nothing here reads a clock or a file.
package score
