package forecast

import (
	"hodaba/yard"
)

// heldSoak are soaks that the grower put off.
type heldSoak struct {
	pile        *yard.Pile // nil: all
	part        int        // or Whole
	from, until yard.Date  // it holds from the first to the day before the last
}

// heldSoaks are the soaks put off; a task that names nothing holds nothing.
func (r *run) heldSoaks() (list []heldSoak) {
	for _, o := range r.state.PutOff {
		t, ok := r.state.SoakTask(o.Task)
		if !ok {
			continue
		}
		h := heldSoak{pile: t.Pile, part: Whole, from: o.On.From, until: o.Until.From}
		if t.Part != "" {
			if h.part = partOf(t.Part); h.part == Whole {
				continue
			}
		}
		list = append(list, h)
	}
	return list
}

// allHeld is the day until which all soaks are put off on a day; zero where
// they are not.
func (b *rota) allHeld(day yard.Date) (until yard.Date) {
	for _, h := range b.held {
		if h.pile == nil && h.from <= day && day < h.until {
			until = max(until, h.until)
		}
	}
	return until
}

// heldFor is the day until which a part is put off on a day; zero where it is
// not.
func (b *rota) heldFor(c *candidate, day yard.Date) (until yard.Date) {
	for _, h := range b.held {
		if h.pile == c.t.pile && (h.part == Whole || h.part == c.part) && h.from <= day && day < h.until {
			until = max(until, h.until)
		}
	}
	return until
}
