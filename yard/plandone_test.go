package yard

import (
	"fmt"
	"reflect"
	"testing"
)

const birchPlan = `
[[planned]]
on = 2025-01-10
pile = "birch-3"
species = "Lentinula edodes"
strain = "Wide-Range"
logs = 30
month = "2025-03"
wood = "paper birch"
diameter = "12 cm"
length = "40 in"
spawn = "sawdust"
spawn_lot = "S-25-04"
method = "holes"
place = "north shade"
entry = "kitchen-1"
`

func inoculatedOn(day, pile string, lines ...string) string {
	return entry("inoculated", day, append([]string{fmt.Sprintf("pile = %q", pile), `species = "shiitake"`}, lines...)...)
}

// A plan keeps how the logs are to be inoculated, and what is left of it is
// what an entry writes.
func TestPlanKeepsWhatIsMeant(t *testing.T) {
	s, problems := stateOf(t, birchPlan+inoculatedOn("2025-03-08", "birch-3", "logs = 18"))
	k := s.Planned[0]
	if len(problems) > 0 || k.Species != "shiitake" || k.Strain != "wide-range" || k.Wood != "paper birch" || k.Diameter != (Span{12, 12}) || k.Length.Mid() < 101.5 ||
		k.Spawn != "sawdust" || k.SpawnLot != "S-25-04" || k.Method != "holes" || k.Place != "north shade" {
		t.Fatalf("%+v\n%s", k, lines(problems))
	}
	rest := s.Plan("Birch-3").Rest()
	want := map[string]string{"pile": "birch-3", "species": "shiitake", "strain": "wide-range", "wood": "paper birch", "diameter": "12 cm", "length": "40 in",
		"spawn": "sawdust", "spawn_lot": "S-25-04", "method": "holes", "place": "north shade", "logs": "12"}
	if !reflect.DeepEqual(rest, want) {
		t.Errorf("the rest is %v, want %v", rest, want)
	}
	text, problems := Compose("inoculated", rest, Terms{Data: loaded(t), Today: may})
	if text == "" || len(problems) > 0 {
		t.Errorf("what is left cannot be written: %s", lines(problems))
	}
}

// Days of inoculating tick a plan off, whatever became of the pile's name.
func TestPlanIsTickedOff(t *testing.T) {
	plan := func(pile string, logs, month string) string {
		return entry("planned", "2025-01-10", pile, `species = "shiitake"`, logs, `month = "`+month+`"`)
	}
	birch := plan(`pile = "birch-3"`, "logs = 30", "2025-03")
	for name, c := range map[string]struct {
		journal string
		done    []int // of each plan
		left    []int
		open    []bool
	}{
		"nothing yet":                {birch, []int{0}, []int{30}, []bool{true}},
		"one day":                    {birch + inoculatedOn("2025-03-08", "birch-3", "logs = 18"), []int{18}, []int{12}, []bool{true}},
		"two days":                   {birch + inoculatedOn("2025-03-08", "birch-3", "logs = 18") + inoculatedOn("2025-04-12", "birch-3", "logs = 12"), []int{30}, []int{0}, []bool{false}},
		"more than planned":          {birch + inoculatedOn("2025-03-08", "birch-3", "logs = 34"), []int{34}, []int{0}, []bool{false}},
		"another pile":               {birch + inoculatedOn("2025-03-08", "birch-4", "logs = 34"), []int{0}, []int{30}, []bool{true}},
		"not counted":                {birch + inoculatedOn("2025-03-08", "birch-3"), []int{30}, []int{0}, []bool{false}},
		"again counts nothing":       {birch + inoculatedOn("2025-03-08", "birch-3", "logs = 10") + inoculatedOn("2025-04-08", "birch-3", "logs = 10", "again = true"), []int{10}, []int{20}, []bool{true}},
		"before it was planned":      {birch + inoculatedOn("2024-03-08", "birch-3", "logs = 10"), []int{0}, []int{30}, []bool{true}},
		"in some week of that month": {birch + inoculatedOn("2025-01", "birch-3", "logs = 10"), []int{10}, []int{20}, []bool{true}},
		"renamed between":            {birch + inoculatedOn("2025-03-08", "birch-3", "logs = 18") + entry("renamed", "2025-03-10", `pile = "birch-3"`, `to = "birch-c"`) + inoculatedOn("2025-03-12", "birch-c", "logs = 5"), []int{23}, []int{7}, []bool{true}},
		"two plans, earlier first":   {plan(`pile = "birch-3"`, "logs = 10", "2025-04") + birch + inoculatedOn("2025-03-08", "birch-3", "logs = 35"), []int{5, 30}, []int{5, 0}, []bool{true, false}},
		"two plans, more than both":  {birch + plan(`pile = "birch-3"`, "logs = 10", "2025-04") + inoculatedOn("2025-03-08", "birch-3", "logs = 50"), []int{30, 20}, []int{0, 0}, []bool{false, false}},
		"number not said":            {plan(`pile = "birch-3"`, "", "2025-03") + inoculatedOn("2025-03-08", "birch-3", "logs = 7"), []int{7}, []int{0}, []bool{false}},
		"number not said, not done":  {plan(`pile = "birch-3"`, "", "2025-03"), []int{0}, []int{0}, []bool{true}},
		"no pile named":              {plan(`wood = "paper birch"`, "logs = 30", "2025-03") + inoculatedOn("2025-03-08", "x", "logs = 12", `wood = "paper birch"`) + inoculatedOn("2025-03-09", "y", "logs = 12", `wood = "white oak"`), []int{12}, []int{18}, []bool{true}},
		"a plan by name first":       {plan("", "logs = 30", "2025-03") + birch + inoculatedOn("2025-03-08", "birch-3", "logs = 12"), []int{0, 12}, []int{30, 18}, []bool{true, true}},
	} {
		s, problems := stateOf(t, c.journal)
		if len(problems) > 0 {
			t.Errorf("%s: %s", name, lines(problems))
		}
		for i := range s.Planned {
			k := &s.Planned[i]
			if k.Done != c.done[i] || k.Left != c.left[i] || k.Open() != c.open[i] || k.Carried(NewDate(2025, 3, 31)) || k.Carried(NewDate(2025, 5, 1)) != c.open[i] {
				t.Errorf("%s: plan %d has %d done, %d left, open %v, carried over %v", name, i+1, k.Done, k.Left, k.Open(), k.Carried(NewDate(2025, 5, 1)))
			}
		}
	}
}

// What a later day knows fills what the first left open; what it said stays.
func TestSeveralDaysOnOnePile(t *testing.T) {
	s, problems := stateOf(t, inoculatedOn("2025-03-08", "a", "logs = 18", `wood = "paper birch"`)+
		inoculatedOn("2025-03-29", "a", "logs = 12", `wood = "white oak"`, `diameter = "12 cm"`, `spawn = "plug"`, `code = "A2"`))
	p := s.Pile("A2")
	if len(problems) > 0 || p == nil || p.Logs != 30 || p.Started != 30 || p.Wood != "paper birch" || p.Diameter.Mid() != 12 || p.Spawn != "plug" ||
		p.Since.From != NewDate(2025, 3, 8) || p.Since.To != NewDate(2025, 3, 29) {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
}

// What is known on a day is what was done up to it; a void plan is none, and
// one that was put off says until when.
func TestPlanOverTime(t *testing.T) {
	journal := birchPlan + inoculatedOn("2025-03-08", "birch-3", "logs = 18") + entry("put_off", "2025-04-02", `task = "Inoculate birch-3"`, "until = 2025-04-20")
	f, _ := yardOf(t, journal)
	for day, left := range map[Date]int{NewDate(2025, 2, 1): 30, NewDate(2025, 3, 10): 12} {
		s, _ := f.State(day, 0)
		if k := s.Planned[0]; k.Left != left || k.Until != 0 {
			t.Errorf("%s: %+v", day, k)
		}
	}
	s, _ := f.State(NewDate(2025, 4, 3), 0)
	if k := s.Planned[0]; k.Until != NewDate(2025, 4, 20) || k.Last.From != NewDate(2025, 3, 8) {
		t.Errorf("%+v", k)
	}
	if s, _ := stateOf(t, journal+entry("corrected", "2025-04-03", `replaces = "kitchen-1"`, "void = true")); len(s.Planned) != 0 || s.Plan("birch-3") != nil {
		t.Errorf("a void plan stands: %+v", s.Planned)
	}
	if s, _ := stateOf(t, birchPlan+entry("put_off", "2025-04-02", `task = "inoculate birch-30"`, "until = 2025-04-20")); s.Planned[0].Until != 0 {
		t.Error("another pile's task put this one off")
	}
}
