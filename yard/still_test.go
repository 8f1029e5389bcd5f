package yard

import (
	"context"
	"errors"
	"io/fs"
	"strings"
	"sync"
	"testing"
)

// Two corrections of one entry at once: one is recorded, and the other one
// looks again, finds the entry corrected and is not.
func TestTwoCorrectionsAtOnce(t *testing.T) {
	set := loaded(t)
	dir := t.TempDir()
	files := OnDisk(dir)
	for name, text := range map[string]string{YardFile: smallYard, JournalFile: oak + pick} {
		if err := files.Replace(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	gone := errors.New("gone")
	var ready, done sync.WaitGroup
	ready.Add(2)
	errs := make([]error, 2)
	for i, writer := range []string{"kitchen", "barn"} {
		f, _, err := Open(dir, set, may)
		if err != nil {
			t.Fatal(err)
		}
		find := func() bool {
			for _, e := range f.All() {
				if e.ID == "kitchen-2" {
					return e.Replaced == nil
				}
			}
			return false
		}
		text, problems := Compose("corrected", map[string]string{"replaces": "kitchen-2", "kind": "harvested", "on": "2025-10-03", "pile": "oak-north", "fresh": "3 kg"}, f.Terms())
		if text == "" || !find() {
			t.Fatal(problems)
		}
		done.Go(func() {
			ready.Done()
			ready.Wait()
			_, _, errs[i] = f.RecordStill(context.Background(), []string{text}, writer, "2026-05-01T10:00:00", func() ([]string, error) {
				if !find() {
					return nil, gone
				}
				return []string{text}, nil
			})
		})
	}
	done.Wait()
	b, err := fs.ReadFile(files, JournalFile)
	if (errs[0] == nil) == (errs[1] == nil) || !errors.Is(errors.Join(errs...), gone) || err != nil || strings.Count(string(b), "[[corrected]]") != 1 {
		t.Errorf("%v\n%s", errs, b)
	}
}

// A journal that is what was read is not looked at again; with nothing left to
// record nothing is written.
func TestRecordStill(t *testing.T) {
	f, m := yardOf(t, oak)
	text := "[[walked]]\non = 2026-04-01\npiles = [\"oak-north\"]\n"
	asked := 0
	still := func() ([]string, error) { asked++; return nil, nil }
	f.All()
	ids, _, err := f.RecordStill(context.Background(), []string{text}, "kitchen", "2026-05-01T10:00:00", still)
	if err != nil || len(ids) != 1 || asked != 0 {
		t.Errorf("%v %v, asked %d times", ids, err, asked)
	}
	f.All()
	m.files[JournalFile] = append(m.files[JournalFile], []byte("\n"+text)...)
	before := m.Text(JournalFile)
	ids, _, err = f.RecordStill(context.Background(), []string{text}, "kitchen", "2026-05-01T10:00:00", still)
	if err != nil || len(ids) != 0 || asked != 1 || m.Text(JournalFile) != before {
		t.Errorf("%v %v, asked %d times", ids, err, asked)
	}
}
