package yard

import (
	"fmt"
	"math"
	"strings"
)

// The books say what became of everything: what was picked, the logs, the
// dried goods and the bottles. Each book is a function of the State, gives its
// terms, and has a Balance that adds them up anew; an error is a fault of the
// program or of a term that was left out, and prints all of them.

// A period is the days from From to To, both included; zero leaves a side
// open. What is known only vaguely counts on its middle day.
type period struct{ from, to Date }

func (p period) has(w When) bool {
	d := w.Mid()
	return (p.from == 0 || d >= p.from) && (p.to == 0 || d <= p.to)
}

// nearlyNothing is the difference up to which a book balances, as a share of
// the largest term: sums of decimal fractions differ in their last digits.
const nearlyNothing = 1e-9

// A posting is one term of a book.
type posting struct {
	name   string
	amount float64
}

// balance compares what should be left with what is: whole less the parts.
// The error prints every term, in unit.
func balance(book, unit string, in []posting, out []posting) error {
	sum, most := 0.0, 1.0
	for _, p := range in {
		sum += p.amount
		most = max(most, math.Abs(p.amount))
	}
	for _, p := range out {
		sum -= p.amount
		most = max(most, math.Abs(p.amount))
	}
	if math.Abs(sum) <= nearlyNothing*most {
		return nil
	}
	return fmt.Errorf("the book of %s is out by %s %s: %s = %s", book, decimal(toMicro(sum)), unit, inTerms(in), inTerms(out))
}

// inTerms are the terms that are not zero, with plus between them.
func inTerms(list []posting) string {
	var b strings.Builder
	for _, p := range list {
		if p.amount == 0 {
			continue
		}
		switch {
		case b.Len() > 0 && p.amount < 0:
			b.WriteString(" - ")
		case b.Len() > 0:
			b.WriteString(" + ")
		case p.amount < 0:
			b.WriteString("-")
		}
		fmt.Fprintf(&b, "%s %s", p.name, decimal(toMicro(math.Abs(p.amount))))
	}
	if b.Len() == 0 {
		return "0"
	}
	return b.String()
}

// toMicro drops the digits that come of adding decimal fractions.
func toMicro(v float64) float64 {
	const digits = 1e6
	return math.Round(v*digits) / digits
}

// bookOf names a book and what it is kept of.
func bookOf(book, of string) string {
	if of == "" {
		return book
	}
	return book + ", " + of
}
