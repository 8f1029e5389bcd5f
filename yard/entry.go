package yard

import "hodaba/data"

// Moment is a local date and time as written, such as 2025-04-12T18:02:00;
// "" where an entry written by hand leaves it out.
type Moment string

// Day is the civil day of m, or zero.
func (m Moment) Day() Date {
	if len(m) < 10 {
		return 0
	}
	d, err := ParseDate(string(m[:10]))
	if err != nil {
		return 0
	}
	return d
}

// Entry is one table of the journal.
type Entry struct {
	ID      string // writer and number; for entries by hand six signs of the digest of what they say
	Kind    string // the table's name: "inoculated", "harvested", …
	Line    int    // of the table header in journal.toml
	On      When
	Written Moment
	By      string
	Hours   float64
	People  int
	Note    string
	Place   string
	Text    string // the table as it stands in the file
	Event   Event
	// Replaced is the entry that corrects or voids this one, else nil.
	Replaced *Entry
	// Corrects is the entry that this one corrects or voids, nil where it is no
	// correction or there is no such entry.
	Corrects *Entry
	Astray   bool // a correction that replaces nothing, and does not count

	byText    string    // the name of an entry by hand by its exact text, which is one, too
	twins     []*Entry  // of one identifier, where it names several: Twins
	shared    string    // that identifier
	twin      string    // the own name beside it
	order     int       // place in the file, from 0
	turn      string    // when it was written, by the clock and the writer's numbers
	writer    string    // of the identifier, where the program wrote the entry
	number    int       // of the identifier
	inPlaceOf *Entry    // the entry whose place among those of its day a correction takes
	problems  []Problem // found while reading; moot once the entry is replaced
}

// Event is what an entry says. One kind of event is one file.
type Event interface {
	Kind() string
	// Apply changes the state by what happened. It never refuses what really
	// happened; what is odd comes back as problems.
	Apply(s *State, e *Entry, d *data.Set) []Problem
}

// Grade says how bad a Problem is.
type Grade int

// The grades, mildest first.
const (
	Odd    Grade = iota // stored and used, pointed at
	Aside               // an entry, or the key of it that is named, is set aside; everything else goes on
	Broken              // the folder cannot be used until it is mended
)

// Problem is something wrong or odd in the folder: where, what, and the way
// out.
type Problem struct {
	File   string // "journal.toml"
	Line   int    // 0 where no line can be named
	Entry  string // identifier, where there is one
	Grade  Grade
	Text   string // what is wrong
	Remedy string // what to write or do
	More   int    // how many more of its kind are not told
}
