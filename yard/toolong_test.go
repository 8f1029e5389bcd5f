package yard

import (
	"strings"
	"testing"
)

// The longest that may be recorded can be read again; what is longer is refused
// before anything is made of it, with the way out.
func TestLongestEntry(t *testing.T) {
	f, m := yardOf(t, oak)
	note := func(n int) string { return strings.Repeat("long ", n/5+1)[:n] }
	text, problems := Compose("walked", map[string]string{"on": "2026-04-30", "note": note(longestValue) + " "}, f.Terms())
	if text != "" || !strings.Contains(lines(problems), "note: 65 KB are more than the 64 KB that fit there: write less, and keep the rest in a file of its own") {
		t.Errorf("%d\n%s", len(text), lines(problems))
	}
	text, problems = Compose("walked", map[string]string{"on": "2026-04-30", "note": note(longestValue)}, f.Terms())
	if text == "" {
		t.Fatal(lines(problems))
	}
	record(t, f, text)
	values := map[string]string{"on": "2026-04-30", "what": note(longestValue), "how": note(longestValue), "note": note(longestValue), "place": note(longestValue)}
	if text, problems := Compose("cleaned", values, f.Terms()); text != "" || !has(problems, 0, "257 KB are more than the 255 KB that one entry holds") {
		t.Errorf("%d\n%s", len(text), lines(problems))
	}
	whole := "[[walked]]\non = 2026-04-30\nnote = \"\"\n"
	whole = strings.Replace(whole, `""`, `"`+note(longestEntry-len(whole))+`"`, 1)
	record(t, f, whole)
	if entries, problems := f.Entries(); len(entries) != 3 || len(problems) > 0 || entries[2].Event == nil {
		t.Errorf("%d entries\n%s", len(entries), lines(problems))
	}
	before := m.Text(JournalFile)
	if _, _, err := f.Record(strings.Replace(whole, `"`, `"x`, 1), "kitchen", atSix); err == nil || !strings.Contains(err.Error(), "nothing was recorded: 256 KB are more than the 255 KB") {
		t.Error(err)
	}
	if m.Text(JournalFile) != before {
		t.Error("something was written")
	}
}
