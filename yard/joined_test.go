package yard

import (
	"reflect"
	"slices"
	"testing"
)

func TestJoinedIntoANewPile(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 10")+entry("inoculated", "2024-05-02", `pile = "b"`, `species = "shiitake"`, `wood = "white oak"`, "logs = 30")+
		entry("checked", "2025-02-01", `pile = "b"`, "looked_at = 5", "with_mycelium = 2")+entry("harvested", "2025-10-01", `pile = "a"`, `fresh = "1 kg"`)+
		entry("joined", "2025-11-01", `piles = ["a", "b"]`, `into = "c"`, `code = "C2"`, `place = "under the hazel"`))
	a, b, c := s.Pile("a"), s.Pile("b"), s.Pile("c2")
	if len(problems) > 0 || c == nil {
		t.Fatal(lines(problems))
	}
	if c.Name != "c" || c.Logs != 40 || c.Started != 40 || !c.LogsKnown || c.Wood != "white oak" || c.Since != b.Since || len(c.Seen) != 1 || len(c.Picks) != 0 || c.Place != "under the hazel" || c.Closed != 0 {
		t.Errorf("%+v", c)
	}
	if a.Logs != 0 || b.Logs != 0 || a.Closed != NewDate(2025, 11, 1) || b.Closed != a.Closed || len(a.Picks) != 1 || a.Gone[0].Cause != "to c" {
		t.Errorf("%+v\n%+v", a, b)
	}
	for _, book := range append(s.LogBook(), s.AllLogs()) {
		if err := book.Balance(); err != nil {
			t.Error(err)
		}
	}
}

func TestJoinedIntoOneThatStands(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 10", `code = "A2"`)+began("b", "logs = 30", `wood = "white oak"`)+
		entry("checked", "2025-02-01", `pile = "b"`, "looked_at = 5", "with_mycelium = 2")+
		entry("joined", "2025-11-01", `piles = ["a2", "b"]`, `into = "a"`)+entry("lost", "2025-12-01", `pile = "a"`, "logs = 4"))
	a, b := s.Pile("a"), s.Pile("b")
	if len(problems) > 0 || a.Logs != 36 || a.Wood != "white oak" || len(a.Seen) != 1 || b.Closed != NewDate(2025, 11, 1) || a.Code != "A2" {
		t.Errorf("%+v\n%+v\n%s", a, b, lines(problems))
	}
	// The number of some was never written: that of all is not known, either.
	s, problems = stateOf(t, began("a")+began("b", "logs = 30")+entry("joined", "2025-11-01", `piles = ["a"]`, `into = "b"`))
	if a, b := s.Pile("a"), s.Pile("b"); len(problems) > 0 || b.LogsKnown || b.Logs != 30 || a.Closed == 0 {
		t.Errorf("%+v\n%+v\n%s", a, b, lines(problems))
	}
	s, problems = stateOf(t, began("a", "logs = 3")+entry("joined", "2025-11-01", `piles = ["a", "x"]`, `into = "b"`))
	if s.Pile("b") == nil || s.Pile("b").Logs != 3 || len(s.Sort) != 1 || !has(problems, 0, "no pile or bed is called") {
		t.Error(summary(s, problems))
	}
	_, problems = stateOf(t, began("a", "logs = 3")+entry("inoculated", "2025-04-12", `pile = "b"`, `species = "shiitake"`, "logs = 4")+
		entry("joined", "2025-11-01", `piles = ["a", "b"]`, `into = "c"`))
	if !has(problems, 0, "a began on 2024-04-12, not on 2025-04-12") {
		t.Error(lines(problems))
	}
}

// A pile answers to its old names, in every order in which they are used.
func TestRenamed(t *testing.T) {
	journal := began("a", "logs = 10") + entry("harvested", "2025-05-01", `pile = "a"`, `fresh = "1 kg"`) +
		entry("harvested", "2025-05-08", `pile = "b"`, `fresh = "2 kg"`) + // the new name, of a day before
		entry("renamed", "2025-06-01", `pile = "a"`, `to = "b"`, `code = "B2"`) +
		entry("harvested", "2025-07-01", `pile = "a"`, `fresh = "3 kg"`) + entry("renamed", "2025-08-01", `pile = "b2"`, `to = "c"`) +
		entry("harvested", "2025-09-01", `piles = ["c", "a"]`, `fresh = "4 kg"`)
	s, problems := stateOf(t, journal)
	p := s.Pile("a")
	if len(problems) > 0 || len(s.Piles) != 1 || p == nil || p.Name != "c" || p.Code != "B2" || !slices.Equal(p.Formerly, []string{"a", "b"}) || len(p.Picks) != 4 {
		t.Fatalf("%+v\n%s", p, lines(problems))
	}
	for _, k := range s.Picks {
		if !slices.Equal(k.Piles, []string{"c"}) {
			t.Errorf("picked from %v", k.Piles)
		}
	}
	if s.Pile("b") != p || s.Pile("C") != p || (&State{Piles: s.Piles}).Pile("A") != p {
		t.Error("it does not answer to its names")
	}
	for name, want := range map[string][]string{"a": {"a", "c", "B2", "b"}, "C": {"C", "B2", "a", "b"}, "x": {"x"}} {
		if got := s.Called(name); !reflect.DeepEqual(got, want) {
			t.Errorf("%s was called %v, want %v", name, got, want)
		}
	}
}

// Back to the first name; a name that another pile has is not taken.
func TestRenamedBack(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 10")+entry("renamed", "2025-06-01", `pile = "a"`, `to = "b"`)+entry("renamed", "2025-07-01", `pile = "b"`, `to = "a"`)+
		entry("split", "2025-08-01", `pile = "a"`, `into = "d"`, "logs = 4"))
	if p := s.Pile("b"); len(problems) > 0 || p.Name != "a" || !slices.Equal(p.Formerly, []string{"b"}) || s.Pile("d").Formerly != nil {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
}
