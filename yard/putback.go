package yard

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/BurntSushi/toml"
)

// Missing returns the entries that the daily copy has and the journal has
// not any more, as their tables stand there, and the copy's name. It looks
// only where the entry recorded last is gone: anything else that is missing
// was taken out by hand, and is not missed.
func (f *Folder) Missing() (texts []string, copyFile string) {
	if len(f.vanished()) == 0 {
		return nil, ""
	}
	var l last
	b, err := fs.ReadFile(f.files, lastFile)
	if err != nil {
		return nil, ""
	}
	if _, err := toml.Decode(string(b), &l); err != nil {
		return nil, ""
	}
	day, err := ParseDate(l.Copied)
	if err != nil {
		return nil, ""
	}
	b, err = fs.ReadFile(f.files, copyName(day))
	if err != nil {
		return nil, ""
	}
	here := map[string]bool{}
	for _, e := range f.journal().entries {
		here[e.ID] = true
	}
	terms := f.Terms()
	for _, e := range readJournal(b, &terms).entries {
		if e.Written != "" && !here[e.ID] {
			texts = append(texts, e.Text)
		}
	}
	return texts, copyName(day)
}

// PutBack appends the missing entries again, as they were, and returns their
// number.
func (f *Folder) PutBack(ctx context.Context, now Moment) (n int, err error) {
	unlock, err := f.files.Lock(ctx)
	if err != nil {
		return 0, fmt.Errorf("nothing was put back: %w", err)
	}
	defer func() { err = errors.Join(err, unlock()) }()
	f.read = nil
	texts, _ := f.Missing()
	if len(texts) == 0 {
		return 0, nil
	}
	a := &appender{f: f, now: now}
	if err := a.lookAtEnd(); err != nil {
		return 0, fmt.Errorf("nothing was put back: %w", err)
	}
	block := "\n" + strings.Join(texts, "\n\n") + "\n"
	if err := a.f.files.Append(JournalFile, []byte(block), a.size); err != nil {
		return 0, fmt.Errorf("nothing was put back: writing %s: %w", JournalFile, err)
	}
	f.read = nil
	j := f.journal()
	a.remember([]byte(block), []string{j.entries[len(j.entries)-1].ID}, j.entries)
	return len(texts), nil
}
