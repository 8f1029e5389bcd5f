// Package forecast joins the steps from weather to tincture for a yard.
//
// Run draws the weather of past and future once per draw, sums growing days
// and lists triggers once per draw for each strain at each place, and then
// goes pile by pile through all draws into tallies. Only the dried stock is
// kept by draw, species and day, because batches need several species at
// once. The same Input gives the same Result for any number of workers, and
// adding a pile changes no other.
package forecast
