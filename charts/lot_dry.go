package charts

import (
	"fmt"

	"hodaba/yard"
)

// dried tells of a lot of dried goods.
func (t *teller) dried() {
	left := 0.0
	for _, l := range t.s.Dry {
		if !sameLot(l.Lot, t.lot) {
			continue
		}
		t.is(l.Lot, "dried "+l.Species+", "+l.Form)
		t.dryCame(l)
		left += l.LeftG
		if l.LeftG > 0 {
			t.left = append(t.left, t.u.weighed(l.LeftG)+" of dried "+l.Species)
		}
	}
	if left < 0 {
		t.left = append(t.left, "nothing: "+t.u.weighed(-left)+" more was taken than came in")
	}
	for _, m := range t.s.DryMoves {
		if sameLot(m.Lot, t.lot) && m.G != 0 {
			t.dryMoved(m)
		}
	}
}

// dryCame is the step before a lot of dried goods.
func (t *teller) dryCame(l *yard.DryLot) {
	says := t.u.weighed(l.InG) + " of dried " + l.Species
	switch l.From {
	case "own":
		t.dryOut(l, says)
		return
	case "bought":
		return // said of the purchase
	case "counted", "":
		if l.InG == 0 {
			t.from(l.On, nil, says[len(t.u.weighed(0)+" of "):]+" was taken before any was written down")
			return
		}
		says += " stood on the shelf when it was counted"
	case "ground":
		says += " was ground"
		if l.Of != "" {
			says += " from lot " + l.Of
		}
	case "indoor":
		says += " came from indoors"
	case "gathered":
		says += " was gathered"
	default:
		says += " came as a " + l.From
	}
	if who := value(l.Entry, "who"); who != "" {
		says += ", " + who
	}
	if l.IdentifiedBy != "" {
		says += ", identified by " + l.IdentifiedBy
	}
	t.from(l.On, l.Entry, says)
}

// dryOut tells of goods that came out of the own drier, and of what went in.
func (t *teller) dryOut(l *yard.DryLot, says string) {
	says += " came out of the drier"
	known := false
	if load := value(l.Entry, "load"); load != "" {
		for i := range t.s.Loads {
			if in := &t.s.Loads[i]; sameLot(in.Name, load) && in.Species == l.Species {
				went := t.loadWords(in)
				if in.From != "" {
					went += ", from " + in.From
					known = true
				}
				t.from(in.On, in.Entry, went)
				break
			}
		}
	} else if fresh := value(l.Entry, "fresh"); fresh != "" {
		says += ", of " + fresh + " fresh"
	}
	t.from(l.On, l.Entry, says)
	for _, k := range t.s.Picks {
		known = known || sameLot(k.Lot, l.Lot)
	}
	if !known {
		t.story.From = append(t.story.From, LotLine{On: l.On, Says: "Of which picking it came was not written down."})
	}
}

// dryMoved tells of goods that left a lot, or were found in it.
func (t *teller) dryMoved(m yard.DryMove) {
	amount := t.u.weighed(max(m.G, -m.G))
	switch m.How {
	case yard.DryIn:
	case yard.DryUsed:
		t.to(m.On, m.Entry, amount+" went into batch "+t.batchOf(m.Entry))
	case yard.DryGround:
		if m.G < 0 {
			t.to(m.On, m.Entry, amount+" were ground to powder"+t.groundInto(m))
		}
	case yard.DryUnexplained:
		if m.G > 0 {
			t.from(m.On, m.Entry, amount+" more were there at a stock-take than the record had")
		} else {
			t.to(m.On, m.Entry, amount+" were missing at a stock-take")
		}
	default:
		t.to(m.On, m.Entry, amount+" "+wentWords(m.How, t.went(m.Entry).To))
	}
}

// groundInto names the lot of powder.
func (t *teller) groundInto(m yard.DryMove) string {
	for _, o := range t.s.DryMoves {
		if o.Entry == m.Entry && o.G > 0 && o.How == yard.DryGround && o.Species == m.Species {
			return fmt.Sprintf(", lot %s", o.Lot)
		}
	}
	return ""
}
