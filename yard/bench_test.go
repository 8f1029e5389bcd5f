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

// BenchmarkReplay opens a yard and replays its journal.
func BenchmarkReplay(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("entries=%d", n), func(b *testing.B) {
			files := InMemory(map[string]string{YardFile: "[site]\nstation = \"oxford\"\n", JournalFile: longJournal(n)})
			today, set := NewDate(2026, 5, 1), loaded(b)
			for b.Loop() {
				f, _, err := OpenFiles(files, set, today)
				if err != nil {
					b.Fatal(err)
				}
				s, problems := f.State(today, 0)
				if len(problems) > 0 || len(s.Picks) != n-100 {
					b.Fatal(len(s.Picks), problems[:min(3, len(problems))])
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/entry")
		})
	}
}

// BenchmarkRecord appends to a journal on the disk, synced: the cost must not
// grow with it.
func BenchmarkRecord(b *testing.B) {
	for _, n := range []int{100, 10_000, 100_000} {
		b.Run(fmt.Sprintf("journal=%d", n), func(b *testing.B) { benchmarkRecord(b, OnDisk(b.TempDir()), n) })
	}
}

// BenchmarkRecordInMemory is BenchmarkRecord without the disk.
func BenchmarkRecordInMemory(b *testing.B) {
	for _, n := range []int{100, 10_000, 100_000} {
		b.Run(fmt.Sprintf("journal=%d", n), func(b *testing.B) { benchmarkRecord(b, InMemory(nil), n) })
	}
}

func benchmarkRecord(b *testing.B, files Files, n int) {
	f, record := recordsInto(b, files, n)
	for b.Loop() {
		record()
	}
	if f.read != nil {
		b.Fatal("the journal was read through")
	}
}

// recordsInto is a yard with a journal of n entries, and a function that
// records one more.
func recordsInto(b *testing.B, files Files, n int) (*Folder, func()) {
	for name, text := range map[string]string{YardFile: "[site]\nstation = \"oxford\"\n", JournalFile: longJournal(n)} {
		if err := files.Replace(name, []byte(text)); err != nil {
			b.Fatal(err)
		}
	}
	f, _, err := OpenFiles(files, loaded(b), NewDate(2026, 5, 1))
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
	return f, record
}

// BenchmarkRecordAfterAChange is the first entry after a change by hand: the
// journal is read through once, and copied.
func BenchmarkRecordAfterAChange(b *testing.B) {
	for _, n := range []int{100, 100_000} {
		b.Run(fmt.Sprintf("journal=%d", n), func(b *testing.B) {
			m := InMemory(nil)
			_, record := recordsInto(b, m, n)
			for b.Loop() {
				m.files[JournalFile] = append(m.files[JournalFile], "# by hand\n"...)
				record()
			}
		})
	}
}
