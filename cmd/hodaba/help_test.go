package main

import (
	"bytes"
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"hodaba/charts"
	"hodaba/yard"
)

// TestHelpFitsTheTerminal reads the help of every command and of every event.
func TestHelpFitsTheTerminal(t *testing.T) {
	var asked [][]string
	for _, c := range new(app).root().Commands() {
		asked = append(asked, []string{c.Name(), "--help"})
		for _, sub := range c.Commands() {
			asked = append(asked, []string{c.Name(), sub.Name(), "--help"})
		}
	}
	for _, k := range yard.Kinds() {
		asked = append(asked, []string{"record", k.Name, "--help"})
	}
	for _, args := range append(asked, []string{"record", straining, "--help"}, []string{"--help"}, []string{}) {
		var out, errs bytes.Buffer
		a := &app{in: strings.NewReader(""), out: &out, err: &errs, env: func(string) string { return "" }}
		if status := a.run(context.Background(), args); status != statusDone {
			t.Errorf("%v: exit status %d: %s", args, status, errs.String())
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if n := utf8.RuneCountInString(line); n > charts.TerminalWidth {
				t.Errorf("%v: %d columns: %q", args, n, line)
			}
		}
		if slices.Equal(args, []string{"print", "--help"}) && !strings.Contains(out.String(), "white:\n  batch LOT    a record of the batch to fill in and sign\n  jar LOT") {
			t.Errorf("what can be printed is no list:\n%s", out.String())
		}
		if out.Len() == 0 {
			t.Errorf("%v says nothing", args)
		}
	}
}

// TestDrawsAndSeedComeLast holds an agreement: whoever looks for the dates of
// a pile need not read past the random numbers.
func TestDrawsAndSeedComeLast(t *testing.T) {
	for _, c := range new(app).root().Commands() {
		if c.Flags().Lookup("draws") == nil {
			continue
		}
		usage := strings.Split(strings.TrimSpace(c.Flags().FlagUsages()), "\n")
		last := strings.Join(usage[len(usage)-2:], "\n")
		if !strings.Contains(last, "--draws") || !strings.Contains(last, "--seed") {
			t.Errorf("%s: the last options are\n%s", c.Name(), last)
		}
	}
}

// TestStopped stops the program in the middle: it says so, and nothing panics.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var out, errs bytes.Buffer
	a := &app{in: strings.NewReader(""), out: &out, err: &errs, now: benchDay, env: func(string) string { return "" },
		library: func() ([]byte, bool) { return nil, true }}
	status := a.run(ctx, []string{"demo", filepath.Join(t.TempDir(), "demo"), "--draws", "5"})
	if status != statusFolder || !strings.Contains(errs.String(), "stopped before it was done") || out.Len() > 0 {
		t.Errorf("exit status %d: %s%s", status, out.String(), errs.String())
	}
}
