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
