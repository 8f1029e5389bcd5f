package yard

import (
	"math"
	"strings"
)

// The numbers after an archive was made a folder of begin at a full hundred, at
// least so many above the highest in it.
const (
	renumberGap  = 500
	renumberFull = 100
)

// Renumber lets the numbers of every writer go on at a gap once a folder is made
// of the archive: what was written after it, on a disk that turns up again, has
// other identifiers then (FORMAT.md, The archive).
func (a *Archive) Renumber() {
	var l last
	if err := readOwn(InMemory(map[string]string{lastFile: string(a.files[lastFile])}), lastFile, &l); err != nil {
		l = last{}
	}
	if l.Numbers == nil {
		l.Numbers = map[string]int{}
	}
	for name, b := range a.files {
		if name != JournalFile && !strings.HasPrefix(name, ownFolder+"/journal-") {
			continue
		}
		for id := range statedIn(b) {
			l.number(id)
		}
	}
	if len(l.Numbers) == 0 {
		return
	}
	for w, n := range l.Numbers {
		if n > math.MaxInt-renumberGap-renumberFull {
			continue // nobody wrote as many
		}
		l.Numbers[w] = (n + renumberGap + renumberFull - 1) / renumberFull * renumberFull
	}
	a.files[lastFile] = []byte(l.text())
}
