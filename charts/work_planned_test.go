package charts

import (
	"slices"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// plannedYard is a yard with these plans and lots, as of a day.
func plannedYard(asOf string, plans []yard.Planning, lots ...*yard.FelledLot) *book {
	set := &data.Set{}
	set.Practice.RestLeast, set.Practice.RestMost = data.Number{Value: 14}, data.Number{Value: 60}
	return newBook(Input{State: &yard.State{AsOf: day(asOf), Planned: plans, Felled: lots}, Data: set})
}

func inMonth(s string) yard.When {
	from := day(s + "-01")
	return yard.When{From: from, To: from.AddMonths(1) - 1, Text: s}
}

func aPlanOf(pile, wood, month string, logs, done int) yard.Planning {
	k := yard.Planning{On: on("2026-01-10"), Pile: pile, Species: "shiitake", Wood: wood, Logs: logs, Done: done, Left: max(0, logs-done),
		Month: inMonth(month), Entry: &yard.Entry{ID: "kitchen-4"}}
	if done > 0 {
		k.Last = on("2026-03-07")
	}
	return k
}

func aLotOf(lot, wood, felled string, logs, left int) *yard.FelledLot {
	return &yard.FelledLot{Lot: lot, Wood: wood, On: on(felled), Logs: logs, Left: left, Untreated: true,
		Entry: &yard.Entry{ID: "kitchen-7", Event: &yard.Felled{Logs: logs}}}
}

func treatedLot() *yard.FelledLot {
	l := aLotOf("F", "paper birch", "2026-01-10", 40, 40)
	l.Untreated = false
	return l
}

// 2 March 2026 is a Monday; its fortnight ends on Sunday, 15 March.
func TestPlannedInoculationsAreWork(t *testing.T) {
	void := aPlanOf("later", "", "2026-03", 10, 0)
	void.Until = day("2026-04-01")
	full := aPlanOf("birch-3", "paper birch", "2026-03", 30, 0)
	full.Strain, full.Spawn = "wide-range", "sawdust"
	b := plannedYard("2026-03-02", []yard.Planning{aPlanOf("april", "", "2026-04", 10, 0), full, void, aPlanOf("done", "", "2026-03", 10, 10),
		{Soak: "oak", Week: on("2026-03-03")}, aPlanOf("oak five", "", "2026-03", 0, 0)})
	got := b.inoculating()
	if len(got) != 3 {
		t.Fatalf("%+v", got)
	}
	if x := got[0]; x.Do != "Inoculate 30 logs of birch-3 with shiitake (paper birch, wide-range, sawdust spawn)." || x.Why != "It is planned for March 2026." ||
		x.From != day("2026-03-02") || x.To != day("2026-03-15") || !slices.Equal(x.Close, []string{"hodaba record inoculated birch-3", "hodaba record put_off 'inoculate birch-3' until=…"}) {
		t.Errorf("%+v", x)
	}
	if x := got[1]; x.Do != "Inoculate the logs of oak five with shiitake." || x.Close[0] != "hodaba record inoculated 'oak five'" {
		t.Errorf("%+v", x)
	}
	if x := got[2]; x.Kind != "tags" || x.Do != "Make the tags of birch-3 and oak five before the day." {
		t.Errorf("%+v", x)
	}
	// In the last days of a month that of the next is due, too.
	b = plannedYard("2026-03-23", []yard.Planning{aPlanOf("april", "", "2026-04", 10, 0)})
	if got := b.inoculating(); len(got) != 2 || got[0].From != day("2026-04-01") || got[0].To != day("2026-04-05") {
		t.Errorf("%+v", got)
	}
}

func TestWhatIsLeftOfAPlanIsCarriedOver(t *testing.T) {
	b := plannedYard("2026-04-06", []yard.Planning{aPlanOf("birch-3", "", "2026-03", 30, 18)})
	got := b.inoculating()
	if len(got) != 1 {
		t.Fatalf("%+v", got)
	}
	x := got[0]
	if x.Do != "Inoculate the other 12 logs of birch-3 with shiitake, left over from March 2026." ||
		x.Why != "The plan stands until they are done, put off or given up; 18 of 30 were done by 7 March 2026." || x.Close[2] != "hodaba correct kitchen-4 logs=18" {
		t.Errorf("%+v", x)
	}
}

func TestRestingLogsHaveAnAlarm(t *testing.T) {
	birch := aLotOf("F-26-01", "paper birch", "2026-01-21", 30, 12)
	for asOf, want := range map[string]string{
		"2026-01-25": "", // they have rested on 4 February; the fortnight ends on the 1st
		"2026-01-18": "",
		"2026-01-22": "",
		"2026-03-02": "Inoculate the 12 logs of lot F-26-01 (paper birch) by Sun 22 Mar: they were felled 40 days ago.",
		"2026-03-22": "Inoculate the 12 logs of lot F-26-01 (paper birch) by Sun 22 Mar: they were felled 60 days ago.",
		"2026-03-23": "Inoculate the 12 logs of lot F-26-01 (paper birch) now, or use them for something else: they were felled 61 days ago.",
	} {
		said := ""
		for _, x := range plannedYard(asOf, nil, birch).resting() {
			said = x.Do
			if x.From > x.To || x.From < day(asOf) || len(x.Close) != 3 || x.Close[2] != "hodaba correct kitchen-7 logs=18" {
				t.Errorf("%s: %+v", asOf, x)
			}
		}
		if said != want {
			t.Errorf("%s:\n got %q\nwant %q", asOf, said, want)
		}
	}
	treated, gone, later := aLotOf("T", "", "2026-01-01", 5, 5), aLotOf("G", "", "2026-01-01", 5, 0), aLotOf("L", "", "2026-01-01", 5, 5)
	treated.Untreated, later.Until = false, day("2026-06-01")
	got := plannedYard("2026-03-02", nil, treated, gone, later).resting()
	if len(got) != 1 || got[0].Do != "Use the 5 logs of lot T for something else than mushrooms." || !strings.Contains(got[0].Why, "treated") {
		t.Errorf("%+v", got)
	}
	vague := aLotOf("V", "", "2026-01-01", 5, 5)
	vague.On.To = day("2026-01-31")
	if got := plannedYard("2026-03-02", []yard.Planning{aPlanOf("birch-3", "paper birch", "2026-03", 30, 18)}, vague).resting(); len(got) != 1 ||
		!strings.HasSuffix(got[0].Do, "they were felled 30 to 60 days ago.") || got[0].Close[0] != "hodaba record inoculated birch-3 felled=V … logs" {
		t.Errorf("%+v", got)
	}
}

func TestFellingIsAskedForInTime(t *testing.T) {
	plans := []yard.Planning{aPlanOf("birch-3", "paper birch", "2026-03", 30, 10), aPlanOf("birch-4", "paper birch", "2026-04", 10, 0), aPlanOf("oak-5", "white oak", "2026-06", 40, 0)}
	for name, c := range map[string]struct {
		asOf string
		lots []*yard.FelledLot
		want []string
	}{
		"too early":      {"2025-12-01", nil, nil},
		"in time":        {"2026-01-05", nil, []string{"Fell or fetch 20 logs of paper birch for birch-3."}},
		"for both":       {"2026-02-02", nil, []string{"Fell or fetch 30 logs of paper birch for birch-3 and birch-4."}},
		"some rest":      {"2026-02-02", []*yard.FelledLot{aLotOf("F", "paper birch", "2026-01-10", 20, 12)}, []string{"Fell or fetch 18 logs of paper birch for birch-3 and birch-4."}},
		"all rest":       {"2026-02-02", []*yard.FelledLot{aLotOf("F", "paper birch", "2026-01-10", 40, 32)}, nil},
		"other wood":     {"2026-01-05", []*yard.FelledLot{aLotOf("F", "white oak", "2026-01-10", 40, 40)}, []string{"Fell or fetch 20 logs of paper birch for birch-3."}},
		"treated":        {"2026-01-05", []*yard.FelledLot{treatedLot()}, []string{"Fell or fetch 20 logs of paper birch for birch-3."}},
		"nobody counted": {"2026-02-02", []*yard.FelledLot{aLotOf("F", "", "2026-01-10", 0, 0)}, nil},
	} {
		var said []string
		for _, x := range plannedYard(c.asOf, plans, c.lots...).felling() {
			said = append(said, x.Do)
			if !strings.Contains(x.Why, "chainsaw") || x.From < day(c.asOf) || x.From > x.To || !strings.HasPrefix(x.Close[0], "hodaba record felled lot=… wood='paper birch' logs=") {
				t.Errorf("%s: %+v", name, x)
			}
		}
		if !slices.Equal(said, c.want) {
			t.Errorf("%s: %q, want %q", name, said, c.want)
		}
	}
}

// Every line stands within the fortnight and is two sentences.
func TestPlannedLinesAreWhole(t *testing.T) {
	for _, asOf := range []string{"2025-12-20", "2026-01-31", "2026-02-28", "2026-03-02", "2026-03-31", "2026-04-30", "2027-01-01"} {
		b := plannedYard(asOf, []yard.Planning{aPlanOf("birch-3", "paper birch", "2026-03", 30, 0), aPlanOf("", "", "2026-04", 30, 0)}, aLotOf("F", "white oak", "2026-01-10", 40, 32))
		for _, x := range b.work() {
			if x.Kind == "first" {
				continue
			}
			if !strings.HasSuffix(x.Do, ".") || !strings.HasSuffix(x.Why, ".") || x.From > x.To || x.From < b.today() || x.To > b.fortnight() ||
				len(x.Close) == 0 && x.Kind != "tags" {
				t.Errorf("%s: %+v", asOf, x)
			}
		}
	}
}

// The story of felled logs, one step forward, and of a picking, one step back.
func TestLotOfFelledLogs(t *testing.T) {
	l := aLotOf("F-26-01", "paper birch", "2026-01-21", 30, 12)
	p := aPile("birch-3", "B3", "2026-03-07", 18)
	l.From, l.Untreated, l.Went = "own hedge", false, []yard.LotWent{{On: on("2026-03-07"), Pile: p, Logs: 18}}
	s := &yard.State{AsOf: day("2026-05-04"), Piles: []*yard.Pile{p}, Felled: []*yard.FelledLot{l},
		Picks: []*yard.Pick{{On: on("2026-05-01"), Piles: []string{"birch-3"}, Species: "shiitake", Lot: "P-1"}}}
	story, ok := Lot(s, "f-26-01")
	if !ok || story.Is[0] != "felled logs of paper birch" || story.Left != "12 logs not inoculated yet" || story.To[0].Says != "18 logs went into birch-3." ||
		story.From[0].Says != "30 logs of paper birch were felled, from own hedge; the wood was treated, and nothing grown on it may be eaten." {
		t.Errorf("%+v", story)
	}
	story, _ = Lot(s, "P-1")
	if !slices.ContainsFunc(story.From, func(x LotLine) bool {
		return strings.HasSuffix(x.Says, "with spawn of lot S-25-04 on wood of lot F-26-01.")
	}) {
		t.Errorf("%+v", story)
	}
	if !slices.Contains(Lots(s), "F-26-01") {
		t.Error("the lot is not among the lots")
	}
}
