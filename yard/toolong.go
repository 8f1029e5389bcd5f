package yard

import (
	"fmt"
	"maps"
	"slices"
)

// keepElsewhere is the way out where somebody writes a book into an entry.
const keepElsewhere = "write less, and keep the rest in a file of its own, such as notes.txt in the folder"

// tooLong points at values that are too long for an entry, by their keys.
func tooLong(values map[string]string) (problems []Problem) {
	for _, key := range slices.Sorted(maps.Keys(values)) {
		if n := len(values[key]); n > longestValue {
			problems = append(problems, Problem{Grade: Aside, Text: fmt.Sprintf("%s: %d KB are more than the %d KB that fit there", clippedName(key), (n-1)>>10+1, longestValue>>10), Remedy: keepElsewhere})
		}
	}
	return problems
}

// fitsEntry refuses a text that could not be read again as one entry.
func fitsEntry(text string) error {
	if len(text) <= longestEntry {
		return nil
	}
	return mistake{fmt.Sprintf("%d KB are more than the %d KB that one entry holds", (len(text)-1)>>10+1, longestEntry>>10), keepElsewhere}
}
