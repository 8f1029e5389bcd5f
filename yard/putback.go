package yard

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
)

// Missed is an entry that was recorded and is not in the journal any more.
type Missed struct {
	ID   string
	Text string // its table, as the copy has it; "" where no copy has it
	Copy string // the daily copy that has it
	Line int    // where it stands in the journal and cannot be read any more; 0 where it is gone

	written Moment
}

// Missing returns the entries that the program wrote, that a daily copy has
// and the journal has not, or not so that they can be read, in the order in
// which they were written; and the entry that was recorded last, should no copy
// have it. Entries that Leave took are not missed. The error is of a journal that cannot be read: nobody
// knows then. FORMAT.md, Entries that vanished.
func (f *Folder) Missing() ([]Missed, error) {
	missing, _, err := f.vanished()
	return missing, err
}

// vanished is Missing, with the entries that stand in the journal without their
// identifier, by the one under which they were recorded.
func (f *Folder) vanished() (missing []Missed, nameless map[string]*Entry, err error) {
	b, err := f.bytesOf(JournalFile)
	if err == nil {
		err = notLines(b)
	}
	if err != nil {
		p := unreadable(JournalFile, err)
		return nil, nil, mistake{JournalFile + ": " + p.Text, p.Remedy}
	}
	missing, nameless = f.compared(b, f.journal().entries, f.last())
	return missing, nameless, nil
}

// ByHand are entries by hand that a daily copy has and the journal has not:
// an editor may have written over them, or somebody took them out or changed
// them on purpose. Nobody can tell, so they are only ever shown. A journal that
// cannot be read has none.
func (f *Folder) ByHand() []Missed {
	b, err := f.bytesOf(JournalFile)
	if err != nil || notLines(b) != nil {
		return nil
	}
	here := meanings(f.journal().entries)
	var out []Missed
	terms := f.Terms()
	for _, c := range f.copies(f.last()) {
		name := c.name
		old, err := f.bytesOf(name)
		if err != nil || bytes.HasPrefix(b, old) {
			continue
		}
		for _, e := range byHandBut(here, old, &terms) {
			out = append(out, Missed{ID: e.ID, Text: e.Text, Copy: name})
		}
	}
	return out
}

// byHandOnly are the entries by hand of a copy that are not among others.
func byHandOnly(old []byte, entries []*Entry, terms *Terms) []*Entry {
	return byHandBut(meanings(entries), old, terms)
}

// byHandBut are the entries by hand of a copy but for some meanings, to which it
// adds theirs.
func byHandBut(here map[string]bool, old []byte, terms *Terms) (out []*Entry) {
	for _, e := range readJournal(old, terms).entries {
		if is := e.meaning(); e.Event != nil && e.Written == "" && !hasEntry.MatchString(e.Text) && !here[is] {
			here[is] = true
			out = append(out, e)
		}
	}
	return out
}

func meanings(entries []*Entry) map[string]bool {
	here := map[string]bool{}
	for _, e := range entries {
		here[e.meaning()] = true
	}
	return here
}

// PutBack appends missing entries again, as they were, in one write: those
// that are named, or all. It returns the identifiers of those that were put
// back.
func (f *Folder) PutBack(ctx context.Context, now Moment, only ...string) (ids []string, problems []Problem, err error) {
	unlock, err := f.lock(ctx)
	if err != nil {
		return nil, nil, undone("nothing was put back", err)
	}
	defer unlock()
	a := &appender{f: f, now: now}
	if err := a.lookAtEnd(); err != nil {
		return nil, nil, undone("nothing was put back", err)
	}
	f.read = nil
	a.problems = slices.DeleteFunc(a.problems, func(p Problem) bool { return p.Entry != "" }) // what is missing is known
	var block bytes.Buffer
	missing, err := f.Missing()
	if err != nil {
		return nil, nil, undone("nothing was put back", err)
	}
	var back []Missed
	for _, m := range missing {
		if m.Text != "" && (len(only) == 0 || slices.Contains(only, m.ID)) {
			fmt.Fprintf(&block, "\n%s\n", m.Text)
			ids, back = append(ids, m.ID), append(back, m)
			a.last.number(m.ID)
		}
	}
	a.problems = f.notTwice(a.problems)
	if len(ids) == 0 {
		return nil, a.problems, nil
	}
	if err := a.write(block.Bytes()); err != nil {
		return nil, nil, undone("nothing was put back", err)
	}
	f.backWhole(a.problems, back)
	f.read = nil
	a.last.Copied = ""
	a.copyDaily()
	a.keepEnd(block.Bytes(), ids[len(ids)-1], f.journal().entries)
	return ids, a.problems, nil
}

// backWhole says of an entry that was cut short, and that was put back just now,
// that nothing is to be recorded again.
func (f *Folder) backWhole(problems []Problem, back []Missed) {
	for i := range problems {
		x := asideOf(f.cutText(problems[i]))
		if x.isDated() && slices.ContainsFunc(back, func(m Missed) bool { return x.in(asideOf(m.Text)) }) {
			problems[i].Remedy = "it is put back whole; record nothing again"
		}
	}
}

// Leave leaves missing entries out for good: they are not missed any more. It
// returns the identifiers of those that were. One that stands in the journal
// and cannot be read is refused, and nothing is left out then.
func (f *Folder) Leave(ctx context.Context, only ...string) (ids []string, err error) {
	unlock, err := f.lock(ctx)
	if err != nil {
		return nil, undone("nothing was changed", err)
	}
	defer unlock()
	f.read = nil
	left, since := f.left(), f.leftSince()
	missing, err := f.Missing()
	if err != nil {
		return nil, undone("nothing was changed", err)
	}
	for _, m := range missing {
		if len(only) == 0 || slices.Contains(only, m.ID) {
			if m.Line > 0 {
				return nil, undone("nothing was left out", f.stillStands(m))
			}
			left.add(m.ID, m.written)
			since[m.ID] = f.today.String()
			ids = append(ids, m.ID)
		}
	}
	if len(ids) == 0 {
		return nil, nil
	}
	if err := f.files.Replace(leftFile, []byte(leftText(left, since))); err != nil {
		return nil, undone("nothing was changed", err)
	}
	return ids, f.forget(left)
}

// forget takes the entry that was recorded last out of the memory of the end,
// where it is left out: another stands at the end now. And it lets the next
// record read the journal through, so that one is noticed that stands in it
// again.
func (f *Folder) forget(left onPurpose) error {
	l := f.last()
	if left.names(l.Entry) {
		l.Entry = lastSigned(f.journal().entries)
	}
	l.Digest = ""
	if err := f.files.Replace(f.lastName(), []byte(l.text())); err != nil {
		return fmt.Errorf("they are left out, but how the journal ends could not be written: %w", err)
	}
	return nil
}

// leftFile names the entries that are left out for good.
const leftFile = ownFolder + "/left-out.toml"

// left are the entries that are left out for good.
func (f *Folder) left() onPurpose {
	var l leftList
	left := onPurpose{}
	if readOwn(f.files, leftFile, &l) != nil {
		return left // they are missed again, and can be left out again
	}
	for _, id := range l.Entries {
		left[id] = l.Written[id]
	}
	return left
}

// mostNamed is how many missing entries a message names.
const mostNamed = 3

// missed tells of entries that were recorded and are not there any more, or
// cannot be read any more.
func missed(missing []Missed) (out []Problem) {
	var gone []Missed
	for _, m := range missing {
		if m.Line == 0 {
			gone = append(gone, m)
			continue
		}
		out = append(out, Problem{File: JournalFile, Line: m.Line, Grade: Odd, Entry: m.ID,
			Text:   fmt.Sprintf("entry %s could be read when it was recorded, and cannot any more", m.ID),
			Remedy: "`put-back` shows what it said and puts it back; or mend its lines in " + JournalFile})
	}
	return append(out, vanished(gone)...)
}

// vanished tells of entries that were recorded and are gone.
func vanished(gone []Missed) []Problem {
	if len(gone) == 0 {
		return nil
	}
	if len(gone) == 1 {
		id := gone[0].ID
		return []Problem{{File: JournalFile, Grade: Odd, Entry: id,
			Text:   fmt.Sprintf("entry %s was recorded and is not in the journal any more: an editor may have saved an older text over it", id),
			Remedy: wayBack}}
	}
	var ids []string
	for _, m := range gone[:min(len(gone), mostNamed)] {
		ids = append(ids, m.ID)
	}
	if len(gone) > mostNamed {
		ids = append(ids, "…")
	}
	return []Problem{{File: JournalFile, Grade: Odd, Entry: gone[0].ID,
		Text: fmt.Sprintf("%d entries were recorded and are not in the journal any more (%s): an editor may have saved an older text over them",
			len(gone), strings.Join(ids, ", ")),
		Remedy: wayBack}}
}

const wayBack = "`put-back` shows what is missing and puts it back; what you took out on purpose `put-back --leave` leaves out for good"
