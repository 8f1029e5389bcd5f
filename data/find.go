package data

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// names says where each normalised name stands in its list.
type names struct {
	species, woods, stations map[string]int
}

// FindSpecies returns the species of a name, Latin name or alias. Case,
// apostrophes, hyphens and spacing do not matter.
func (s *Set) FindSpecies(name string) (*Species, bool) {
	i, ok := lookup(s.index.species, name, len(s.Species), s.speciesCalls)
	if !ok {
		return nil, false
	}
	return &s.Species[i], true
}

// FindStrain returns the strain class of a name or alias; "" is the first.
// A species that is only received has none.
func (s *Species) FindStrain(name string) (*Strain, bool) {
	if len(s.Strains) > 0 && name == "" {
		return &s.Strains[0], true
	}
	i, ok := lookup(nil, name, len(s.Strains), func(i int) []string { return s.Strains[i].calls() })
	if !ok {
		return nil, false
	}
	return &s.Strains[i], true
}

// FindWood returns the wood of a name, Latin name or alias.
func (s *Set) FindWood(name string) (*Wood, bool) {
	i, ok := lookup(s.index.woods, name, len(s.Woods), s.woodCalls)
	if !ok {
		return nil, false
	}
	return &s.Woods[i], true
}

// FindStation returns the station of a key, name or alias.
func (s *Set) FindStation(keyOrName string) (*Station, bool) {
	i, ok := lookup(s.index.stations, keyOrName, len(s.Stations), s.stationCalls)
	if !ok {
		return nil, false
	}
	return &s.Stations[i], true
}

// FindRegion returns the region of a key.
func (s *Set) FindRegion(key string) (*Region, bool) {
	for i := range s.Regions {
		if s.Regions[i].Key == key {
			return &s.Regions[i], true
		}
	}
	return nil, false
}

// SpeciesNames lists the names of all species, without aliases.
func (s *Set) SpeciesNames() []string {
	return list(s.Species, func(x *Species) string { return x.Name })
}

// StrainNames lists the strain classes of a species.
func (s *Species) StrainNames() []string {
	return list(s.Strains, func(x *Strain) string { return x.Name })
}

// WoodNames lists the names of all woods, without aliases.
func (s *Set) WoodNames() []string { return list(s.Woods, func(x *Wood) string { return x.Name }) }

// StationKeys lists the keys of all stations.
func (s *Set) StationKeys() []string {
	return list(s.Stations, func(x *Station) string { return x.Key })
}

func list[T any](all []T, name func(*T) string) []string {
	out := make([]string, len(all))
	for i := range all {
		out[i] = name(&all[i])
	}
	return out
}

func (s *Set) speciesCalls(i int) []string { return s.Species[i].calls() }
func (s *Set) woodCalls(i int) []string    { return s.Woods[i].calls() }
func (s *Set) stationCalls(i int) []string { return s.Stations[i].calls() }

func (s *Species) calls() []string { return append([]string{s.Name, s.Latin}, s.Aliases...) }
func (s *Strain) calls() []string  { return append([]string{s.Name}, s.Names...) }
func (s *Station) calls() []string { return append([]string{s.Key, s.Name}, s.Aliases...) }

// calls leaves out the Latin name of a genus mean, which is that of its
// species too.
func (w *Wood) calls() []string {
	if w.Genus {
		return append([]string{w.Name}, w.Aliases...)
	}
	return append([]string{w.Name, w.Latin}, w.Aliases...)
}

// lookup finds the place of a name, first in the index, then by going through
// the list, so that a Set put together by hand works too.
func lookup(index map[string]int, name string, n int, calls func(int) []string) (int, bool) {
	want := plain(name)
	if want == "" {
		return 0, false
	}
	if i, ok := index[want]; ok && i < n {
		return i, true
	}
	for i := range n {
		for _, c := range calls(i) {
			if plain(c) == want {
				return i, true
			}
		}
	}
	return 0, false
}

// plain brings a name to the form in which names are compared: lower case,
// apostrophes of all kinds and dots gone, one space for hyphens, underscores
// and runs of blanks; a letter and its mark are one sign.
func plain(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFC.String(name) {
		switch {
		case strings.ContainsRune("'’‘ʼ`´.", r):
		case r == '-' || r == '‑' || r == '_' || unicode.IsSpace(r):
			gap = b.Len() > 0
		default:
			if gap {
				b.WriteByte(' ')
				gap = false
			}
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// Nearest returns the entry of among that is nearest to word, for "did you
// mean". At most about a third of the word may be wrong (a wrong, missing or
// additional letter, or two that changed places, counts one); the first wins
// a tie. ok is false where nothing is that near.
func Nearest(word string, among []string) (nearest string, ok bool) {
	w := []rune(plain(word))
	if len(w) == 0 || len(w) > longestWord {
		return "", false
	}
	best := (len(w)+2)/3 + 1
	for _, c := range among {
		r := []rune(plain(c))
		if len(r)-len(w) >= best || len(w)-len(r) >= best {
			continue // as many letters at least are wrong
		}
		if d := distance(w, r); d < best {
			best, nearest, ok = d, c, true
		}
	}
	return nearest, ok
}

// longestWord is the number of letters from which a word is no name that was
// mistyped: comparing takes time by the square of it.
const longestWord = 100

// distance is the optimal string alignment distance: insertions, deletions,
// substitutions and transpositions of neighbours, each part of a word edited
// at most once.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
