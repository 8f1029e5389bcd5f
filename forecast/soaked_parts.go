package forecast

import (
	"cmp"
	"slices"
	"strings"

	"hodaba/yard"
)

// Whole is the part of a soak of all logs.
const Whole = -1

// PartName is the letter of a part on its tag.
func PartName(part int) string { return yard.PartLetter(part) }

const partLetters = yard.PartLetters

// partOf is the number of a part by its letter or the colour of its tag, or
// Whole.
func partOf(name string) int {
	if part, ok := yard.PartNumber(name); ok {
		return part
	}
	return Whole
}

// soakedSoFar are the soaks of a pile up to a day.
func soakedSoFar(p *yard.Pile, asOf yard.Date) []yard.Soaking {
	n := len(p.Soaked)
	for n > 0 && p.Soaked[n-1].On.From > asOf {
		n--
	}
	return p.Soaked[:n]
}

// someLogs reports whether a soak was of some logs of a pile, of no part that
// is named.
func someLogs(p *yard.Pile, s yard.Soaking) bool {
	return s.Part == "" && s.Logs > 0 && p.LogsKnown && s.Logs < p.Logs
}

// times is how often so many logs go into a pile's, to the nearest.
func times(p *yard.Pile, logs int) int { return (p.Logs + logs/2) / logs }

// partsNamed is into how many parts a pile goes by the parts that its soaks up
// to a day name: letters is what they need at least, kept what the logs of the
// last make; both 0 where none is named.
func partsNamed(p *yard.Pile, asOf yard.Date) (letters, kept int) {
	var names []string
	all := true
	for _, s := range soakedSoFar(p, asOf) {
		if s.Part == "" {
			continue
		}
		if name := cmp.Or(PartName(partOf(s.Part)), folded(s.Part)); !slices.Contains(names, name) {
			names = append(names, name)
		}
		letters = max(letters, partOf(s.Part)+1)
		if all = all && p.LogsKnown && s.Logs >= p.Logs; s.Logs > 0 && p.LogsKnown {
			kept = times(p, s.Logs)
		}
	}
	letters = max(letters, len(names))
	if letters == 1 && !all {
		letters = 2 // a part leaves another
	}
	return min(letters, len(partLetters)), min(max(kept, letters), len(partLetters))
}

// partsOnRecord is into how many parts the soaks of a pile up to a day divide
// it: as many as are named, else as the last soak of some of its logs makes; 1
// where it was only ever soaked as a whole.
func partsOnRecord(p *yard.Pile, asOf yard.Date) int {
	if _, kept := partsNamed(p, asOf); kept > 0 {
		return kept
	}
	for _, s := range slices.Backward(soakedSoFar(p, asOf)) {
		if someLogs(p, s) {
			return min(max(times(p, min(s.Logs, p.Logs-s.Logs)), 2), len(partLetters))
		}
	}
	return 1
}

// soakedParts are the parts, of so many, that each soak of a pile up to a day
// wetted; Whole alone where it was all. A name that is no letter is a part of
// its own. Some logs of no part that is named are as many parts as they make,
// and never all: those that are farthest from their other soaks.
func soakedParts(p *yard.Pile, parts int, asOf yard.Date) [][]int {
	past := soakedSoFar(p, asOf)
	out := make([][]int, len(past))
	byName := partsByName(past, parts)
	for i, s := range past {
		switch {
		case s.Part != "":
			out[i] = []int{byName[folded(s.Part)]}
		case !someLogs(p, s) || parts < 2:
			out[i] = []int{Whole}
		}
	}
	for i, s := range past {
		if out[i] == nil {
			n := min(max((s.Logs*parts+p.Logs/2)/p.Logs, 1), parts-1)
			out[i] = farthest(past, out, parts, s.On.Mid())[:n]
		}
	}
	return out
}

// partsByName numbers the parts that soaks name; those that are no letter take
// the letters that are free.
func partsByName(past []yard.Soaking, parts int) map[string]int {
	byName, taken := map[string]int{}, make([]bool, parts)
	for _, s := range past {
		if n := partOf(s.Part); n != Whole {
			byName[folded(s.Part)], taken[n%parts] = n%parts, true
		}
	}
	for _, s := range past {
		name := folded(s.Part)
		if _, known := byName[name]; known || name == "" {
			continue
		}
		byName[name] = max(slices.Index(taken, false), 0)
		taken[byName[name]] = true
	}
	return byName
}

// partFinder finds the number, of so many, of a part that is named on record;
// Whole for none.
func partFinder(p *yard.Pile, parts int, asOf yard.Date) func(name string) int {
	byName := partsByName(soakedSoFar(p, asOf), parts)
	return func(name string) int {
		if n, ok := byName[folded(name)]; ok {
			return n
		}
		if n := partOf(name); n != Whole {
			return n % parts
		}
		return Whole
	}
}

// farthest are all parts in the order of how many days lie between a day and
// their nearest soak, the most first.
func farthest(past []yard.Soaking, wetted [][]int, parts int, day yard.Date) []int {
	order, near := make([]int, parts), make([]yard.Date, parts)
	for part := range parts {
		order[part], near[part] = part, never
		for i, s := range past {
			if slices.Contains(wetted[i], part) {
				near[part] = min(near[part], max(s.On.Mid()-day, day-s.On.Mid()))
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(near[b] - near[a]) })
	return order
}

// wets reports whether a soak of these parts is one of a part.
func wets(parts []int, part int) bool {
	return slices.Contains(parts, Whole) || slices.Contains(parts, part)
}

// folded is a name as names are compared.
func folded(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }
