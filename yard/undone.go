package yard

import (
	"cmp"
	"slices"
)

// LastBy is the entry written last of those that still count, of the writers
// that are asked for: kitchen of "kitchen-118". Voids are passed over, and what
// one of these writers replaced. It is nil where there is none.
//
// Of one writer the numbers tell which was last, wherever the entries stand;
// among writers the moment, and of one moment the place in the file.
func (f *Folder) LastBy(asked func(writer string) bool) *Entry {
	return lastBy(f.journal().entries, asked, func(e *Entry) bool { return e.Replaced == nil })
}

// Overruled is the entry of the writers that are asked for that was written
// last, behind LastBy, and no longer counts because somebody else corrected or
// voided it, as where two copies were merged; nil where there is none.
func (f *Folder) Overruled(asked func(writer string) bool) *Entry {
	return lastBy(f.journal().entries, asked, func(e *Entry) bool {
		if e.Replaced == nil {
			return true
		}
		w, _, ok := numbered(e.Stands().identifier())
		return !ok || !asked(w)
	}).overruled()
}

func (e *Entry) overruled() *Entry {
	if e == nil || e.Replaced == nil {
		return nil
	}
	return e
}

func lastBy(entries []*Entry, asked func(writer string) bool, may func(*Entry) bool) *Entry {
	best := map[string]*Entry{} // by writer
	var writers []string
	for _, e := range entries {
		w, n, ok := numbered(e.identifier())
		if !ok || !asked(w) || e.Voids() || !may(e) {
			continue
		}
		b := best[w]
		if b == nil {
			writers = append(writers, w)
		} else if _, m, _ := numbered(b.identifier()); cmp.Or(cmp.Compare(e.turn, b.turn), cmp.Compare(n, m), cmp.Compare(e.order, b.order)) < 0 {
			continue
		}
		best[w] = e
	}
	var last *Entry
	for _, w := range writers {
		if e := best[w]; last == nil || cmp.Or(cmp.Compare(e.turn, last.turn), cmp.Compare(e.order, last.order)) > 0 {
			last = e
		}
	}
	return last
}

// GoneBehind are the entries of the writers that are asked for that were
// recorded behind an entry, or at all where that is nil, and are not in the
// journal any more, not to be read there, or stand there without their
// identifier: At is that one then. The last of them comes last.
func (f *Folder) GoneBehind(e *Entry, asked func(writer string) bool) (gone []Behind, err error) {
	missing, nameless, err := f.vanished()
	if err != nil {
		return nil, err
	}
	for _, m := range missing {
		gone = append(gone, Behind{ID: m.ID, Kept: m.Text != "", Line: m.Line, written: m.written})
	}
	for id, x := range nameless {
		if x.Replaced == nil {
			gone = append(gone, Behind{ID: id, Kept: true, At: x, written: x.Written})
		}
	}
	gone = slices.DeleteFunc(gone, func(b Behind) bool {
		w, n, ok := numbered(b.ID)
		return !ok || !asked(w) || !b.behind(e, w, n)
	})
	slices.SortFunc(gone, func(a, b Behind) int {
		_, n, _ := numbered(a.ID)
		_, m, _ := numbered(b.ID)
		return cmp.Or(cmp.Compare(a.written, b.written), cmp.Compare(n, m), cmp.Compare(a.ID, b.ID))
	})
	return gone, nil
}

// Behind is an entry of GoneBehind.
type Behind struct {
	ID   string
	Kept bool   // a daily copy has it, or it stands in the journal
	Line int    // where it stands in the journal and cannot be read; 0 where it does not
	At   *Entry // it, where it stands in the journal without its identifier

	written Moment
}

// behind reports whether it was recorded after an entry: by its number where
// both are of one writer, else by the moment. Of what no copy has only the number
// is known, and that it was the last of its computer.
func (b Behind) behind(e *Entry, writer string, n int) bool {
	if e == nil {
		return true
	}
	if w, m, ok := numbered(e.identifier()); ok && w == writer {
		return n > m
	}
	return b.written == "" || b.written > e.Written
}
