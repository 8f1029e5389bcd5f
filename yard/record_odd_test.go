package yard

import (
	"strings"
	"testing"
)

// What is odd with an entry is known when it is recorded, of all that stood
// before it; in a very long journal it is left to verify.
func TestOddInWhatWasRecorded(t *testing.T) {
	f, m := yardOf(t, began("oak", "logs = 40")+entry("soaked", "2026-04-20", `pile = "oak"`, `part = "A"`)+entry("lost", "2026-04-20", `pile = "oak"`, "logs = 90"))
	record := func(values map[string]string) []Problem {
		text, _ := Compose("soaked", values, f.Terms())
		id, _, err := f.Record(text, "kitchen", "2026-05-01T18:00:00")
		if err != nil {
			t.Fatal(err)
		}
		return f.OddIn(id)
	}
	odd := record(map[string]string{"on": "2026-04-30", "pile": "oak"})
	if len(odd) != 1 || !strings.Contains(odd[0].Text, "part A of oak was soaked on 2026-04-20, and oak on 2026-04-30 again") {
		t.Errorf("of the new entry alone: %s", lines(odd))
	}
	if odd := record(map[string]string{"on": "2026-01-30", "pile": "oak"}); len(odd) != 0 {
		t.Errorf("three months before: %s", lines(odd))
	}
	m.files[JournalFile] = append(m.files[JournalFile], strings.Repeat("# long\n", mostReplayed/7)...)
	f.read = nil
	if odd := record(map[string]string{"on": "2026-04-29", "pile": "oak"}); len(odd) != 0 {
		t.Errorf("in a very long journal: %s", lines(odd))
	}
}

// What verify would say of an entry alone is said when it is recorded, too: of
// amounts, days, loads, batches, of what is written twice, and of frost. Of what
// others are made of by it, and of what is as it should be, nothing is said.
func TestOddAtOnce(t *testing.T) {
	f, m := yardOf(t, began("oak", "logs = 40")+entry("lost", "2026-04-20", `pile = "oak"`, "logs = 90")+
		entry("harvested", "2025-10-10", `pile = "oak"`, `fresh = "2.4 kg"`))
	m.files[WeatherFile] = []byte("date,tmin_c,tmax_c,rain_mm\n2026-01-05,-7,1,0\n2026-02-05,4,9,0\n")
	for _, c := range []struct {
		kind, values, want string
	}{
		{"harvested", "on 2025-10-20 pile oak fresh 240kg", "240kg from 40 logs is a great deal"},
		{"harvested", "on 2025-10-20 pile oak fresh 2g", "2g is less than one mushroom"},
		{"harvested", "on 2025-10-20 pile oak fresh 2.4kg", ""},
		{"harvested", "on 2025-10-20 pile oak fresh 2.4kg", "this says the same as entry kitchen-3"},
		{"dried", "on 2025-10-21 species shiitake fresh 1.2kg dry 14g", "1 % of it"},
		{"dried", "on 2025-10-21 species shiitake fresh 1.2kg dry 140g", ""},
		{"loaded", "on 2026-04-30 load 7 species shiitake fresh 850kg", "850kg in one load of the drier is a great deal"},
		{"soaked", "on 2026-01-05 pile oak", "that night -7 °C were measured"},
		{"soaked", "on 2026-02-05 pile oak", ""},
		{"strained", "on 2026-02-05 batch b1", "no batch is called \"b1\""},
	} {
		values := map[string]string{}
		words := strings.Fields(c.values)
		for i := 0; i < len(words); i += 2 {
			values[words[i]] = words[i+1]
		}
		text, _ := Compose(c.kind, values, f.Terms())
		id, _, err := f.Record(text, "kitchen", "2026-05-01T18:00:00")
		if err != nil {
			t.Fatal(err)
		}
		odd := f.OddIn(id)
		if c.want == "" && len(odd) > 0 || c.want != "" && !has(odd, 0, c.want) {
			t.Errorf("%s %s: %s", c.kind, c.values, lines(odd))
		}
	}
}
