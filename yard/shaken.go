package yard

import (
	"fmt"

	"hodaba/data"
)

// mostShaken is the most days that one entry may say: beyond, it can only be a
// slip of the pen.
const mostShaken = 366

var shakenKind = kind{
	KindInfo: KindInfo{
		Name: "shaken", Says: "the jars of a batch were shaken",
		Example: `shaken 26-03 days=7`,
		Keys: []Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "days", Holds: "on how many days up to this one; this one alone if left out", Example: "7", Kind: CountKey},
		},
	},
	make: func() readable { return &Shaken{Days: NotSaid} },
}

// Shaken says that jars were shaken.
type Shaken struct {
	Batch string
	Days  int
}

// Shaking is days on which the jars of a batch were shaken, one by one or
// many told at once.
type Shaking struct {
	On    When
	Days  int // 1 where it was not said
	Entry *Entry
}

// Kind is "shaken".
func (x *Shaken) Kind() string { return shakenKind.Name }

func (x *Shaken) fields() []any { return []any{&x.Batch, &x.Days} }

func (x *Shaken) check(t *table) {
	if x.Days > mostShaken {
		t.fail("days", mistake{fmt.Sprintf("%d days are more than a year", x.Days), "look at its digits"})
		x.Days = NotSaid
	}
}

// Apply notes it on the batch.
func (x *Shaken) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	b.touch(e)
	k := Shaking{On: e.On, Days: x.Days, Entry: e}
	if x.Days < 0 {
		k.Days = 1
	}
	b.Shakings = append(b.Shakings, k)
	if since := int(e.On.To-b.On.From) + 1; k.Days > since {
		return []Problem{e.odd("days", fmt.Sprintf("batch %s was shaken on %d days, and has stood for %d", b.Lot, k.Days, since), "look at the number of days")}
	}
	if over := b.Strained; !over.IsZero() && b.JarsStanding() == 0 && e.On.From > over.To {
		return []Problem{e.odd("batch", fmt.Sprintf("batch %s stands in no jar any more, since %s", b.Lot, over), "look at the lot and the day")}
	}
	return nil
}

// DaysShaken is on how many days a batch was shaken, as far as it was written
// down.
func (b *Batch) DaysShaken() (days int) {
	for _, k := range b.Shakings {
		days += k.Days
	}
	return days
}
