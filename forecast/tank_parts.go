package forecast

import (
	"hodaba/data"
	"hodaba/yard"
)

// TankPart is a part of a pile that goes into the tank by itself.
type TankPart struct {
	Part string // letter
	Logs int
}

// TankParts are the parts of the piles that go into the tank in parts in the
// year ahead, or did by the record, by the name of the pile. They are those of
// the tank book; a yard without one has those that its soaks name.
func TankParts(s *yard.State, d *data.Set) map[string][]TankPart {
	out := map[string][]TankPart{}
	for _, p := range s.Piles {
		if _, kept := partsNamed(p, s.AsOf); kept > 1 && p.LogsKnown {
			out[p.Name] = partsAlike(p.Logs, kept)
		}
	}
	r, err := prepare(Input{State: s, Data: d, Draws: 1, Years: 1, lean: true})
	if err != nil {
		return out // no weather is known, so there is no tank book
	}
	for _, l := range r.loads {
		for _, p := range l.Parts {
			if p.Of < 2 {
				delete(out, p.Pile)
				continue
			}
			if len(out[p.Pile]) != min(p.Of, len(partLetters)) {
				out[p.Pile] = partsAlike(s.Pile(p.Pile).Logs, p.Of)
			}
			if n := partOf(p.Part); n >= 0 && n < len(out[p.Pile]) {
				out[p.Pile][n].Logs = p.Logs
			}
		}
	}
	return out
}

// partsAlike divides logs as evenly as they go, in parts that have a letter.
func partsAlike(logs, parts int) []TankPart {
	out := make([]TankPart, min(parts, len(partLetters)))
	for k := range out {
		out[k] = TankPart{PartName(k), logs / parts}
		if k < logs%parts {
			out[k].Logs++
		}
	}
	return out
}
