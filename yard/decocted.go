package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

// longestSimmer is the most hours that a recipe or an entry may simmer: beyond,
// it can only be a slip of the pen.
const longestSimmer = 48

var decoctedKind = kind{
	KindInfo: KindInfo{
		Name: "decocted", Says: "the marc of a batch, or mushrooms for it, were boiled in water",
		Example: `decocted 26-03 water=1500ml volume=500ml simmer_hours=2`,
		Keys: slices.Concat([]Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "water", Holds: "water that went into the pot, all of it", Example: "1500 ml", Kind: VolumeKey},
			{Name: "volume", Holds: "decoction that came out, strained", Example: "500 ml", Kind: VolumeKey},
			{Name: "simmer_hours", Holds: "how long it simmered, in hours", Example: "2", Kind: NumberKey, most: longestSimmer},
			{Name: "simmer_from", Holds: "time of day at which it began to simmer", Example: "14:05", Kind: ClockKey},
			{Name: "simmer_to", Holds: "time of day at which it came off the heat", Example: "16:10", Kind: ClockKey},
			{Name: "cooled", Holds: "how it cooled: times and temperatures", Example: "16:30 57C, 18:10 21C, 21:00 5C", Kind: CoolingKey},
		}, stepKeys("the decoction when it was blended or put away")),
	},
	make: func() readable { return &Decocted{SimmerHours: NotSaid} },
}

// Decocted is one pot boiled for a batch.
type Decocted struct {
	Batch         string
	Water, Volume Quantity // ml
	SimmerHours   float64
	From, To      Clock // of simmering
	Cooled        Cooling
	Step
}

// Decoction is one pot that was boiled for a batch.
type Decoction struct {
	On      When
	WaterML float64 // that went in; 0 not measured
	ML      float64 // that came out; 0 not measured
	Hours   float64 // it simmered; 0 not said
	From    Clock   // it simmered
	To      Clock
	Cooled  Cooling
	Step    Step
	Entry   *Entry
}

// Kind is "decocted".
func (x *Decocted) Kind() string { return decoctedKind.Name }

func (x *Decocted) fields() []any {
	return append([]any{&x.Batch, &x.Water, &x.Volume, &x.SimmerHours, &x.From, &x.To, &x.Cooled}, x.Step.fields()...)
}

// Apply notes it on the batch. Boiled pot by pot, it adds up.
func (x *Decocted) Apply(s *State, e *Entry, d *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	hours := x.hours()
	b.touch(e)
	b.went(x.Step, e)
	b.Decocted = spanningOr(b.Decocted, e.On)
	b.Decoctions = append(b.Decoctions, Decoction{On: e.On, WaterML: x.Water.Mid(), ML: x.Volume.Mid(), Hours: hours,
		From: x.From, To: x.To, Cooled: x.Cooled, Step: x.Step, Entry: e})
	b.WaterML += x.Water.Mid()
	b.DecoctionML += x.Volume.Mid()
	b.SimmerHours += hours
	return append(x.odd(e), x.warm(b, e, d)...)
}

// hours is how long it simmered: as said, else by the clock.
func (x *Decocted) hours() float64 {
	if x.SimmerHours >= 0 || x.From.Text == "" || x.To.Text == "" {
		return max(0, x.SimmerHours)
	}
	return x.byClock()
}

// byClock is the hours from the one time of day to the other.
func (x *Decocted) byClock() float64 {
	return float64((x.To.Minute-x.From.Minute+minutesOfDay)%minutesOfDay) / 60
}

// clockSlack is by how many hours two ways to say how long it simmered may
// differ, before it can only be a slip of the pen.
const clockSlack = 0.5

// odd points at what cannot be.
func (x *Decocted) odd(e *Entry) (problems []Problem) {
	if in, out := x.Water.Mid(), x.Volume.Mid(); in > 0 && out > in {
		problems = append(problems, e.odd("volume", fmt.Sprintf("%.0f ml of decoction came of %.0f ml of water", out, in),
			"look at both volumes; water that was poured in later counts too"))
	}
	if x.SimmerHours < 0 || x.From.Text == "" || x.To.Text == "" {
		return problems
	}
	if h := x.byClock(); h-x.SimmerHours > clockSlack || x.SimmerHours-h > clockSlack {
		problems = append(problems, e.odd("simmer_hours", fmt.Sprintf("it simmered for %s hours, and from %s to %s", decimal(x.SimmerHours), x.From, x.To),
			"look at the hours and both times; leave simmer_hours out where the times are right"))
	}
	return problems
}

// warm points at a cooling log that fails, or cannot tell.
func (x *Decocted) warm(b *Batch, e *Entry, d *data.Set) []Problem {
	if d == nil {
		return nil
	}
	switch is, why := x.Cooled.Check(d.Practice.Cooling); is {
	case CoolLate:
		if x.Deviation != "" {
			return []Problem{e.odd("cooled", fmt.Sprintf("the decoction of batch %s cooled too slowly: %s; noted: %s", b.Lot, why, x.Deviation),
				"it is low-acid food: if that is not how it was heated up and cooled again, or discarded, do that; else it stays on record, and nothing more has to be written")}
		}
		return []Problem{e.odd("cooled", fmt.Sprintf("the decoction of batch %s cooled too slowly: %s", b.Lot, why),
			"a decoction is a low-acid food: heat it up and cool it again, or discard it, and note what was done with deviation")}
	case CoolUnfinished:
		return []Problem{e.odd("cooled", fmt.Sprintf("the cooling log of batch %s does not show that its decoction cooled in time: %s", b.Lot, why),
			"correct the entry with the times that are known; leave cooled out if nobody looked")}
	}
	return nil
}
