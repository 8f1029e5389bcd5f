package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// benchDay is the day on which the benchmarks run.
var benchDay = time.Date(2026, 5, 1, 18, 2, 0, 0, time.UTC)

func benchApp() *app {
	return &app{in: strings.NewReader(""), out: io.Discard, err: io.Discard, now: benchDay, host: "bench",
		env:     func(string) string { return "" },
		library: func() ([]byte, bool) { return nil, false },
		bring:   func(context.Context) error { return errors.New("no network") }}
}

func must(b *testing.B, args ...string) {
	b.Helper()
	if status := benchApp().run(context.Background(), args); status != statusDone {
		b.Fatalf("hodaba %s: exit status %d", strings.Join(args, " "), status)
	}
}

// BenchmarkDemo is the whole demo with its default draws: about twenty piles,
// six years, all pages.
func BenchmarkDemo(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "demo")
	for b.Loop() {
		must(b, "demo", dir)
	}
}

// BenchmarkRecord appends to journals of very different length: the cost of
// an entry must not grow with them.
func BenchmarkRecord(b *testing.B) {
	for _, entries := range []int{10, 1_000, 100_000} {
		b.Run(fmt.Sprint(entries), func(b *testing.B) {
			dir := longYard(b, entries)
			must(b, "record", "harvested", "oak-north", "2.4kg", "--yard", dir) // reads what was added by another hand
			for b.Loop() {
				must(b, "record", "harvested", "oak-north", "2.4kg", "--yard", dir)
			}
		})
	}
}

// longYard is a yard with a pile and a journal of so many entries.
func longYard(b *testing.B, entries int) string {
	b.Helper()
	dir := filepath.Join(b.TempDir(), "yard")
	must(b, "start", dir, "--station", "oxford", "--units", "metric")
	must(b, "record", "inoculated", "oak-north", "shiitake", "40 logs", "--on", "2022-04-12", "--yard", dir)
	f, err := os.OpenFile(filepath.Join(dir, "journal.toml"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	for i := range entries {
		if _, err := fmt.Fprintf(f, "\n[[harvested]]\nwritten = 2025-04-12T18:02:00\non = 2025-04-12\npile = \"oak-north\"\nfresh = \"2 kg\"\nentry = \"old-%d\"\n", i+1); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}
