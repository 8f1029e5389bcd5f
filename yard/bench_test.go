package yard

import (
	"fmt"
	"strings"
	"testing"
)

// longJournal is a journal of n entries: a hundred piles, then years of
// picking.
func longJournal(n int) string {
	var b strings.Builder
	for i := range n {
		pile := i % 100
		if i < 100 {
			fmt.Fprintf(&b, "\n[[inoculated]]\nwritten  = 2016-04-12T18:02:00\non       = 2016-04-12\npile     = \"pile-%d\"\nspecies  = \"shiitake\"\nlogs     = 40\ndiameter = \"12 cm\"\nentry    = \"kitchen-%d\"\n", pile, i+1)
			continue
		}
		day := NewDate(2017, 5, 1) + Date(i/40)
		fmt.Fprintf(&b, "\n[[harvested]]\nwritten = %sT18:02:00\non      = %s\npile    = \"pile-%d\"\nfresh   = \"2.4 kg\"\nlogs    = 12\nentry   = \"kitchen-%d\"\n", day, day, pile, i+1)
	}
	return b.String()
}

func BenchmarkReplay100k(b *testing.B) {
	files := InMemory(map[string]string{YardFile: "[site]\nstation = \"oxford\"\n", JournalFile: longJournal(100_000)})
	today := NewDate(2026, 5, 1)
	for b.Loop() {
		f, _, err := OpenFiles(files, loaded(b), today)
		if err != nil {
			b.Fatal(err)
		}
		s, problems := f.State(today, 0)
		if len(problems) > 0 || len(s.Picks) != 99_900 {
			b.Fatal(len(s.Picks), problems[:min(3, len(problems))])
		}
	}
}

func BenchmarkRecord(b *testing.B) {
	for _, n := range []int{100, 100_000} {
		b.Run(fmt.Sprintf("journal=%d", n), func(b *testing.B) {
			dir := b.TempDir()
			files := OnDisk(dir)
			for name, text := range map[string]string{YardFile: "[site]\nstation = \"oxford\"\n", JournalFile: longJournal(n)} {
				if err := files.Replace(name, []byte(text)); err != nil {
					b.Fatal(err)
				}
			}
			today := NewDate(2026, 5, 1)
			f, _, err := Open(dir, loaded(b), today)
			if err != nil {
				b.Fatal(err)
			}
			text, _ := Compose("walked", map[string]string{"piles": "pile-1"}, f.Terms())
			record := func() {
				if _, _, err := f.Record(text, "kitchen", "2026-05-01T18:02:00"); err != nil {
					b.Fatal(err)
				}
			}
			record() // the first of the day reads through and copies
			for b.Loop() {
				record()
			}
		})
	}
}
