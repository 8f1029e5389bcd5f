package charts

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// fits reports the first line that is too wide or holds what it must not.
func fits(text string, plain bool) error {
	for _, line := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(line); n > TerminalWidth {
			return fmt.Errorf("%d columns: %q", n, line)
		}
		for _, r := range line {
			if r < ' ' || r == 0x7f || plain && r > 0x7e {
				return fmt.Errorf("sign %U in %q", r, line)
			}
		}
	}
	return nil
}

func TestTablesFitTheTerminal(t *testing.T) {
	r := formResult()
	s := &yard.State{AsOf: r.AsOf, Config: yard.Config{Name: "Fernbrook"}}
	plan := &tincture.Plan{
		Standing: []tincture.Batch{{Lot: "AB-25-123456789", Recipe: "a recipe with a very long name", Start: r.AsOf, Strain: r.AsOf + 20}},
		Batches: []tincture.Batch{{Lot: "AB-26-1", Recipe: "another one", Start: r.AsOf + 9, StartChance: 0.8, Strain: r.AsOf + 40, Decoct: r.AsOf + 40,
			Blend: r.AsOf + 40, Bottled: r.AsOf + 41, Bottles: tincture.Amount{P10: 9, P50: 10.9, P90: 11}, BottleML: 100, Why: strings.Repeat("short of reishi ", 12),
			Needs: []tincture.Need{{Species: "lion's mane", Grams: 100, ShortChance: 0.2, Optional: true}}}},
	}
	for _, plain := range []bool{false, true} {
		for _, us := range []bool{false, true} {
			term := Terminal{Plain: plain, US: us}
			for name, text := range map[string]string{
				"forecast": term.Forecast(s, r),
				"pile":     term.Pile(s, r, r.Piles[0]),
				"bed":      term.Pile(s, r, r.Piles[1]),
				"why":      term.Why(Input{State: s, Result: r}, r.Piles[0]),
				"batches":  term.Batches(s, plan),
				"stock":    term.Stock(s, nil),
				"cautions": term.Cautions([]string{strings.Repeat("keep spirit away from flame ", 9)}),
				"problems": term.Problems([]yard.Problem{{File: "journal.toml", Line: 12, Text: strings.Repeat("no such pile ", 9)}}),
			} {
				if err := fits(text, plain); err != nil {
					t.Errorf("%s (plain %t, us %t): %s", name, plain, us, err)
				}
			}
		}
	}
}

func TestMonthBoxes(t *testing.T) {
	for _, c := range []struct {
		p             float64
		winter        bool
		boxes, digits string
	}{
		{0, false, "· ", ". "},
		{0.019, true, "·░", ".-"},
		{0.02, false, "▁ ", "1 "},
		{0.5, false, "▄ ", "5 "},
		{0.88, false, "█ ", "8 "},
		{1, true, "█░", "9-"},
	} {
		if got := (Terminal{}).gauge(c.p, c.winter); got != c.boxes {
			t.Errorf("%v: %q, want %q", c.p, got, c.boxes)
		}
		if got := (Terminal{Plain: true}).gauge(c.p, c.winter); got != c.digits {
			t.Errorf("plain %v: %q, want %q", c.p, got, c.digits)
		}
	}
}

func TestYearsInTen(t *testing.T) {
	for p, want := range map[float64]string{0: "0 in 10", 0.01: "<1 in 10", 0.06: "1 in 10", 0.5: "5 in 10", 0.84: "8 in 10",
		0.949: "9 in 10", 0.97: ">9 in 10", 1: ">9 in 10"} {
		if got := inTen(p); got != want {
			t.Errorf("%v: %q, want %q", p, got, want)
		}
	}
}

func TestCleanTakesOutWhatSteersATerminal(t *testing.T) {
	if got := Clean("caf\xe9 and \ufffd"); got != "caf? and ?" {
		t.Errorf("letters that cannot be read: %q", got)
	}
	if got := Clean("a\x1b[2J\u202eb\nc\x7f\u009b"); got != "a[2Jb c" {
		t.Errorf("%q", got)
	}
}

func TestWrapKeepsEveryWord(t *testing.T) {
	text := strings.Repeat("mushroom ", 40)
	got := wrap("- ", "  ", text)
	if err := fits(got, true); err != nil {
		t.Error(err)
	}
	if n := strings.Count(got, "mushroom"); n != 40 {
		t.Errorf("%d words of 40", n)
	}
}

func TestAnEmptyYardHasSomethingToSay(t *testing.T) {
	r := &forecast.Result{AsOf: yard.NewDate(2026, 5, 1)}
	s := &yard.State{AsOf: r.AsOf}
	term := Terminal{}
	for _, text := range []string{term.Forecast(s, r), term.Batches(s, nil), term.Stock(s, nil), term.Work(s, nil, nil, nil, nil), term.History(nil)} {
		if strings.TrimSpace(text) == "" {
			t.Error("nothing said")
		}
	}
}
