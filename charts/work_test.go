package charts

import (
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

func kinds(tasks []Task) (list []string) {
	for _, t := range tasks {
		list = append(list, t.Kind)
	}
	return list
}

func oneOf(t *testing.T, tasks []Task, kind string) Task {
	t.Helper()
	for _, x := range tasks {
		if x.Kind == kind {
			return x
		}
	}
	t.Fatalf("no line of kind %q among %v", kind, kinds(tasks))
	return Task{}
}

// What has a day comes first and in order of day, then what can be seen in the
// yard, then what is wrong or missing in the record.
func TestWorkOfTheInventedYard(t *testing.T) {
	got := Work(aYard())
	want := []string{"strain", "start", "shake", "walk", "sort", "weigh", "count", "measure"}
	if !slices.Equal(kinds(got), want) {
		t.Fatalf("got %v, want %v", kinds(got), want)
	}
	for kind, says := range map[string]string{
		"strain":  "Strain T-26-01, decoct its marc and blend it on Wed 13 May, then bottle it on Thu 14 May.",
		"start":   "Put up T-26-03 (five mushrooms) on Thu 14 May: 50 g of shiitake, 50 g of reishi and 50 g of lion's mane.",
		"shake":   "Shake the jars of T-26-02 (until Fri 15 May) once a day.",
		"walk":    "Walk past oak-old (63 %) and elm-2024 (45 %) and pick what is up.",
		"sort":    "Sort 1 entry set aside: kitchen-214.",
		"weigh":   "Weigh what is left of R-26-02 (turkey tail, 20 g short).",
		"count":   "Count the logs of elm-2024.",
		"measure": "Measure how thick the logs of elm-2024 are.",
	} {
		if x := oneOf(t, got, kind); x.Do != says {
			t.Errorf("%s:\n got %q\nwant %q", kind, x.Do, says)
		}
	}
}

func TestEveryLineOfWorkCanBeClosed(t *testing.T) {
	for name, in := range yards() {
		b := newBook(in)
		for _, x := range Work(in) {
			if x.Do == "" || x.Why == "" || !strings.HasSuffix(x.Do, ".") || !strings.HasSuffix(x.Why, ".") {
				t.Errorf("%s: not two sentences: %q, %q", name, x.Do, x.Why)
			}
			if x.From > x.To || x.From < b.today() || x.To > b.fortnight() {
				t.Errorf("%s: %q from %s to %s, today is %s", name, x.Do, x.From, x.To, b.today())
			}
			if len(x.Close) == 0 && x.Kind != "shake" && x.Kind != "strain" && x.Kind != "tags" {
				t.Errorf("%s: nothing closes %q", name, x.Do)
			}
			for _, c := range x.Close {
				if !strings.HasPrefix(c, "hodaba ") {
					t.Errorf("%s: %q is no command", name, c)
				}
			}
		}
	}
}

// A step that is due after the fortnight is not work yet; one that was due is
// work today.
func TestStepsOfABatch(t *testing.T) {
	in := aYard()
	at := func(strain, bottled string) []Task {
		in.Result.Plan = &tincture.Plan{Standing: []tincture.Batch{{Lot: "T-1", Recipe: "r", Start: day("2026-04-01"),
			Strain: day(strain), Bottled: day(bottled), BottleML: 50}}}
		return newBook(in).batchSteps()
	}
	if got := at("2026-05-18", "2026-05-19"); len(got) != 0 {
		t.Errorf("due after the fortnight, and on the list: %v", got)
	}
	got := at("2026-05-17", "2026-05-18")
	if len(got) != 1 || got[0].Do != "Strain T-1 on Sun 17 May." || !slices.Equal(got[0].Close, []string{"hodaba record straining T-1"}) {
		t.Errorf("the last day of the fortnight: %+v", got)
	}
	got = at("2026-04-30", "2026-05-04")
	if len(got) != 1 || got[0].Do != "Strain T-1 now (it was due on Thu 30 Apr), then bottle it today." || got[0].From != day("2026-05-04") {
		t.Errorf("overdue: %+v", got)
	}
	if !slices.Equal(got[0].Close, []string{"hodaba record straining T-1", "hodaba record bottled T-1 '… x 50 ml'"}) {
		t.Errorf("closed by %q", got[0].Close)
	}
}

// A look is work when its day falls within the fortnight, those that narrow
// most first.
func TestWhichEndsAreLookedAt(t *testing.T) {
	look := func(on string, then int) *forecast.Visit {
		return &forecast.Visit{On: day(on), Ends: 10, NowDays: 300, Then: then}
	}
	now, later := "2026-05-04", "2026-05-18" // a Monday, and that after next week
	for _, c := range []struct {
		name   string
		visits [3]*forecast.Visit
		seen   string // when the ends of the first were looked at last
		want   string
	}{
		{"none worth while", [3]*forecast.Visit{nil, nil, {Round: true, NowDays: 90}}, "", ""},
		{"after the fortnight", [3]*forecast.Visit{look(later, 100)}, "", ""},
		{"on its last day", [3]*forecast.Visit{look("2026-05-17", 100)}, "", "a"},
		{"what narrows most first, two at most", [3]*forecast.Visit{look(now, 200), look(now, 280), look(now, 100)}, "", "c a"},
		{"looked at before", [3]*forecast.Visit{look(now, 100)}, "2026-03-01", "a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := aYard()
			in.State.Piles, in.Result.Piles = nil, nil
			for i, name := range []string{"a", "b", "c"} {
				p := aPile(name, "", "2025-04-12", 6)
				if i == 0 && c.seen != "" {
					p.Seen = []yard.Seen{{Kind: "checked", On: on(c.seen), LookedAt: 6, With: 1}}
				}
				in.State.Piles = append(in.State.Piles, p)
				f := aForecast(in.State, name, 14, 0.1)
				f.Why = &forecast.Why{Visit: c.visits[i]}
				in.Result.Piles = append(in.Result.Piles, f)
			}
			var got []string
			for _, x := range newBook(in).endChecks() {
				got = append(got, regexp.MustCompile(`of (\S+) and count`).FindStringSubmatch(x.Do)[1])
				if !strings.Contains(x.Do, "6 logs") {
					t.Errorf("of six logs, ten are to be looked at: %q", x.Do)
				}
			}
			if strings.Join(got, " ") != c.want {
				t.Errorf("got %v, want %q", got, c.want)
			}
		})
	}
}

func TestClosedPilesAskForNothing(t *testing.T) {
	in := aYard()
	for _, p := range in.State.Piles {
		p.Closed = day("2026-01-01")
	}
	for _, x := range Work(in) {
		if slices.Contains([]string{"walk", "check", "count", "measure"}, x.Kind) {
			t.Errorf("%s: %s", x.Kind, x.Do)
		}
	}
}

func TestAWalkYesterdayIsEnough(t *testing.T) {
	in := aYard()
	old := in.State.Pile("oak-old")
	old.Seen = append(old.Seen, yard.Seen{Kind: "walked", On: on("2026-05-03"), With: -1})
	if x := oneOf(t, Work(in), "walk"); strings.Contains(x.Do, "oak-old") {
		t.Error(x.Do)
	}
}

func TestFirstEvening(t *testing.T) {
	in := Input{State: &yard.State{AsOf: day("2026-05-04")}}
	got := Work(in)
	if len(got) != 1 || got[0].Kind != "first" {
		t.Errorf("a new folder asks for %v", kinds(got))
	}
}

// A date is never said without its chance or its range.
func TestNoDateWithoutItsChance(t *testing.T) {
	month := regexp.MustCompile(`(January|February|March|April|May|June|July|August|September|October|November|December) \d{4}`)
	for name, in := range yards() {
		said := append(Coming(in), NotYet(in)...)
		for _, p := range newBook(in).Result.Piles {
			said = append(said, leadOf(p, in.Result))
		}
		for _, s := range said {
			if month.MatchString(s) && !strings.Contains(s, "%") && !strings.Contains(s, "in 10") && !strings.Contains(s, "as early as") {
				t.Errorf("%s: %q", name, s)
			}
			if !strings.HasSuffix(s, ".") {
				t.Errorf("%s: not a sentence: %q", name, s)
			}
		}
	}
}

func TestNotYetGivesItsReason(t *testing.T) {
	got := strings.Join(NotYet(aYard()), "\n")
	for _, want := range []string{
		"Oak-north is not run through: it has had 131 growing days and half of its logs need about 150; half should be through by",
		"T-26-05 (maitake simple) has no day yet; the chance that it can be put up at all before May 2032 is 34 %: maitake is short in most years.",
		"Mystery has no forecast: its species is not known.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("missing: %s\nin:\n%s", want, got)
		}
	}
}

// Weeks begin on Monday (ISO 8601); 4 May 2026 is one (any calendar).
func TestSunday(t *testing.T) {
	for from, want := range map[string]string{
		"2026-05-04": "2026-05-10", "2026-05-09": "2026-05-10", "2026-05-10": "2026-05-10", "2026-05-11": "2026-05-17", "2027-01-01": "2027-01-03",
	} {
		if got := sunday(day(from)); got != day(want) {
			t.Errorf("the week of %s ends on %s, want %s", from, got, want)
		}
	}
}

// Whatever a pile is called, a POSIX shell gives the command the name as it
// is.
func TestAgainstTheShellNamesArriveWhole(t *testing.T) {
	for _, name := range append([]string{"oak-north", "two words", "it's", `"q"`, "$HOME", "a;b", "*", "überlang", "", "-n"}, evil...) {
		if strings.ContainsRune(name, 0) { // no command line can hold it
			continue
		}
		out, err := exec.Command("sh", "-c", "printf '%s' "+shell(name)).Output()
		if err != nil || string(out) != name {
			t.Errorf("%q arrives as %q (%v)", name, out, err)
		}
	}
}
