package yard

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// summary is a state in words, to compare two of them.
func summary(s *State, problems []Problem) string {
	var b strings.Builder
	for _, p := range s.Piles {
		fmt.Fprintf(&b, "%s %s %s %s/%s place=%q since=%v logs=%d/%d %v gone=%v seen=%d picks=%d closed=%v\n",
			p.Name, p.Code, p.Kind, p.Species, p.Strain, p.Place, p.Since, p.Logs, p.Started, p.LogsKnown, p.Gone, len(p.Seen), len(p.Picks), p.Closed)
	}
	for _, l := range s.Dry {
		fmt.Fprintf(&b, "dry %s %s %s %.1f/%.1f g\n", l.Lot, l.Species, l.From, l.LeftG, l.InG)
	}
	for _, x := range s.Batches {
		fmt.Fprintf(&b, "batch %s %v jars=%d spirit=%v %v taken=%v bottled=%v\n", x.Lot, x.On, x.Jars, x.SpiritML, x.SpiritABV, x.Ingredients, x.Bottled)
	}
	fmt.Fprintf(&b, "bottles %v sort=%d picks=%d\n", s.Bottles, len(s.Sort), len(s.Picks))
	var odd []string
	for _, p := range problems {
		odd = append(odd, p.Text)
	}
	slices.Sort(odd)
	return b.String() + strings.Join(odd, "\n")
}

// entry writes a table: kind, day, then key = value pairs in TOML.
func entry(kind, on string, lines ...string) string {
	if len(on) == len("2026-04-12") {
		on = "on = " + on
	} else {
		on = fmt.Sprintf("on = %q", on)
	}
	return "\n[[" + kind + "]]\n" + on + "\n" + strings.Join(lines, "\n") + "\n"
}

func began(name string, lines ...string) string {
	return entry("inoculated", "2024-04-12", append([]string{fmt.Sprintf("pile = %q", name), `species = "shiitake"`}, lines...)...)
}

func TestInoculated(t *testing.T) {
	s, problems := stateOf(t, entry("inoculated", "2024-04-12", `pile = "oak-north"`, `code = "an2"`, `species = "Lentinula edodes"`, `strain = "wide-range"`,
		`wood = "white oak"`, `logs = 40`, `diameter = "10-15 cm"`, `length = "40 in"`, `spawn = "Sawdust"`, `method = "holes"`, `spawn_lot = "S-1"`, `place = "under the hazel"`))
	p := s.Pile("AN2")
	if len(problems) > 0 || p == nil {
		t.Fatal(lines(problems))
	}
	if p.Species != "shiitake" || p.Like != "shiitake" || p.Strain != "wide-range" || p.Started != 40 || p.Logs != 40 || !p.LogsKnown ||
		p.Diameter != (Span{10, 15}) || p.Length.Mid() < 101.59 || p.Length.Mid() > 101.61 || p.Spawn != "sawdust" || p.Place != "under the hazel" || p.Kind != "pile" || p.Origin != "inoculated" {
		t.Errorf("%+v", p)
	}
	if s.Pile("OAK-North") != p || s.Pile("oak") != nil {
		t.Error("the pile does not answer to its name")
	}
}

func TestMoreLogsAndAgain(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 20")+entry("inoculated", "2024-05-02", `pile = "a"`, `species = "shiitake"`, "logs = 15"))
	p := s.Pile("a")
	if len(problems) > 0 || p.Logs != 35 || p.Started != 35 || p.Since.From != NewDate(2024, 4, 12) || p.Since.To != NewDate(2024, 5, 2) {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
	s, problems = stateOf(t, began("a", "logs = 20")+entry("inoculated", "2025-05-02", `pile = "a"`, `species = "shiitake"`, "logs = 20", "again = true"))
	if p := s.Pile("a"); len(problems) > 0 || p.Logs != 20 || p.Since.From != NewDate(2024, 4, 12) {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
	_, problems = stateOf(t, began("a", "logs = 20")+entry("inoculated", "2025-05-02", `pile = "a"`, `species = "reishi"`, "logs = 20"))
	if !has(problems, 0, "a pile of their own") {
		t.Error(lines(problems))
	}
}

func TestSpecies(t *testing.T) {
	set := loaded(t)
	yard := smallYard + "[[species]]\nname = \"fence oyster\"\nlike = \"oyster\"\n[[species]]\nname = \"puffball\"\n"
	for name, c := range map[string]struct{ like, said string }{
		"shiitake":     {"shiitake", ""},
		"shiitaky":     {"", "did you mean shiitake"},
		"fence oyster": {"oyster", ""},
		"puffball":     {"", "recorded and weighed, and not forecast"},
		"cordyceps":    {"", "known as dried goods only"},
		"xyzzy":        {"", "[[species]] with name = \"xyzzy\" and like ="},
	} {
		m := InMemory(map[string]string{YardFile: yard, JournalFile: entry("inoculated", "2024-04-12", `pile = "a"`, fmt.Sprintf("species = %q", name), "logs = 5")})
		f, _, err := OpenFiles(m, set, may)
		if err != nil {
			t.Fatal(err)
		}
		s, problems := f.State(may, 0)
		p := s.Pile("a")
		if p == nil || p.Like != c.like || p.Logs != 5 || (c.said == "") != (len(problems) == 0) || c.said != "" && !has(problems, 5, c.said) {
			t.Errorf("%s: %+v\n%s", name, p, lines(problems))
		}
	}
}

func TestUnknownStrain(t *testing.T) {
	s, problems := stateOf(t, began("a", `strain = "wide-rnage"`))
	if s.Pile("a").Strain != "" || !has(problems, 6, "did you mean wide-range?") {
		t.Errorf("%+v\n%s", s.Pile("a"), lines(problems))
	}
}

func TestArrived(t *testing.T) {
	for rest, want := range map[string][2]string{
		`inoculated = "2023"`: {"2023-01-01", "2023-12-31"},
		`inoculated = "2025"`: {"2025-01-01", "2025-06-01"}, // not after they came
		`state = "new"`:       {"2025-03-03", "2025-06-01"},
		`state = "through"`:   {"2022-12-14", "2025-06-01"},
		"":                    {"2022-12-14", "2025-06-01"},
	} {
		s, problems := stateOf(t, entry("arrived", "2025-06-01", `pile = "g"`, `species = "reishi"`, "logs = 6", rest))
		p := s.Pile("g")
		if len(problems) > 0 || p.Since.From.String() != want[0] || p.Since.To.String() != want[1] || p.Arrived.From != NewDate(2025, 6, 1) || p.Origin != "arrived" {
			t.Errorf("%s: %v to %v\n%s", rest, p.Since.From, p.Since.To, lines(problems))
		}
	}
}

func TestBuried(t *testing.T) {
	stack := entry("inoculated", "2024-04-12", `pile = "stack"`, `species = "reishi"`, `strain = "european"`, "logs = 20", `wood = "red oak"`, `diameter = "15 cm"`)
	s, problems := stateOf(t, stack+entry("buried", "2025-11-10", `bed = "bed"`, `from = "stack"`, "logs = 12", `depth = "5 cm"`))
	bed, from := s.Pile("bed"), s.Pile("stack")
	if len(problems) > 0 || bed.Species != "reishi" || bed.Strain != "european" || bed.Wood != "red oak" || bed.Diameter.Mid() != 15 || bed.Logs != 12 || !bed.Colonised ||
		bed.Kind != "bed" || bed.Since.From != NewDate(2025, 11, 10) || from.Logs != 8 || from.Gone[0].How != "moved" || bed.Depth.Mid() != 5 {
		t.Errorf("%+v\n%+v\n%s", bed, from, lines(problems))
	}
	s, _ = stateOf(t, stack+entry("buried", "2025-11-10", `bed = "bed"`, `from = "stack"`, "colonised = false"))
	bed, from = s.Pile("bed"), s.Pile("stack")
	if bed.Colonised || bed.Since.From != NewDate(2024, 4, 12) || bed.Logs != 20 || from.Logs != 0 || from.Closed != NewDate(2025, 11, 10) {
		t.Errorf("%+v\n%+v", bed, from)
	}
	s, problems = stateOf(t, entry("buried", "2025-11-10", `bed = "bed"`, `species = "reishi"`, `from = "stak"`, "logs = 5"))
	if s.Pile("bed") == nil || len(s.Sort) != 1 || !has(problems, 0, "no pile or bed is called") {
		t.Error(lines(problems))
	}
}

func TestMovedAndSplit(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40")+entry("moved", "2025-01-01", `pile = "a"`, `place = "under the hazel"`)+
		entry("checked", "2025-02-01", `pile = "a"`, "looked_at = 5", "with_mycelium = 2")+
		entry("harvested", "2025-10-01", `pile = "a"`, `fresh = "1 kg"`)+
		entry("split", "2025-11-01", `pile = "a"`, `into = "b"`, "logs = 10", `code = "B2"`))
	a, b := s.Pile("a"), s.Pile("b2")
	if len(problems) > 0 || a.Place != "under the hazel" || b.Place != "under the hazel" || a.Logs != 30 || b.Logs != 10 || b.Started != 10 || b.Since != a.Since ||
		len(b.Seen) != 2 || len(b.Picks) != 0 || b.Species != "shiitake" || len(b.Gone) != 0 {
		t.Errorf("%+v\n%+v\n%s", a, b, lines(problems))
	}
	s, problems = stateOf(t, began("a", "logs = 41")+entry("split", "2025-11-01", `pile = "a"`, `into = "b"`))
	if s.Pile("a").Logs != 21 || s.Pile("b").Logs != 20 || s.Pile("b").LogsKnown || !has(problems, 0, "half are taken") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a", "logs = 40")+entry("moved", "2025-01-01", `pile = "a"`, `place = "under the hazel"`, "logs = 10"))
	if s.Pile("a").Place != "" || !has(problems, 0, "[[split]]") {
		t.Error(summary(s, problems))
	}
}

func TestSeen(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40")+began("b")+
		entry("walked", "2025-03-01")+
		entry("walked", "2025-03-02", `piles = ["a"]`)+
		entry("checked", "2025-01-01", `pile = "a"`, "looked_at = 10", "with_mycelium = 4", "dull_knock = 0")+
		entry("noticed", "2025-02-01", `pile = "a"`, `what = "slugs"`, "logs = 3")+
		entry("pinned", "2025-09-20", `pile = "a"`, "logs = 5")+
		entry("harvested", "2025-10-01", `pile = "a"`, "logs = 6"))
	a := s.Pile("a")
	var got []string
	for _, x := range a.Seen {
		got = append(got, fmt.Sprintf("%s %v %d/%d %d %d %d %s", x.Kind, x.On, x.With, x.LookedAt, x.Spots, x.Dull, x.Logs, x.What))
	}
	want := []string{"checked 2025-01-01 4/10 -1 0 0 ", "noticed 2025-02-01 -1/0 -1 -1 3 slugs", "walked 2025-03-01 -1/0 -1 -1 0 ", "walked 2025-03-02 -1/0 -1 -1 0 ",
		"pinned 2025-09-20 -1/0 -1 -1 5 ", "harvested 2025-10-01 -1/0 -1 -1 6 "}
	if len(problems) > 0 || !slices.Equal(got, want) || len(s.Pile("b").Seen) != 1 {
		t.Errorf("%q\n%s", got, lines(problems))
	}
	s, problems = stateOf(t, began("a", "logs = 5")+entry("checked", "2025-01-01", `pile = "a"`, "looked_at = 10", "with_mycelium = 12"))
	if !has(problems, 0, "only 10 were looked at") || !has(problems, 0, "a has 5 logs, and 10 were looked at") || s.Pile("a").Seen[0].LookedAt != 12 {
		t.Error(lines(problems))
	}
	s, problems = stateOf(t, began("a")+entry("pinned", "2025-09-20", `pile = "a"`, `species = "reishi"`))
	if s.Pile("a").Seen[0].Kind != "noticed" || !has(problems, 0, "pins are of reishi") {
		t.Error(lines(problems))
	}
}

func TestHarvested(t *testing.T) {
	two := began("a", "logs = 40", `code = "A2"`) + began("b", "logs = 20")
	s, problems := stateOf(t, two+
		entry("harvested", "2025-10-01", `pile = "a2"`, `fresh = "2 lb"`)+
		entry("harvested", "2025-10-02", `piles = ["a", "b", "A2"]`, `fresh = "2-3 kg"`, "logs = 12")+
		entry("harvested", "2025-10-03", `pile = "a"`)+
		entry("harvested", "2024", `pile = "b"`, `fresh = "14 kg"`))
	a, b := s.Pile("a"), s.Pile("b")
	if len(problems) > 0 || len(s.Picks) != 4 || len(a.Picks) != 3 || len(b.Picks) != 2 {
		t.Fatal(summary(s, problems))
	}
	basket, blind, season := a.Picks[1], a.Picks[2], b.Picks[0]
	if !slices.Equal(basket.Piles, []string{"a", "b"}) || basket != b.Picks[1] || basket.Fresh != (Span{2, 3}) || basket.Logs != 12 || basket.Season || basket.Species != "shiitake" {
		t.Errorf("%+v", basket)
	}
	if blind.Weighed || blind.Fresh.Known() || !season.Season || season.Fresh.Mid() != 14 {
		t.Errorf("%+v %+v", blind, season)
	}
	s, problems = stateOf(t, two+entry("harvested", "2025-10-01", `pile = "oak-nroth"`, `species = "shiitake"`, `fresh = "1 kg"`)+
		entry("harvested", "2025-10-01", `species = "oyster"`, `fresh = "1 kg"`))
	if len(s.Sort) != 1 || len(s.Picks) != 2 || s.Picks[0].Species != "shiitake" || !has(problems, 0, `in the tray "to sort"`) {
		t.Error(summary(s, problems))
	}
	_, problems = stateOf(t, two+entry("harvested", "2025-10-01", `pile = "a"`, `species = "oyster"`, `fresh = "1 kg"`))
	if !has(problems, 0, "oyster was picked from a pile of shiitake") {
		t.Error(lines(problems))
	}
}

// More than 31 days is a season, a month is not.
func TestSeason(t *testing.T) {
	for on, want := range map[string]bool{"2025-10-01": false, "2025-W40": false, "2025-10": false, "2025-10-01 to 2025-10-31": false,
		"2025-10-01 to 2025-11-01": true, "2025": true} {
		s, _ := stateOf(t, began("a")+entry("harvested", on, `pile = "a"`))
		if got := s.Picks[0].Season; got != want {
			t.Errorf("%s is a season: %v", on, got)
		}
	}
}

// A round passes what still stands.
func TestWalkedPassesWhatStands(t *testing.T) {
	s, _ := stateOf(t, began("a")+began("b")+entry("retired", "2025-01-01", `pile = "b"`)+entry("walked", "2025-02-01"))
	if len(s.Pile("a").Seen) != 1 || len(s.Pile("b").Seen) != 0 {
		t.Error(summary(s, nil))
	}
}

// A vague day that begins before the pile does waits for it; one that ends
// before is pointed at, and counts all the same.
func TestEntriesWaitForTheirPile(t *testing.T) {
	s, problems := stateOf(t, entry("harvested", "2024", `pile = "a"`, `fresh = "1 kg"`)+began("a", "logs = 40"))
	if len(problems) > 0 || len(s.Pile("a").Picks) != 1 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, entry("harvested", "2023-10-01", `pile = "a"`, `fresh = "1 kg"`)+began("a", "logs = 40"))
	if !has(problems, 0, "2023-10-01 is before the pile began, on 2024-04-12") || len(s.Pile("a").Picks) != 1 || len(s.Sort) != 0 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, entry("split", "2024-01-01", `pile = "a"`, `into = "b"`)+entry("split", "2024-01-01", `pile = "b"`, `into = "a"`))
	if len(s.Piles) != 0 || len(s.Sort) != 2 {
		t.Error("two splits of each other: " + summary(s, problems))
	}
}

func TestLostAndRetired(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 10")+entry("lost", "2025-01-01", `pile = "a"`, "logs = 3", `cause = "rot"`)+entry("retired", "2025-06-01", `pile = "a"`, "logs = 2"))
	if a := s.Pile("a"); len(problems) > 0 || a.Logs != 5 || len(a.Gone) != 2 || a.Gone[0].Cause != "rot" || a.Gone[1].How != "retired" || a.Closed != 0 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a", "logs = 10")+entry("lost", "2025-01-01", `pile = "a"`, "logs = 12"))
	if a := s.Pile("a"); a.Logs != 0 || a.Closed != NewDate(2025, 1, 1) || !has(problems, 0, "a had 10 logs left, and 12 were lost") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a", "logs = 10")+entry("lost", "2025-01-01", `pile = "a"`))
	if a := s.Pile("a"); a.Logs != 10 || a.LogsKnown || !has(problems, 0, "is not said") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a")+entry("retired", "2025-01-01", `pile = "a"`))
	if a := s.Pile("a"); a.Closed != NewDate(2025, 1, 1) || len(problems) > 0 {
		t.Error(summary(s, problems))
	}
}

func TestCounted(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40")+entry("counted", "2026-01-01", `pile = "a"`, "logs = 31"))
	if a := s.Pile("a"); len(problems) > 0 || a.Logs != 31 || a.Started != 40 || a.Gone[0].Logs != 9 || a.Gone[0].How != "counted" {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a")+entry("counted", "2026-01-01", `pile = "a"`, "logs = 31"))
	if a := s.Pile("a"); len(problems) > 0 || a.Logs != 31 || !a.LogsKnown || len(a.Gone) != 0 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, entry("counted", "2026-01-01", `pile = "old"`, `species = "shiitake"`, "logs = 12")+entry("harvested", "2025-10-01", `pile = "old"`, `fresh = "1 kg"`))
	if o := s.Pile("old"); len(problems) > 0 || o.Logs != 12 || o.Origin != "counted" || len(o.Picks) != 1 || o.Since.To != NewDate(2025, 10, 1) {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, entry("counted", "2026-01-01", `pile = "old"`, "logs = 12"))
	if len(s.Piles) != 0 || len(s.Sort) != 1 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, began("a", "logs = 40")+entry("counted", "2026-01-01", `pile = "a"`, "logs = 50"))
	if s.Pile("a").Logs != 50 || !has(problems, 0, "50 were counted") {
		t.Error(summary(s, problems))
	}
}

func TestStock(t *testing.T) {
	shelf := entry("dried", "2025-10-01", `species = "shiitake"`, `fresh = "2.4 kg"`, `dry = "240 g"`, `lot = "D1"`) +
		entry("received", "2025-10-02", `species = "reishi"`, `dry = "1 lb"`, `lot = "R1"`, `from = "gift"`) +
		entry("bought", "2025-10-03", `item = "dried lion's mane"`, `amount = "200 g"`, `lot = "L1"`) +
		entry("bought", "2025-10-03", `item = "shiitake spawn"`, `amount = "5 kg"`) +
		entry("counted", "2025-10-04", `species = "turkey tail"`, `dry = "70 g"`) +
		entry("dried", "2025-10-05", `species = "shiitake"`, `dry = "60 g"`, `lot = "D2"`)
	s, problems := stateOf(t, shelf)
	if len(problems) > 0 || len(s.Dry) != 5 || s.OnHand("shiitake") != 300 || s.OnHand("turkey tail") != 70 || len(s.Bought) != 2 {
		t.Fatal(summary(s, problems))
	}
	if len(s.Dryings) != 1 || s.Dryings[0].FreshKG != 2.4 || s.Dryings[0].DryG != 240 || s.Dryings[0].Species != "shiitake" {
		t.Errorf("loads weighed before and after: %+v", s.Dryings)
	}
	if got := s.OnHand("reishi"); got < 453.592 || got > 453.593 {
		t.Errorf("%v g of reishi", got)
	}
	// A stock-take without a lot: the oldest were used first.
	s, _ = stateOf(t, shelf+entry("counted", "2026-01-01", `species = "shiitake"`, `dry = "100 g"`))
	if s.dryLot("D1").LeftG != 40 || s.dryLot("D2").LeftG != 60 {
		t.Error(summary(s, nil))
	}
	s, _ = stateOf(t, shelf+entry("counted", "2026-01-01", `species = "shiitake"`, `dry = "350 g"`))
	if s.OnHand("shiitake") != 350 {
		t.Error(summary(s, nil))
	}
	s, _ = stateOf(t, shelf+entry("counted", "2026-01-01", `lot = "D1"`, `dry = "10 g"`))
	if s.dryLot("D1").LeftG != 10 {
		t.Error(summary(s, nil))
	}
	_, problems = stateOf(t, entry("dried", "2025-10-01", `species = "shiitake"`, `fresh = "240 g"`, `dry = "2.4 kg"`)+
		entry("received", "2025-10-02", `species = "chaga"`, `dry = "100 g"`, `from = "gathered"`)+entry("dried", "2025-10-01", `species = "shiitake"`, `fresh = "1 kg"`))
	for _, want := range []string{"2.4 kg dried cannot come of 240 g fresh", "nobody is named who identified it", "the dried weight is not said"} {
		if !has(problems, 0, want) {
			t.Errorf("%s is not said\n%s", want, lines(problems))
		}
	}
}

// The batch of the trade's recipe takes 50 g of each of five (two jars, 25 g
// of each a jar, half a litre of spirit of 40 % each): common practice, no
// source.
func TestBatches(t *testing.T) {
	var shelf string
	for _, name := range []string{"shiitake", "lion's mane", "piopino", "reishi", "turkey tail"} {
		shelf += entry("received", "2025-10-01", fmt.Sprintf("species = %q", name), `dry = "80 g"`, fmt.Sprintf("lot = %q", "L "+name))
	}
	put := entry("macerated", "2025-11-01", `batch = "26-1"`, `recipe = "Five Mushrooms"`)
	s, problems := stateOf(t, shelf+put)
	if len(problems) > 0 || len(s.Batches) != 1 {
		t.Fatal(summary(s, problems))
	}
	b := s.Batches[0]
	if b.Jars != 2 || b.SpiritML != 1000 || b.SpiritABV != 40 || len(b.Ingredients) != 5 || b.Recipe != "five mushrooms" || !b.Bottled.IsZero() {
		t.Errorf("%+v", b)
	}
	for _, x := range b.Ingredients {
		if x.Grams != 50 || s.OnHand(x.Species) != 30 {
			t.Errorf("%+v, %v left", x, s.OnHand(x.Species))
		}
	}
	s, problems = stateOf(t, shelf+put+entry("bottled", "2025-12-20", `batch = "26-1"`, "bottles = 10"))
	if len(problems) > 0 || s.Batches[0].Bottled.From != NewDate(2025, 12, 20) || s.Bottles[0].Bottles[0] != (BottleCount{100, 10}) || s.Bottles[0].Recipe != "five mushrooms" {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+put+put)
	if len(s.Batches) != 1 || !has(problems, 0, "batch 26-1 was begun already") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, put)
	if s.Batches[0].Ingredients[0].Grams != 50 || !has(problems, 0, "50 g more than the record has") || s.OnHand("shiitake") != 0 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, entry("bottled", "2025-12-20", `batch = "25-9"`, `bottles = [{size = "100 ml", count = 7}]`))
	if len(s.Sort) != 1 || s.Bottles[0].Bottles[0].Count != 7 || !has(problems, 0, "no batch is called") {
		t.Error(summary(s, problems))
	}
	s, _ = stateOf(t, shelf+put+entry("bottled", "2025-12-20", `batch = "26-1"`, "bottles = 10")+entry("counted", "2026-01-05", `recipe = "five mushrooms"`, "bottles = 4"))
	if len(s.Bottles) != 1 || s.Bottles[0].Bottles[0] != (BottleCount{100, 4}) {
		t.Error(summary(s, nil))
	}
}

func TestOldestLotFirst(t *testing.T) {
	shelf := entry("received", "2025-10-01", `species = "shiitake"`, `dry = "40 g"`, `lot = "new"`) +
		entry("received", "2025-09-01", `species = "shiitake"`, `dry = "30 g"`, `lot = "old"`) +
		entry("received", "2025-08-01", `species = "shiitake"`, `dry = "30 g"`, `lot = "ground"`, `form = "powder"`)
	s, problems := stateOf(t, shelf+entry("macerated", "2025-11-01", `batch = "x"`, `recipe = "five mushrooms"`,
		`ingredients = [{species = "shiitake", form = "pieces", dry = "50 g"}]`))
	if len(problems) > 0 || s.dryLot("old").LeftG != 0 || s.dryLot("new").LeftG != 20 || s.dryLot("ground").LeftG != 30 || len(s.Batches[0].Ingredients) != 2 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+entry("macerated", "2025-11-01", `batch = "x"`, `recipe = "five mushrooms"`,
		`ingredients = [{species = "shiitake", dry = "50 g", lot = "new"}]`))
	if s.dryLot("new").LeftG != -10 || !has(problems, 0, "lot new held 10 g less than was taken") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+entry("macerated", "2025-11-01", `batch = "x"`, `recipe = "five mushrooms"`,
		`ingredients = [{species = "shiitake", dry = "50 g", lot = "nwe"}]`))
	if !has(problems, 0, "did you mean new?") || s.OnHand("shiitake") != 100 {
		t.Error(summary(s, problems))
	}
}

// Whatever happened, logs and grams are never made: what a pile had is what
// it has and what left it, as long as nobody took more than there was.
func TestLogsBalance(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40")+
		entry("split", "2025-01-01", `pile = "a"`, `into = "b"`, "logs = 15")+
		entry("lost", "2025-02-01", `pile = "a"`, "logs = 4")+
		entry("buried", "2025-03-01", `bed = "c"`, `from = "b"`, "logs = 5")+
		entry("counted", "2025-04-01", `pile = "a"`, "logs = 20")+
		entry("retired", "2025-05-01", `pile = "c"`))
	if len(problems) > 0 {
		t.Fatal(lines(problems))
	}
	for _, p := range s.Piles {
		gone := 0
		for _, g := range p.Gone {
			gone += g.Logs
		}
		if p.Started != p.Logs+gone {
			t.Errorf("%s: %d started, %d stand, %d gone", p.Name, p.Started, p.Logs, gone)
		}
	}
}
