package data

import "strings"

// The logs that an efficiency counts, and the wood that it is over.
const (
	PerInoculated = "inoculated" // all logs, those too that never take
	PerFruiting   = "fruiting"   // only logs that bear
	OverDry       = "dry"        // oven-dry wood
	OverGreen     = "green"      // freshly felled wood, without bark
)

// NoLogYield is what stands where nobody published anything.
const NoLogYield = "no log yield of this species is published"

// Wide returns the words that must stand wherever kilograms show that rest on
// no published log yield: a clause without its stop; "" where one is published.
func (y *Yield) Wide() string {
	switch {
	case !y.Unpublished:
		return ""
	case y.Caution != "":
		return y.Caution
	}
	return NoLogYield
}

// YieldOn is the efficiency of a yield on a wood: one published of it, else the
// species'. own reports the former.
func (s *Set) YieldOn(y *Yield, wood string) (on WoodYield, own bool) {
	for _, w := range y.Woods {
		for _, name := range w.Woods {
			if s.sameWood(name, wood) {
				return w, true
			}
		}
	}
	return WoodYield{Efficiency: y.Efficiency, Per: y.Per, Over: y.Over}, false
}

func (s *Set) sameWood(a, b string) bool {
	if a == "" || b == "" {
		return false
	}
	x, ok := s.FindWood(a)
	y, known := s.FindWood(b)
	return plain(a) == plain(b) || ok && known && x == y
}

// SuitsOn lists what sources say of a wood for a species: of the wood itself,
// else of its genus. Empty where none names it.
func (s *Set) SuitsOn(sp *Species, wood string) []Suit {
	w, known := s.FindWood(wood)
	of := func(is func(name string) bool) (found []Suit) {
		for _, suit := range sp.Suits {
			for _, name := range suit.Woods {
				if is(name) {
					found = append(found, suit)
					break
				}
			}
		}
		return found
	}
	found := of(func(name string) bool { return s.sameWood(name, wood) })
	if found != nil || !known {
		return found
	}
	return of(func(name string) bool {
		o, ok := s.FindWood(name)
		return ok && o.Genus && genusOf(o) != "" && strings.HasPrefix(w.Latin, genusOf(o)+" ")
	})
}

// genusOf is the genus of which a wood is the mean; "" for a part of one.
func genusOf(w *Wood) string {
	genus := strings.TrimSuffix(w.Latin, " spp.")
	if strings.Contains(genus, " ") {
		return ""
	}
	return genus
}
