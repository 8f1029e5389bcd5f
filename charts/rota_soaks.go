package charts

import (
	"fmt"

	"hodaba/forecast"
	"hodaba/yard"
)

// tankNotes say what stands against the tank book ahead: a cycle that is not
// practised or cannot be kept, loads that are not alike, logs that no letter is
// left for, and what became of what was planned.
func (b *book) tankNotes() (notes []string) {
	if note := b.oddCycle(); note != "" {
		notes = append(notes, note)
	}
	if b.Result.Tank == nil {
		return notes
	}
	for _, of := range []func(*forecast.Tank) []string{b.roundNotes, b.evenNotes, b.beyondNotes, b.planNotes} {
		notes = append(notes, of(b.Result.Tank)...)
	}
	return append(notes, b.againstNotes()...)
}

// oddCycle points at a cycle that nobody practises.
func (b *book) oddCycle() string {
	weeks, usual := b.State.Config.Soak.CycleWeeks, b.Data.Practice.SoakCycles
	if weeks <= 0 || usual.High <= 0 || weeks >= usual.Low && weeks <= usual.High {
		return ""
	}
	what := "logs hardly rest between two soaks"
	if weeks > usual.High {
		what = "the tank and the logs stand idle for longer than they need"
	}
	return fmt.Sprintf("A cycle of %s stands in yard.toml; %s to %s weeks are practised: %s.",
		cycleWords(weeks), short(usual.Low), short(usual.High), what)
}

func cycleWords(weeks float64) string {
	if weeks == 1 {
		return "1 week"
	}
	return short(weeks) + " weeks"
}

// roundNotes tell of a cycle that the tank cannot keep.
func (b *book) roundNotes(t *forecast.Tank) []string {
	if t.Comes <= t.Cycle {
		return nil
	}
	return []string{fmt.Sprintf("With %s a load and %s each part comes round after %s, not %d: the tank is not free more often.",
		count(t.Room, "log", "logs"), count(t.Logs, "log", "logs"), count(t.Comes, "week", "weeks"), t.Cycle)}
}

// unevenBy is the share of the largest load under which another is told to
// be small, our own judgement.
const unevenBy = 0.75

// evenNotes say what would divide where loads are not alike.
func (b *book) evenNotes(t *forecast.Tank) []string {
	low, high := 0, 0
	lines, _ := b.bookLines()
	for _, l := range lines {
		if l.Load == nil {
			continue
		}
		if n := l.Load.Logs; low == 0 || n < low {
			low = n
		}
		high = max(high, l.Load.Logs)
	}
	if float64(low) >= unevenBy*float64(high) || t.Even.Groups == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Loads are of %d to %s, as the parts of the piles fit together. %s", low, count(high, "log", "logs"), dividesWords(t))}
}

// dividesWords is what would divide the logs evenly: "168 logs: 171 = 9 × 19".
func dividesWords(t *forecast.Tank) string {
	e := t.Even
	s := fmt.Sprintf("What would divide evenly: %d = %d × %d", e.Logs, e.Groups, e.PerGroup)
	if more := e.Logs - t.Logs; more > 0 {
		s += fmt.Sprintf(", with %d more than your %d", more, t.Logs)
	}
	if t.Room > 0 && e.PerGroup > t.Room {
		s += fmt.Sprintf(", each group in %s", count(e.Loads(t.Room), "load", "loads"))
	}
	return s + "."
}

func (b *book) beyondNotes(t *forecast.Tank) (notes []string) {
	for _, p := range t.Beyond {
		notes = append(notes, fmt.Sprintf("%s would go into %d parts, more than there are letters: %s of it are not in the book. Split the pile in two, or fill a larger tank.",
			capital(p.Pile), p.Parts, count(p.Logs, "log", "logs")))
	}
	return notes
}

// planNotes say what became of soaks that were planned.
func (b *book) planNotes(t *forecast.Tank) (notes []string) {
	for _, p := range t.Plans {
		name := "The soak of " + partOf(p.Pile, p.Part) + " planned for " + planWeekWords(p.Week)
		switch {
		case p.State == forecast.PlanPast && p.Week.To >= b.today()-7*pastWeeks:
			notes = append(notes, name+" is not on record: planned, not done. What it would have taken is free again.")
		case p.State == forecast.PlanNotIn:
			notes = append(notes, name+" does not go in: "+p.Why+".")
		case p.State == forecast.PlanLater:
			notes = append(notes, name+" lies beyond the end of this book.")
		case p.State == forecast.PlanIn && b.State.Config.Soak.TankLogs <= 0:
			notes = append(notes, name+" is reckoned with in the forecast.")
		}
	}
	return notes
}

// planWeekWords is "week 30", or the days of what is no week.
func planWeekWords(w yard.When) string {
	if w.From.Monday() == w.To.Monday() {
		return "week " + weekShort(w.From)[1:]
	}
	return w.String()
}

// againstNotes say what speaks against what is planned.
func (b *book) againstNotes() (notes []string) {
	for _, l := range b.Result.Loads {
		for _, p := range l.Parts {
			if p.Note != "" {
				notes = append(notes, fmt.Sprintf("%s goes in on %s as planned, although: %s.", capital(partOf(p.Pile, p.Part)), dayMonth(l.In), p.Note))
			}
		}
	}
	return notes
}

// lastSafeWords is "Last safe soak of 2027 before hard frost: week 43."; ""
// where the book does not see it.
func (b *book) lastSafeWords() string {
	t := b.Result.Tank
	if t == nil || t.LastSafe == 0 {
		return ""
	}
	year, week := t.LastSafe.Week()
	return fmt.Sprintf("Last safe soak of %d: week %d, before cold and hard frost.", year, week)
}

// plannedTag stands beside a part that was planned.
func plannedTag(p forecast.LoadPart) string {
	if p.Planned {
		return ", planned"
	}
	return ""
}
