// Package season plans the next season's inoculation: how many logs of what,
// so that what is wanted of coming years is there as surely as the grower asks.
//
// It works in four steps. What is wanted becomes targets, each with rows that
// must hold: dried grams of a species by a year, kilograms fresh in a month.
// What could be inoculated becomes candidates: a strain on a wood with a form
// of spawn in a month; a pile of each is walked on the same draws as the piles
// that stand, so that a good year is good for both. The whole numbers of logs
// that meet every target in enough of the draws at least cost, within logs,
// hours, room, tank and drier, are the plan (package linear). Then the plan is
// planted: piles of those sizes are walked on draws that had no part in finding
// it, and what is said of its chances comes from there.
package season
