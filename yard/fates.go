package yard

// corrections are the corrections among some entries, while they are settled
// (FORMAT.md, Corrections).
type corrections struct {
	of      map[*Entry][]*Entry // corrections of an entry, but for those in a circle; of one gone astray, too
	targets map[*Entry]*Entry   // the entry that a correction replaces
}

// fate is what became of an entry by its corrections and theirs: the last of
// them stands for it. Where last is a correction that voids, nothing counts.
type fate struct {
	last  *Entry // the entry itself where nothing replaces it
	taken bool   // a correction that was voided: what it replaced stands again
}

// fates finds for every entry that is replaced the correction that took its
// place.
func (c corrections) fates(entries []*Entry) (replaced map[*Entry]*Entry) {
	replaced = make(map[*Entry]*Entry, len(c.of))
	known := make(map[*Entry]fate, len(c.of))
	for _, e := range entries {
		if len(c.of[e]) > 0 {
			c.fateOf(e, known, replaced)
		}
	}
	return replaced
}

// fateOf follows every branch of an entry's corrections to its end. Of several
// branches the one counts whose end was written last; the ends of the others
// are replaced by it, too.
func (c corrections) fateOf(e *Entry, known map[*Entry]fate, replaced map[*Entry]*Entry) fate {
	if f, ok := known[e]; ok {
		return f
	}
	var by, last *Entry
	var ends []*Entry
	for _, x := range c.of[e] {
		f := c.fateOf(x, known, replaced)
		if f.taken {
			continue
		}
		ends = append(ends, f.last)
		if last == nil || byWriting(f.last, last) > 0 {
			by, last = x, f.last
		}
	}
	f := fate{last: e}
	if by != nil {
		replaced[e] = by
		for _, end := range ends {
			if end != last {
				replaced[end] = by
			}
		}
		_, corrects := e.Event.(*Corrected)
		f = fate{last: last, taken: corrects && last.Event.(*Corrected).Void}
	}
	known[e] = f
	return f
}

// keepPlaces lets a correction that leaves the day as it was take the place of
// what it replaces among the entries of that day: of a chain, of the first
// that was of this day (FORMAT.md, Order of entries).
func (c corrections) keepPlaces(entries []*Entry) {
	for _, e := range entries {
		e.inPlaceOf = nil
		n := 0
		for at := c.targets[e]; at != nil && n < mostCorrected; at = c.targets[at] {
			if at.On.From == e.On.From {
				e.inPlaceOf = at
			}
			n++
		}
	}
}

// ofLeft finds the corrections that replace, directly or through others, an
// entry that is left out for good.
func (c corrections) ofLeft(entries []*Entry, left func() onPurpose) map[*Entry]bool {
	var ids onPurpose
	out := map[*Entry]bool{}
	for _, e := range entries {
		first := e
		for n := 0; c.targets[first] != nil && n < mostCorrected; n++ {
			first = c.targets[first]
		}
		x, ok := first.Event.(*Corrected)
		if !ok || c.targets[first] != nil || left == nil {
			continue
		}
		if ids == nil {
			ids = left()
		}
		out[e] = ids.names(x.Replaces)
	}
	return out
}
