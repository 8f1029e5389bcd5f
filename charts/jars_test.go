package charts

import (
	"slices"
	"strings"
	"testing"

	"hodaba/forecast/tincture"
)

// A batch stands in its jars from the day it is put up to the day it is
// strained, both included; the letters stand in the weeks of their days.
func TestWhatStandsInAJar(t *testing.T) {
	plan := aPlan()
	all := slices.Concat(plan.Standing, plan.Batches)
	monday := day("2026-05-04")
	lines := func(jar int) (weeks []string) {
		for _, c := range jarCells(all, jar, monday, 8) {
			weeks = append(weeks, strings.ReplaceAll(strings.Join(c.Lines, " / "), "\u00a0", " "))
		}
		return weeks
	}
	for jar, want := range map[int][]string{
		1: {"1", "1 S 13 / 3 P 14", "3", "3", "3", "3", "3 S 15", ""},
		3: {"2", "2", "2", "2", "2 S 2", "", "", ""},
		4: {"", "", "", "", "", "", "", ""},
	} {
		if got := lines(jar); !slices.Equal(got, want) {
			t.Errorf("jar %d: %q, want %q", jar, got, want)
		}
	}
	beside, _ := besides(all, monday, 8)
	if got := strings.ReplaceAll(strings.Join(beside[1], " / "), "\u00a0", " "); got != "1 DM 13 / 1 B 14" {
		t.Errorf("beside the jars: %q", got)
	}
}

// A quarter in which nothing happens is not drawn, except that of today.
func TestEmptyQuartersAreLeftOut(t *testing.T) {
	b := newBook(aYard())
	all := b.Result.Plan.Batches
	if got := b.shelves(all); len(got) != 2 || !strings.Contains(got[1].Name, "3 August 2026") {
		t.Errorf("%d quarters", len(got))
	}
	if got := b.shelves([]tincture.Batch{}); len(got) != 1 || len(got[0].Jars) != 4 {
		t.Errorf("an idle shelf is drawn as %d quarters", len(got))
	}
}

func TestEveryBatchIsOnTheShelfPage(t *testing.T) {
	page := parse(t, pages(t, aYard())["jars.html"])
	parts := page.all(class("batch"))
	if len(parts) != 5 {
		t.Fatalf("%d batches of 5", len(parts))
	}
	if said := parts[4].words(); !strings.Contains(said, "34 %") || !strings.Contains(said, "maitake is short in most years") {
		t.Errorf("a batch without a day does not say why: %s", said)
	}
	if said := parts[3].words(); !strings.Contains(said, "8 times in 10 between 20 August 2026 and 30 October 2026") {
		t.Errorf("no range: %s", said)
	}
}

// The foot of the shelf says every caution of the plan once, and without a
// plan what always holds.
func TestCautionsOfTheShelf(t *testing.T) {
	in := aYard()
	const burns = "Spirit vapour burns."
	for i := range in.Result.Plan.Batches {
		in.Result.Plan.Batches[i].Cautions = append(in.Result.Plan.Batches[i].Cautions, burns)
	}
	said := parse(t, pages(t, in)["jars.html"]).words()
	if n := strings.Count(said, burns); n != 1 {
		t.Errorf("a caution of four batches is said %d times", n)
	}
	in.Result.Plan = nil
	said = parse(t, pages(t, in)["jars.html"]).words()
	for _, want := range []string{spiritSafely, eatSafely, lawDiffers} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s", want)
		}
	}
}
