package yard

// saysForBooks is what an entry says for the books, read from its text alone;
// known is false where how much it was depends on what the record had, as when
// all of a lot was used or a shelf was counted. has is what the books have of it.
func (s *State) saysForBooks(e *Entry, has booking) (b booking, known bool) {
	b = booking{}
	switch x := e.Event.(type) {
	case *Harvested:
		b.add(freshBook, "picked", x.Fresh.Mid())
	case *Gone:
		return b, x.books(b)
	case *Spoiled:
		return b, x.books(b, has)
	case *Loaded:
		b.add(freshBook, "dried", s.wentIn(x, e))
	case *Dried:
		if s.emptiedOf(e) == nil {
			b.add(freshBook, "dried", x.Fresh.Mid())
		}
		b.add(dryBook, DryIn, x.Dry.grams())
	case *Received:
		b.add(dryBook, DryIn, x.Dry.grams())
	case *Added:
		b.add(dryBook, DryUsed, x.Dry.grams())
	case *Macerated:
		return b, x.books(b, s, e)
	case *Bottled:
		b.add(bottleBook, BottlesIn, float64(countOfAll(x.Bottles)))
	case *Inoculated:
		if !x.Again {
			b.add(logBook, LogBegun, float64(max(0, x.Logs)))
		}
	case *Arrived:
		b.add(logBook, LogArrived, float64(max(0, x.Logs)))
	case *Lost:
		b.add(logBook, LogLost, float64(max(0, x.Logs)))
	case *Retired:
		b.add(logBook, LogRetired, float64(max(0, x.Logs)))
		return b, x.Logs >= 0
	case *Bought, *Counted, *Ground, *Buried:
		return b, false
	}
	return b, true
}

func countOfAll(bottles []BottleCount) (n int) {
	for _, c := range bottles {
		n += c.Count
	}
	return n
}

// books is what went, as written; what is the rest of what was taken along, and
// bottles of no lot that is named, are not told by the text alone.
func (x *Gone) books(b booking) (known bool) {
	b.add(freshBook, x.kind, x.Fresh.Mid())
	b.add(dryBook, x.kind, x.Dry.grams())
	n := countOfAll(x.Bottles)
	b.add(bottleBook, x.kind, float64(n))
	return len(b) > 0 && (n == 0 || x.Lot != "")
}

// books is what spoiled: its amount, in the one book that has something of it.
func (x *Spoiled) books(b, has booking) (known bool) {
	if x.Amount.High <= 0 || len(has) == 0 {
		return false // all of a lot; or nothing that the yard knows
	}
	kind := spoiledKind.Name
	switch {
	case has[bookTerm{freshBook, kind}] != 0:
		b.add(freshBook, kind, x.Amount.Mid())
	case has[bookTerm{dryBook, DrySpoiled}] != 0:
		b.add(dryBook, DrySpoiled, x.Amount.grams())
	default:
		b.add(bottleBook, DrySpoiled, float64(int(x.Amount.Mid())))
	}
	return true
}

// books is what went into a batch, where the entry lists it and begins the
// batch.
func (x *Macerated) books(b booking, s *State, e *Entry) (known bool) {
	for _, in := range x.Ingredients {
		b.add(dryBook, DryUsed, in.Dry.grams())
	}
	batch := s.batch(x.Batch)
	return x.Ingredients != nil && batch != nil && batch.On == e.On
}

// wentIn is what a load weighed: as written when it went in, else as said when
// it came out.
func (s *State) wentIn(x *Loaded, e *Entry) float64 {
	if x.Fresh.High > 0 {
		return x.Fresh.Mid()
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		if l.Entry != e {
			continue
		}
		for _, out := range l.Emptied {
			if o, ok := out.Event.(*Dried); ok && o.Fresh.High > 0 {
				return o.Fresh.Mid()
			}
		}
	}
	return 0
}

// emptiedOf is the load on record that an entry took out, else nil.
func (s *State) emptiedOf(e *Entry) *Load {
	for i := range s.Loads {
		for _, out := range s.Loads[i].Emptied {
			if out == e {
				return &s.Loads[i]
			}
		}
	}
	return nil
}
