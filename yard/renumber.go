package yard

import (
	"bytes"
	"iter"
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
	memories := map[string]last{}
	highest := last{Numbers: map[string]int{}}
	files := InMemory(nil)
	files.files = a.files
	for name, b := range a.files {
		own, isOwn := strings.CutPrefix(name, ownFolder+"/")
		switch {
		case isOwn && lastForm.MatchString(own):
			var l last
			if readOwn(files, name, &l) != nil {
				continue
			}
			if memories[name] = l; !l.whole(b) {
				l.Digest = ""
				memories[name] = l
			}
			for w, n := range l.Numbers {
				highest.Numbers[w] = max(n, highest.Numbers[w])
			}
		case name == JournalFile, isOwn && copyForm.MatchString(own):
			for id := range identifiersIn(b) {
				highest.number(id)
			}
		}
	}
	if len(highest.Numbers) == 0 {
		return
	}
	for w, n := range highest.Numbers {
		if n <= mostNumber {
			highest.Numbers[w] = (n + renumberGap + renumberFull - 1) / renumberFull * renumberFull
		}
	}
	if len(memories) == 0 {
		memories[lastFile] = last{}
	}
	for name, l := range memories {
		l.Numbers = highest.Numbers
		a.files[name] = []byte(l.text())
	}
}

// identifiersIn are the identifiers that stand in a journal, found without
// reading its tables.
func identifiersIn(b []byte) iter.Seq[string] {
	return func(yield func(string) bool) {
		for line := range bytes.Lines(b) {
			rest, ok := bytes.CutPrefix(bytes.TrimLeft(line, " \t"), []byte("entry"))
			if !ok {
				continue
			}
			rest, ok = bytes.CutPrefix(bytes.TrimLeft(rest, " \t"), []byte("="))
			rest = bytes.TrimLeft(rest, " \t")
			if !ok || len(rest) == 0 {
				continue
			}
			id, _, closed := strings.Cut(string(rest[1:]), string(rest[0]))
			if closed && !yield(id) {
				return
			}
		}
	}
}
