package yard

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// chainOf is a journal of n entries, each of which goes on from the name that
// the one before it gave.
func chainOf(n int, kind, key string, backwards bool) string {
	links := make([]string, n)
	for i := range n {
		links[i] = fmt.Sprintf("[[%s]]\non = 2017-05-01\npile = \"p%d\"\n%s = \"p%d\"\nentry = \"kitchen-%d\"\n", kind, i, key, i+1, i)
		if kind == "split" {
			links[i] += "logs = 1\n"
		}
	}
	if backwards {
		slices.Reverse(links)
	}
	return "[[inoculated]]\non = 2016-04-12\npile = \"p0\"\nspecies = \"shiitake\"\nlogs = 100000\n" + strings.Join(links, "")
}

// BenchmarkChain replays chains of renaming and of splitting, also where each
// entry stands before the one that it goes on from: the cost of an entry must
// not grow with the length of the chain.
func BenchmarkChain(b *testing.B) {
	for _, c := range []struct {
		name, kind, key string
		backwards       bool
	}{{"renamed", "renamed", "to", false}, {"split", "split", "into", false}, {"renamed backwards", "renamed", "to", true}} {
		for _, n := range []int{500, 5000} {
			b.Run(fmt.Sprintf("%s=%d", c.name, n), func(b *testing.B) {
				files := InMemory(map[string]string{YardFile: smallYard, JournalFile: chainOf(n, c.kind, c.key, c.backwards)})
				for b.Loop() {
					f, _, err := OpenFiles(files, loaded(b), may)
					if err != nil {
						b.Fatal(err)
					}
					if s, problems := f.State(may, 0); len(problems) > 0 || s.Pile(fmt.Sprintf("p%d", n)) == nil {
						b.Fatal(len(s.Piles), problems[:min(3, len(problems))])
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/entry")
			})
		}
	}
}

// markedJournal is a journal in which version control marked n places.
func markedJournal(n int) string {
	var b strings.Builder
	b.WriteString(oak)
	for i := range n {
		fmt.Fprintf(&b, "<<<<<<< HEAD\n[[walked]]\nwritten = 2025-04-30T08:00:00\non = 2025-04-30\nentry = \"kitchen-%d\"\n=======\n[[walked]]\nwritten = 2025-04-30T08:00:00\non = 2025-04-30\nentry = \"barn-%d\"\n>>>>>>> barn\n", i+2, i+2)
	}
	return b.String()
}

// BenchmarkMarks reads journals in which version control marked many places:
// the cost of a place must not grow with their number.
func BenchmarkMarks(b *testing.B) {
	for _, n := range []int{500, 5000} {
		b.Run(fmt.Sprintf("marks=%d", n), func(b *testing.B) {
			files := InMemory(map[string]string{YardFile: smallYard, JournalFile: markedJournal(n)})
			for b.Loop() {
				f, _, err := OpenFiles(files, loaded(b), may)
				if err != nil {
					b.Fatal(err)
				}
				f.Check()
				if s, _ := f.State(may, 0); len(s.Entries) != 2*n+1 {
					b.Fatal(len(s.Entries))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/mark")
		})
	}
}
