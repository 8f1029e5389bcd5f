package charts

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// inCalendar is the invented yard, with two batches on record beside those of
// its plan: one bottled, and one that stands and is strained.
func inCalendar() Input {
	in := aYard()
	in.State.Batches = []*yard.Batch{
		{Lot: "T-24-01", Recipe: "five mushrooms", On: on("2024-03-01"), Bottled: on("2024-04-02")},
		{Lot: "T-25-02", Recipe: "five mushrooms", On: on("2025-10-03"), Jars: 2, Strained: on("2025-11-04"),
			Strainings: []yard.Straining{{On: on("2025-11-04")}}, Decocted: on("2025-11-04"), Bottled: on("2025-11-05")},
		{Lot: "T-26-02", Recipe: "five mushrooms", On: on("2026-05-01"), Jars: 1, Strained: on("2026-05-03"),
			Strainings: []yard.Straining{{On: on("2026-05-03")}}},
	}
	in.Result.Plan.Standing[1].Strain, in.Result.Plan.Standing[1].ShakeUntil = 0, 0
	in.Data.Practice.Keeping = data.Keeping{Spoils: data.Number{Value: 18}, Usual: data.Number{Value: 25}}
	in.State.Entries = []*yard.Entry{{Written: "2026-05-03T18:02:00"}, {Written: "2026-05-04T09:30:00"}, {Written: "soon"}}
	return in
}

func icsOf(t testing.TB, in Input) string {
	t.Helper()
	b, err := BatchesICS(in)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestCalendarIsAsItWas(t *testing.T) {
	const golden = "testdata/batches.ics.golden"
	got := []byte(icsOf(t, inCalendar()))
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what it was: look at it, then run the test with -update\n%s", golden, cmp.Diff(string(want), string(got)))
	}
}

// part is a component as a plain reader of RFC 5545 has it.
type part struct {
	kind  string
	props map[string]string // by name and parameters, unescaped
}

var unescaped = strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\N`, "\n", `\;`, `;`, `\,`, `,`)

// partsOf holds the rules for lines (RFC 5545, 3.1) and takes a calendar
// apart: lines of at most 75 octets, each ended by CRLF, no other control
// signs, and every component closed.
func componentsOf(t interface{ Fatalf(string, ...any) }, calendar string) (parts []part) {
	if !utf8.ValidString(calendar) || !strings.HasSuffix(calendar, "\r\n") {
		t.Fatalf("no text in UTF-8 with CRLF at its end: %q", calendar)
	}
	for _, line := range strings.Split(calendar, "\r\n") {
		if len(line) > 75 || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			t.Fatalf("%d octets: %q", len(line), line)
		}
		if strings.TrimSpace(line) == "" && line != "" {
			t.Fatalf("a line of blanks alone, which some readers take for the end")
		}
	}
	var open []int
	unfolded := strings.ReplaceAll(calendar, "\r\n ", "")
	for _, line := range strings.Split(strings.TrimSuffix(unfolded, "\r\n"), "\r\n") {
		name, value, ok := strings.Cut(line, ":")
		if !ok || name == "" {
			t.Fatalf("no property: %q", line)
		}
		switch name {
		case "BEGIN":
			open = append(open, len(parts))
			parts = append(parts, part{value, map[string]string{}})
		case "END":
			if len(open) == 0 || parts[open[len(open)-1]].kind != value {
				t.Fatalf("%q closes nothing", line)
			}
			open = open[:len(open)-1]
		default:
			p := parts[open[len(open)-1]]
			if _, twice := p.props[name]; twice {
				t.Fatalf("%s twice in a %s", name, p.kind)
			}
			p.props[name] = unescaped.Replace(value)
		}
	}
	if len(open) > 0 {
		t.Fatalf("%d components stay open", len(open))
	}
	return parts
}

func partsLike(parts []part, kind string) []part {
	return slices.DeleteFunc(slices.Clone(parts), func(p part) bool { return p.kind != kind })
}

// What RFC 5545 asks of each component (3.6.1, 3.6.2, 3.6.6): one UID and one
// DTSTAMP, an end after the start, a to-do with a day, a reminder that counts
// from something that is there.
func TestAgainstWhatTheStandardAsks(t *testing.T) {
	parts := componentsOf(t, icsOf(t, inCalendar()))
	if v := parts[0]; v.kind != "VCALENDAR" || v.props["VERSION"] != "2.0" || v.props["METHOD"] != "PUBLISH" || v.props["PRODID"] == "" {
		t.Errorf("the calendar itself: %v", v)
	}
	seen := map[string]bool{}
	id := regexp.MustCompile(`^(event|todo)-(start|shake|strain|decoct|blend|bottle)-[0-9a-f]{24}@hodaba\.invalid$`)
	for _, p := range append(partsLike(parts, "VEVENT"), partsLike(parts, "VTODO")...) {
		uid := p.props["UID"]
		if !id.MatchString(uid) || seen[uid] {
			t.Errorf("identifier %q (twice: %t)", uid, seen[uid])
		}
		seen[uid] = true
		if p.props["DTSTAMP"] != "20260504T093000Z" || p.props["SEQUENCE"] != "20577" {
			t.Errorf("%s: stamped %s, %s", p.props["SUMMARY"], p.props["DTSTAMP"], p.props["SEQUENCE"])
		}
		if from, to := p.props["DTSTART;VALUE=DATE"], p.props["DTEND;VALUE=DATE"]; p.kind == "VEVENT" && !(from < to) {
			t.Errorf("%s: from %q to %q", p.props["SUMMARY"], from, to)
		}
		if due := p.props["DUE;VALUE=DATE"]; p.kind == "VTODO" && len(due) != len("20260504") {
			t.Errorf("%s: due %q", p.props["SUMMARY"], due)
		}
	}
	todos, open := partsLike(parts, "VTODO"), 0
	for _, p := range todos {
		if p.props["STATUS"] == "NEEDS-ACTION" {
			open++
		}
	}
	shaken := 0
	for _, p := range partsLike(parts, "VEVENT") {
		if p.props["RRULE"] != "" {
			shaken++
		}
	}
	alarms := partsLike(parts, "VALARM")
	for _, a := range alarms {
		trigger := a.props["TRIGGER;RELATED=END"] + a.props["TRIGGER"]
		if a.props["ACTION"] != "DISPLAY" || a.props["DESCRIPTION"] == "" || trigger == "" {
			t.Errorf("a reminder without what it needs: %v", a.props)
		}
	}
	// Three batches have days to come, two of them to be shaken beside the one
	// that stands; of those standing one is strained.
	if open != 2+2+3+3 || shaken != 3 || len(alarms) != open+shaken {
		t.Errorf("%d to do, %d reminders, %d to shake", open, len(alarms), shaken)
	}
}

// A later export, with other days, names the same things by the same
// identifiers, and comes after the earlier one.
func TestALaterExportUpdatesTheEarlier(t *testing.T) {
	identifiers := func(in Input) (ids []string, sequence string) {
		for _, p := range componentsOf(t, icsOf(t, in)) {
			if uid := p.props["UID"]; uid != "" {
				ids = append(ids, uid)
				sequence = p.props["SEQUENCE"]
			}
		}
		return ids, sequence
	}
	first, early := identifiers(inCalendar())
	later := inCalendar()
	later.State.AsOf++
	for i := range later.Result.Plan.Batches {
		b := &later.Result.Plan.Batches[i]
		if b.Start != 0 {
			b.Start, b.Strain, b.Decoct, b.Blend, b.Bottled, b.ShakeUntil = b.Start+9, b.Strain+9, b.Decoct+9, b.Blend+9, b.Bottled+10, b.ShakeUntil+9
			b.StartChance = 0.9
		}
	}
	second, late := identifiers(later)
	slices.Sort(first)
	slices.Sort(second)
	if d := cmp.Diff(first, second); d != "" {
		t.Error(d)
	}
	if !(early < late) || len(early) != len(late) {
		t.Errorf("sequence %s after %s", late, early)
	}
	// Put up as planned, under whatever lot, the batch stays what it was.
	put := inCalendar()
	plan := put.Result.Plan
	begun := plan.Batches[0]
	begun.Lot = "MY-OWN-7"
	put.State.Batches = append(put.State.Batches, &yard.Batch{Lot: begun.Lot, Recipe: begun.Recipe, On: yard.On(begun.Start), Jars: 2})
	plan.Standing, plan.Batches = append(plan.Standing, begun), plan.Batches[1:]
	third, _ := identifiers(put)
	slices.Sort(third)
	if d := cmp.Diff(first, third); d != "" {
		t.Error(d)
	}
	// Within a day, a later entry makes a later export.
	same := inCalendar()
	same.State.Entries = append(same.State.Entries, &yard.Entry{Written: "2026-05-04T19:00:00"})
	if s := icsOf(t, same); !strings.Contains(s, "DTSTAMP:20260504T190000Z") {
		t.Error("an entry later on the same day is not told apart")
	}
}

func TestACalendarOfNothingIsRefused(t *testing.T) {
	for name, in := range map[string]Input{
		"a new folder":   {},
		"nothing dated":  {Result: &forecast.Result{Plan: &tincture.Plan{Batches: []tincture.Batch{{Lot: "A", Recipe: "r", Reached: 0.1}}}}},
		"an empty plan":  {Result: &forecast.Result{Plan: &tincture.Plan{}}},
		"bottled of old": {State: &yard.State{AsOf: day("2026-05-04"), Batches: []*yard.Batch{{Lot: "A", On: on("2023-01-01"), Bottled: on("2023-03-01")}}}},
	} {
		if b, err := BatchesICS(in); err == nil || !strings.Contains(err.Error(), "hodaba batches") {
			t.Errorf("%s: %v, %d bytes", name, err, len(b))
		}
	}
	if got := Undated(aPlan()); !slices.Equal(got, []string{"T-26-05"}) {
		t.Errorf("without a day: %v", got)
	}
}

func TestTimesInTen(t *testing.T) {
	for p, want := range map[float64]string{0: "0 times in 10", 0.02: "less than 1 time in 10", 0.1: "1 time in 10", 0.82: "8 times in 10",
		0.9: "9 times in 10", 1: "more than 9 times in 10"} {
		if got := timesInTen(p); got != want {
			t.Errorf("%g: %q, not %q", p, got, want)
		}
	}
}

// nasty are names that would break a calendar that takes them as they are.
var nasty = []string{
	"oak; birch, elm", `back\slash\, \;`, "two\nlines", "three\r\nlines\rof it", "fake\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:pwned",
	"BEGIN:VEVENT", "Grüne Äpfel für Jürgen – ½ l", strings.Repeat("Pilztinktur mit Löwenmähne und Reishi ", 12), strings.Repeat("ä", 401),
	"\x00\a\x1b[2J\x7f", "bad \xff\xfe UTF-8 " + strings.Repeat("\xff", 200), "line\u2028separator\u2029and\u0085next", "\u202eright to left",
	"", "  ", strings.Repeat(" ", 300) + "x", "a\tb", `"quoted": 'so'`, "🍄" + strings.Repeat("🍄", 60), "=E4=F6", "50 % @ 20 °C", "-//X//", ":;,",
}

// withNames puts names that somebody typed wherever a calendar shows one.
func withNames(lot, recipe, species, name string) Input {
	in := inCalendar()
	in.State.Config.Name = name
	b := &in.Result.Plan.Batches[0]
	b.Lot, b.Recipe, b.Needs[0].Species = lot, recipe, species
	return in
}

// safeCalendar holds that what was typed stays within the property where it
// belongs, and is read back as it was cleaned.
func safeCalendar(t interface{ Fatalf(string, ...any) }, lot, recipe, species, name string) {
	in := withNames(lot, recipe, species, name)
	out, err := BatchesICS(in)
	if err != nil {
		t.Fatalf("%s", err)
	}
	want := newBook(in).appointments()
	parts := componentsOf(t, string(out))
	events, todos := partsLike(parts, "VEVENT"), partsLike(parts, "VTODO")
	todo := 0
	for i, a := range want {
		if i >= len(events) || events[i].props["SUMMARY"] != a.summary || events[i].props["DESCRIPTION"] != a.description {
			t.Fatalf("%q, %q are not read back: %v", a.summary, a.description, events[min(i, len(events)-1)].props)
		}
		if a.step != shakeStep {
			if todo >= len(todos) || todos[todo].props["SUMMARY"] != a.summary {
				t.Fatalf("%q is not read back as a to-do", a.summary)
			}
			todo++
		}
	}
	if len(events) != len(want) || len(todos) != todo || len(partsLike(parts, "VCALENDAR")) != 1 {
		t.Fatalf("%d events and %d to-dos of %d and %d", len(events), len(todos), len(want), todo)
	}
}

func TestNamesThatSomebodyTyped(t *testing.T) {
	for _, s := range nasty {
		safeCalendar(t, s, "r", "shiitake", "yard")
		safeCalendar(t, "L-1", s, s, s)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom(nasty), rapid.StringMatching(`[;,\\nN:\r\n "a ä-]{0,120}`))
		safeCalendar(t, text.Draw(t, "lot"), text.Draw(t, "recipe"), text.Draw(t, "species"), text.Draw(t, "name"))
	})
}

func TestCalendarText(t *testing.T) {
	for s, want := range map[string]string{
		"a\r\nb\rc\nd\u2028e\u2029f\u0085g\vh\fi": "a\nb\nc\nd\ne\nf\ng\nh\ni", "\x00a\x07\x7f\u202eb\xff": "ab?", " a \t  b\u00a0\n c ": "a b\nc",
		`a\nb`: "a/nb", "½ l, 20 °C; ok": "½ l, 20 °C; ok",
	} {
		if got := calendarText(s); got != want {
			t.Errorf("%q: %q, not %q", s, got, want)
		}
	}
}

func FuzzCalendarText(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		clean := calendarText(s)
		if again := calendarText(clean); again != clean {
			t.Fatalf("%q, cleaned again %q", clean, again)
		}
		if !utf8.ValidString(clean) || strings.ContainsFunc(clean, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f }) {
			t.Fatalf("%q", clean)
		}
		safeCalendar(t, s, s, s, s)
	})
}
