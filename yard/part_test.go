package yard

import "testing"

func TestPartByLetterOrColour(t *testing.T) {
	for name, want := range map[string]string{"A": "A", " b ": "B", "red": "A", "Light  Blue": "G", "two red": "J", "A red": "A", "three pink": "Z"} {
		if got := partName(name); got != want {
			t.Errorf("%q is part %q, want %q", name, got, want)
		}
	}
	for _, name := range []string{"I", "o", "1", "ZZ", "north end", "A blue", "four red", "ß", ""} {
		if n, ok := PartNumber(name); ok {
			t.Errorf("%q is read as part %d", name, n)
		}
	}
	for n := range PartLetters {
		for _, name := range []string{PartLetter(n), PartColour(n)} {
			if got, ok := PartNumber(name); !ok || got != n {
				t.Errorf("part %d is %q, read back as %d", n, name, got)
			}
		}
	}
	if PartLetter(-1)+PartLetter(len(PartLetters))+PartColour(-1)+PartColour(len(PartLetters)) != "" {
		t.Error("a part beyond the letters")
	}
}

// A part that is on no list, and more logs than stand, are kept and pointed at.
func TestSoakedPartIsPointedAt(t *testing.T) {
	for part, odd := range map[string]bool{"A": false, "red": false, "I": true, "1": true, "ZZ": true, "north end": true} {
		for _, entryOf := range []string{entry("soaked", "2025-06-01", `pile = "a"`, `part = "`+part+`"`),
			entry("walked", "2025-06-01", `piles = ["a"]`, `part = "`+part+`"`),
			entry("harvested", "2025-06-01", `pile = "a"`, `part = "`+part+`"`, `fresh = "1 kg"`)} {
			_, problems := stateOf(t, began("a", "logs = 40")+entryOf)
			if has(problems, 0, "neither letter nor colour of a part") != odd {
				t.Errorf("%s%s", entryOf, lines(problems))
			}
		}
	}
	s, problems := stateOf(t, began("a", "logs = 40")+entry("soaked", "2025-06-01", `pile = "a"`, `part = "red"`, "logs = 41")+
		entry("walked", "2025-06-20", `piles = ["a"]`, `part = "red"`)+entry("harvested", "2025-06-21", `pile = "a"`, `part = "b"`))
	p := s.Pile("a")
	if !has(problems, 0, "a has 40 logs, and 41 were soaked") || p.Soaked[0].Part != "A" || p.Picks[0].Part != "B" || p.Seen[0].Part != "A" {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
	for _, unsaid := range []string{entry("walked", "2025-06-01", `part = "A"`), entry("harvested", "2025-06-01", `piles = ["a", "b"]`, `part = "A"`)} {
		if _, problems := stateOf(t, began("a", "logs = 40")+began("b", "logs = 40")+unsaid); !has(problems, 0, `pile is named for part "A"`) {
			t.Errorf("%s%s", unsaid, lines(problems))
		}
	}
}

// All logs and a part of them are the same logs, in either order.
func TestSoakedPartThenAll(t *testing.T) {
	for _, c := range []struct{ first, then, odd string }{
		{`part = "A"`, "soak_hours = 12", "part A of a was soaked on 2025-06-01, and a on 2025-06-05 again"},
		{"soak_hours = 12", `part = "red"`, "a was soaked on 2025-06-01, and part A of a on 2025-06-05 again"},
		{"soak_hours = 12", "logs = 10", "a was soaked on 2025-06-01, and on 2025-06-05 again"},
		{`part = "red"`, `part = "A"`, "part A of a was soaked on 2025-06-01, and on 2025-06-05 again"},
		{`part = "A"`, "logs = 10", ""},
		{"logs = 10", "logs = 10", ""},
	} {
		_, problems := stateOf(t, began("a", "logs = 40")+entry("soaked", "2025-06-01", `pile = "a"`, c.first)+entry("soaked", "2025-06-05", `pile = "a"`, c.then))
		if c.odd == "" && len(problems) > 0 || c.odd != "" && !has(problems, 0, c.odd) {
			t.Errorf("%s, then %s:\n%s", c.first, c.then, lines(problems))
		}
	}
}
