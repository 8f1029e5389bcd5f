package yard

import (
	"fmt"
	"testing"
)

func TestSoaked(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40", `code = "A2"`)+
		entry("soaked", "2025-06-20", `pile = "a"`, `part = "B"`, "logs = 12", "soak_hours = 24")+
		entry("soaked", "2025-06-01", `pile = "a2"`, `part = "A"`, "logs = 12")+
		entry("soaked", "2025-08-01", `pile = "a"`, `part = "A"`, "soak_hours = 20", "hours = 1.5"))
	var got []string
	for _, k := range s.Pile("a").Soaked {
		got = append(got, fmt.Sprintf("%v %s %d %v", k.On, k.Part, k.Logs, k.Hours))
	}
	if len(problems) > 0 || fmt.Sprint(got) != "[2025-06-01 A 12 0 2025-06-20 B 12 24 2025-08-01 A 0 20]" {
		t.Errorf("%v\n%s", got, lines(problems))
	}
	if e := s.Entries[len(s.Entries)-1]; e.Hours != 1.5 {
		t.Errorf("%v hours of work", e.Hours)
	}
}

// Only what is certainly the same logs within three weeks is pointed at.
func TestSoakedTooSoon(t *testing.T) {
	for again, odd := range map[string]bool{
		entry("soaked", "2025-06-21", `pile = "a"`, `part = "A"`): true,
		entry("soaked", "2025-06-22", `pile = "a"`, `part = "A"`): false,
		entry("soaked", "2025-06", `pile = "a"`, `part = "A"`):    false, // it may have been the last of the month
		entry("soaked", "2025-06-05", `pile = "a"`, `part = "B"`): false,
		entry("soaked", "2025-06-05", `pile = "a"`, "logs = 12"):  false, // these may be others
		entry("soaked", "2025-05-20", `pile = "a"`, `part = "A"`): true,
	} {
		_, problems := stateOf(t, began("a", "logs = 40")+entry("soaked", "2025-06-01", `pile = "a"`, `part = "A"`)+again)
		if has(problems, 0, "logs rest between two soaks") != odd {
			t.Errorf("%s\n%s", again, lines(problems))
		}
	}
	_, problems := stateOf(t, began("a", "logs = 40")+entry("soaked", "2025-06-01", `pile = "a"`)+entry("soaked", "2025-06-09", `pile = "a"`, "logs = 40"))
	if !has(problems, 0, "a was soaked on 2025-06-01") {
		t.Error(lines(problems))
	}
}

// A pile that was split off has the soaks it had until then, and goes on by
// itself.
func TestSoaksOfASplitPile(t *testing.T) {
	journal := began("a", "logs = 40")
	for day := 1; day <= 3; day++ { // room for one more in the list of the old pile
		journal += entry("soaked", fmt.Sprintf("2024-0%d-01", day+5), `pile = "a"`, fmt.Sprintf("soak_hours = %d", day)) +
			entry("watered", fmt.Sprintf("2024-0%d-01", day+5), `pile = "a"`, fmt.Sprintf("hours = %d", day))
	}
	s, _ := stateOf(t, journal+entry("split", "2025-01-01", `pile = "a"`, `into = "b"`, "logs = 10")+
		entry("soaked", "2025-06-01", `pile = "b"`, "soak_hours = 20")+entry("soaked", "2025-07-01", `pile = "a"`, "soak_hours = 30")+
		entry("watered", "2025-06-01", `pile = "b"`, "hours = 20")+entry("watered", "2025-07-01", `pile = "a"`, "hours = 30"))
	a, b := s.Pile("a"), s.Pile("b")
	if len(a.Soaked) != 4 || len(b.Soaked) != 4 || a.Soaked[3].Hours != 30 || b.Soaked[3].Hours != 20 || a.Watered[3].Hours != 30 || b.Watered[3].Hours != 20 {
		t.Errorf("%+v\n%+v", a, b)
	}
}

func TestRunningThePlace(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40", `code = "A2"`)+
		entry("put_off", "2025-06-01", `task = "soak a A"`, "until = 2025-06-20")+
		entry("broken", "2025-06-01", `what = "Drier"`)+
		entry("broken", "2025-06-11", `what = "drier"`, "until = 2025-06-11")+
		entry("broken", "2025-06-01", `what = "the hose"`, `until = "2025-07"`)+
		entry("cleaned", "2025-06-12", `what = "drier"`, `how = "hot water"`)+
		entry("planned", "2025-06-12", `pile = "birch-3"`, `species = "Lentinula edodes"`, "logs = 30", `month = "2026-03"`)+
		entry("planned", "2025-06-12", `soak = "a2"`, `part = "A"`, `week = "2025-W30"`))
	if len(problems) > 0 || len(s.PutOff) != 1 || len(s.Cleaned) != 1 || len(s.Planned) != 2 || len(s.Broken) != 3 || len(s.Piles) != 1 {
		t.Fatal(summary(s, problems))
	}
	if x := s.PutOff[0]; x.Task != "soak a A" || x.Until.From != NewDate(2025, 6, 20) {
		t.Errorf("%+v", x)
	}
	drier, hose := s.Broken[0], s.Broken[2]
	if s.Broken[1].What == "the hose" {
		hose = s.Broken[1]
	}
	for day, want := range map[Date]bool{NewDate(2025, 5, 31): false, NewDate(2025, 6, 1): true, NewDate(2025, 6, 11): true, NewDate(2025, 6, 12): false} {
		if drier.What != "drier" || drier.Holds(day) != want {
			t.Errorf("%v: %+v", day, drier)
		}
	}
	if !hose.Holds(NewDate(2025, 7, 31)) || hose.Holds(NewDate(2025, 8, 1)) {
		t.Errorf("%+v", hose)
	}
	if p := s.Planned[0]; p.Pile != "birch-3" || p.Species != "shiitake" || p.Logs != 30 || p.Month.From != NewDate(2026, 3, 1) || p.Soak != "" {
		t.Errorf("%+v", p)
	}
	if p := s.Planned[1]; p.Soak != "a" || p.Part != "A" || p.Week.From != NewDate(2025, 7, 21) || p.Pile != "" {
		t.Errorf("%+v", p)
	}
	if c := s.Cleaned[0]; c.What != "drier" || c.How != "hot water" {
		t.Errorf("%+v", c)
	}
}
