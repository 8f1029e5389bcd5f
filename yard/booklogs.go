package yard

import (
	"cmp"
	"slices"
)

// How the number of logs of a pile changes.
const (
	LogBegun       = "begun"    // inoculated, buried from elsewhere, or counted where no number was ever written
	LogArrived     = "arrived"  // came ready-inoculated
	LogMovedIn     = "moved in" // split off or buried from another pile of the yard
	LogLost        = "lost"
	LogRetired     = "retired"
	LogMovedOut    = "moved" // split off or buried, to another pile of the yard
	LogUnexplained = "unexplained"
)

// LogMove is one change of the number of logs of a pile: came, above zero;
// went, below.
type LogMove struct {
	On    When
	How   string // LogBegun, LogArrived, …
	Logs  int
	Entry *Entry
}

// move notes a change of the number of logs in the book; the number itself is
// changed by the caller.
func (p *Pile) move(how string, logs int, e *Entry) {
	if logs != 0 {
		p.LogMoves = append(p.LogMoves, LogMove{e.On, how, logs, e})
	}
}

// counted reports whether a number of logs ever came to the pile.
func (p *Pile) counted() bool {
	return slices.ContainsFunc(p.LogMoves, func(m LogMove) bool { return m.Logs > 0 && m.How != LogUnexplained })
}

// LogTerms is the book of the logs of a pile, or of all:
//
//	Begun + Arrived + MovedIn + Unexplained = Standing + Lost + Retired + MovedOut
type LogTerms struct {
	Pile                    string // "" for all together
	Known                   bool   // false: the number of some pile was never written
	Begun, Arrived, MovedIn int
	Lost, Retired, MovedOut int
	Unexplained             int       // above zero: more were there than the record had; below: fewer
	Differences             []LogMove // each unexplained difference, with its day
	Standing                int
}

// LogBook is the book of the logs of each pile, in the order of s.Piles.
func (s *State) LogBook() []LogTerms {
	out := make([]LogTerms, len(s.Piles))
	for i, p := range s.Piles {
		out[i] = p.LogTerms()
	}
	return out
}

// AllLogs is the book of all logs of the yard together; what was moved within
// it came in and went out.
func (s *State) AllLogs() LogTerms {
	all := LogTerms{Known: true}
	for _, t := range s.LogBook() {
		all.Known = all.Known && t.Known
		all.Begun += t.Begun
		all.Arrived += t.Arrived
		all.MovedIn += t.MovedIn
		all.Lost += t.Lost
		all.Retired += t.Retired
		all.MovedOut += t.MovedOut
		all.Unexplained += t.Unexplained
		all.Differences = append(all.Differences, t.Differences...)
		all.Standing += t.Standing
	}
	slices.SortStableFunc(all.Differences, func(a, b LogMove) int { return cmp.Compare(a.On.From, b.On.From) })
	return all
}

// LogTerms is the book of the pile's logs.
func (p *Pile) LogTerms() LogTerms {
	t := LogTerms{Pile: p.Name, Known: p.LogsKnown, Standing: p.Logs}
	for _, m := range p.LogMoves {
		switch m.How {
		case LogBegun:
			t.Begun += m.Logs
		case LogArrived:
			t.Arrived += m.Logs
		case LogMovedIn:
			t.MovedIn += m.Logs
		case LogLost:
			t.Lost -= m.Logs
		case LogRetired:
			t.Retired -= m.Logs
		case LogMovedOut:
			t.MovedOut -= m.Logs
		case LogUnexplained:
			t.Unexplained += m.Logs
			t.Differences = append(t.Differences, m)
		}
	}
	return t
}

func (t LogTerms) sides() (in, out []posting) {
	return []posting{{"begun", float64(t.Begun)}, {"arrived", float64(t.Arrived)}, {"moved in", float64(t.MovedIn)}, {"unexplained", float64(t.Unexplained)}},
		[]posting{{"standing", float64(t.Standing)}, {"lost", float64(t.Lost)}, {"retired", float64(t.Retired)}, {"moved out", float64(t.MovedOut)}}
}

// Balance is an error if logs came of nothing or went to nothing.
func (t LogTerms) Balance() error {
	in, out := t.sides()
	return balance(bookOf("logs", t.Pile), "logs", in, out)
}

// String is the book in one line: "begun 40 = standing 37 + lost 3".
func (t LogTerms) String() string {
	in, out := t.sides()
	return inTerms(in) + " = " + inTerms(out)
}
