// Package growth turns the temperature of the wood into growing days: a day
// at the temperature at which a species' mycelium grows fastest is one, a
// colder or warmer day is less, a day outside its limits is none.
package growth
