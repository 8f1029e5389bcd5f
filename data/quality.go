package data

// says gives each quality the words that stand beside a value. The empty ones
// need none: the citation speaks for itself.
var says = map[Quality]string{
	Read:       "",
	Derived:    "",
	SecondHand: "second-hand",
	FromMemory: "from memory, not checked",
	Judgement:  "our judgement, no published source",
	Practised:  "common practice, no source",
}

// Says returns the words that must stand beside a value of this quality
// wherever a grower sees it, or "" where the source is enough.
func (q Quality) Says() string { return says[q] }

// Known reports whether q is one of the qualities above.
func (q Quality) Known() bool {
	_, ok := says[q]
	return ok
}

// Set reports whether the number was given at all.
func (n Number) Set() bool { return n != Number{} }

// Set reports whether the range was given at all.
func (r Range) Set() bool { return r != Range{} }
