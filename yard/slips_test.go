package yard

import (
	"strings"
	"testing"
)

// What people write is named for what it is, and what is said of it can be read
// when it is done.
func TestSlips(t *testing.T) {
	for line, want := range map[string][2]string{
		`on = 2025-01-01 pile = "a"`:    {"two keys stand on one line", "begin a new line before `pile = \"a\"`"},
		`on = 2025-01-01pile = "a"`:     {"two keys stand on one line", "begin a new line before `pile = \"a\"`"},
		`pile = "a", on = 2025-01-01`:   {"two keys stand on one line", "begin a new line before `on = 2025-01-01`"},
		`logs = 4 fresh = "2 kg"`:       {"two keys stand on one line", "begin a new line before `fresh = \"2 kg\"`"},
		`pile = “oak”`:                  {"curly quotes", `retype them as straight ones: pile = "oak"`},
		`“pile” = 4`:                    {"curly quotes", `"pile" = 4`},
		`on = 6.5.2025`:                 {"a day is not written so", "2025-05-06, or 2025-06-05"},
		`on = 16/5/2025`:                {"a day is not written so", "write year, month and day: 2025-05-16"},
		`on = 2025/5/6`:                 {"a day is not written so", "write year, month and day: 2025-05-06"},
		`on = 31.2.2025`:                {"a day is not written so", "such as 2026-04-12"},
		`on = 2025-5-7`:                 {"2025-5-7 is not written in two digits", "write 2025-05-07"},
		`on = 2025-13-07`:               {"2025-13-07 is not a day of the calendar", "write a day that exists"},
		`written = 2025-05-07T18:94:00`: {"18:94:00 is no time of day", "such as 2025-05-07T18:02:00"},
		`written = 2025-05-07T8:04:00`:  {"8:04:00 is no time of day", "two digits each"},
		`written = 2025-02-30T18:04:00`: {"2025-02-30 is not a day of the calendar", "write a day that exists"},
		`fresh = 2.4 kg`:                {"holds a value that cannot be read", `in quotes: fresh = "2.4 kg"`},
		`pile = oak-north`:              {"holds a value that cannot be read", `in quotes: pile = "oak-north"`},
		`pile = "a" "b"`:                {"holds a value that cannot be read", `in quotes: fresh = "2.4 kg"`},
		"note = C:\\x = \"":             {"", ""},
	} {
		j := readJournal([]byte("[[harvested]]\n"+line+"\n"+oak), &Terms{Today: may})
		problems := j.all()
		if len(j.entries) != 2 || len(problems) == 0 || problems[0].Line != 2 || !strings.Contains(problems[0].Text, want[0]) || !strings.Contains(problems[0].Remedy, want[1]) {
			t.Errorf("%s: %s", line, lines(problems))
		}
	}
	for head, want := range map[string][2]string{
		"[spoiled]]":                    {"`[spoiled]]` is not a table header", "write [[spoiled]]"},
		"[[spoiled]":                    {"`[[spoiled]` is not a table header", "write [[spoiled]]"},
		"[[harvested]] on = 2025-01-01": {"something stands behind the header `[[harvested]]`", "begin a new line before `on = 2025-01-01`"},
	} {
		j := readJournal([]byte(head+"\npile = \"a\"\n"+oak), &Terms{Today: may})
		if problems := j.all(); len(j.entries) != 2 || len(problems) != 1 || problems[0].Line != 1 || !strings.Contains(problems[0].Text, want[0]) || !strings.Contains(problems[0].Remedy, want[1]) {
			t.Errorf("%s: %s", head, lines(problems))
		}
	}
	s, problems := stateOf(t, oak+"[harvested]\non = 2025-01-01\npile = \"oak-north\"\nlooked_at = 4\n")
	if len(s.Picks) != 1 || !has(problems, 11, "looked_at is no key of [[harvested]]; the rest of the entry counts") {
		t.Error(lines(problems))
	}
	if got := withRowLeftOut("did you mean plug?"); got != "did you mean plug? Until then this row is left out" {
		t.Error(got)
	}
}
