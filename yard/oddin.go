package yard

import (
	"io/fs"
	"slices"

	"hodaba/data"
)

// mostReplayed is the size of a journal in bytes up to which what is recorded is
// replayed at once, so that what is odd is said while its writer stands there: some
// 3000 entries, which take about a tenth of a second. Recording into a longer one
// costs no more than writing; then verify says it.
const mostReplayed = 512 << 10

// lookedAt are the checks that need nothing but what was replayed.
var lookedAt = []func(*State, *data.Set) []Problem{oddAmounts, oddDrier, oddLiquids, oddOrder, oddTwice, oddLate, oddOfPiles, oddBrews}

// OddIn is what verify would find odd with entries that were just recorded, and
// whether they are kept in the tray "to sort". The weather is left out, but for
// a soak in the frost. It is nothing where the journal is too long to be read
// each time.
func (f *Folder) OddIn(ids ...string) []Problem {
	if !f.isShort(JournalFile) {
		return nil
	}
	standing := settle(f.journal().entries, f.left).standing
	s := &State{AsOf: f.today, Config: f.config, Recipes: f.recipes}
	found := tooEarly(s, replay(s, knownOn(standing, f.today), f.data))
	for _, find := range lookedAt {
		found = append(found, find(s, f.data)...)
	}
	if slices.ContainsFunc(s.Entries, func(e *Entry) bool { return e.Kind == soakedKind.Name && slices.Contains(ids, e.ID) }) && f.isShort(WeatherFile) {
		s.Weather = f.weather().weather
		found = append(found, oddFrost(s, f.data)...)
	}
	var odd []Problem
	for _, p := range found {
		if p.Grade <= Aside && slices.Contains(ids, p.Entry) && !slices.Contains(odd, p) {
			odd = append(odd, p)
		}
	}
	return sorted(odd)
}

// isShort reports whether a file may be read each time something is recorded:
// one that is not there may.
func (f *Folder) isShort(name string) bool {
	info, err := fs.Stat(f.files, name)
	return err == nil && info.Size() <= mostReplayed || err != nil && name != JournalFile
}
