// Package chance holds what every step of the forecast counts with: weighted
// tallies that turn draws into chances and quantiles, and streams of random
// numbers that belong to a draw, a purpose and a name, so that adding a pile
// shifts nothing of another.
//
// It imports nothing of the project.
package chance
