package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// A balancer is the terms of one book.
type balancer interface {
	Balance() error
	String() string
}

// books are all books of a yard. That of the fresh mushrooms has what was not
// written down for its rest, and so always adds up: what it is made of is held
// against the entries by wrongBooks.
func (s *State) books() (all []balancer) {
	for _, t := range append(s.FreshBook(0, 0), s.FreshTermsOf("", 0, 0)) {
		all = append(all, t)
	}
	for _, t := range s.FreshYears() {
		all = append(all, t)
	}
	for _, t := range append(s.LogBook(), s.AllLogs()) {
		all = append(all, t)
	}
	for _, t := range append(append(s.DryBook(), s.DryBookByLot()...), s.DryTermsOf("", "", "")) {
		all = append(all, t)
	}
	for _, t := range s.BottleBook() {
		all = append(all, t)
	}
	return all
}

// programFault is the way out where a book does not add up: no entry can be
// the reason.
const programFault = "the entries are as you wrote them, and safe; this is a fault of the program: please report it with this line"

// wrongBooks adds up every book, and then holds what each entry says against
// what the books have of it: an amount that an entry says stands in its book
// once, and a book has nothing that no entry says. Either is a fault of the
// program, and printed with all terms of the book.
func wrongBooks(s *State, _ *data.Set) (out []Problem) {
	for _, b := range s.books() {
		if err := b.Balance(); err != nil {
			out = append(out, Problem{File: JournalFile, Grade: Broken, Text: err.Error(), Remedy: programFault})
		}
	}
	if t := s.AllLogs(); t.MovedIn != t.MovedOut {
		out = append(out, Problem{File: JournalFile, Grade: Broken, Remedy: programFault,
			Text: fmt.Sprintf("the book of logs is out by %d logs that were moved: %s", t.MovedIn-t.MovedOut, t)})
	}
	return append(out, wrongEntries(s)...)
}

// A bookTerm is one term of one kind of book.
type bookTerm struct{ book, how string }

// The kinds of books, and their units.
const (
	freshBook  = "fresh mushrooms"
	logBook    = "logs"
	dryBook    = "dried goods"
	bottleBook = "bottles"
)

var bookUnits = map[string]string{freshBook: "kg", logBook: "logs", dryBook: "g", bottleBook: "bottles"}

// A booking is what the books have, or should have, of an entry.
type booking map[bookTerm]float64

func (b booking) add(book, how string, amount float64) {
	if amount != 0 {
		b[bookTerm{book, how}] += amount
	}
}

// booked are the bookings of each entry; nil is what no entry stands for.
func (s *State) booked() map[*Entry]booking {
	all := map[*Entry]booking{}
	add := func(e *Entry, book, how string, amount float64) {
		if all[e] == nil {
			all[e] = booking{}
		}
		all[e].add(book, how, amount)
	}
	for _, m := range s.FreshMoves() {
		add(m.Entry, freshBook, m.How, m.KG.Mid())
	}
	for _, p := range s.Piles {
		for _, m := range p.LogMoves {
			add(m.Entry, logBook, m.How, float64(max(m.Logs, -m.Logs)))
		}
	}
	for _, m := range s.DryMoves {
		add(m.Entry, dryBook, m.How, max(m.G, -m.G))
	}
	for _, m := range s.BottleMoves {
		add(m.Entry, bottleBook, m.How, float64(max(m.Count, -m.Count)))
	}
	return all
}

// settling are terms that stand for what the yard works out, and no entry says.
var settling = []bookTerm{
	{logBook, LogUnexplained}, {logBook, LogMovedIn}, {logBook, LogMovedOut},
	{dryBook, DryUnexplained}, {dryBook, DryGround}, {bottleBook, BottlesUnexplained},
}

// wrongEntries are the entries of which the books do not have what they say.
func wrongEntries(s *State) (out []Problem) {
	all := s.booked()
	aside := map[*Entry]bool{}
	for _, e := range s.Sort {
		aside[e] = true
	}
	for _, e := range s.Entries {
		has := all[e]
		says, known := s.saysForBooks(e, has)
		delete(all, e)
		if !known {
			continue
		}
		terms := says.terms(has)
		for _, t := range terms {
			want, got := says[t], has[t]
			same := max(want-got, got-want) <= nearlyNothing*max(1, want, got)
			if same || want == 0 && slices.Contains(settling, t) || got == 0 && aside[e] {
				continue
			}
			p := e.odd("", fmt.Sprintf("the book of %s has %s %s %s of this entry, which says %s: %s", t.book,
				decimal(toMicro(got)), bookUnits[t.book], t.how, decimal(toMicro(want)), s.bookLine(t.book)), programFault)
			p.Grade = Broken
			out = append(out, p)
		}
	}
	for e, has := range all {
		if len(has) > 0 {
			out = append(out, Problem{File: JournalFile, Line: e.lineOrNone(), Grade: Broken, Remedy: programFault,
				Text: "the books have what no entry of the journal says: " + has.words()})
		}
	}
	return out
}

// words are the terms of a booking, each with its book.
func (b booking) words() string {
	var out []string
	for _, t := range b.terms(nil) {
		out = append(out, fmt.Sprintf("%s %s %s of %s", t.how, decimal(toMicro(b[t])), bookUnits[t.book], t.book))
	}
	return strings.Join(out, ", ")
}

func (e *Entry) lineOrNone() int {
	if e == nil {
		return 0
	}
	return e.Line
}

// terms are those of either, in order.
func (b booking) terms(o booking) (out []bookTerm) {
	for _, m := range []booking{b, o} {
		for t := range m {
			if !slices.Contains(out, t) {
				out = append(out, t)
			}
		}
	}
	slices.SortFunc(out, func(a, b bookTerm) int { return cmp.Or(cmp.Compare(a.book, b.book), cmp.Compare(a.how, b.how)) })
	return out
}

// bookLine is a book of the whole yard with all its terms.
func (s *State) bookLine(book string) string {
	switch book {
	case freshBook:
		return s.FreshTermsOf("", 0, 0).String()
	case logBook:
		return s.AllLogs().String()
	case dryBook:
		return s.DryTermsOf("", "", "").String()
	}
	var all BottleTerms
	for _, m := range s.BottleMoves {
		all.add(m)
	}
	for _, b := range s.Bottles {
		all.Left += b.count()
	}
	return all.String()
}
