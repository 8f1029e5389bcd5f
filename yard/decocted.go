package yard

import (
	"fmt"

	"hodaba/data"
)

// longestSimmer is the most hours that a recipe or an entry may simmer: beyond,
// it can only be a slip of the pen.
const longestSimmer = 48

var decoctedKind = kind{
	KindInfo: KindInfo{
		Name: "decocted", Says: "the marc of a batch, or mushrooms for it, were boiled in water",
		Example: `decocted 26-03 water=1500ml volume=500ml simmer_hours=2`,
		Keys: []Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "water", Holds: "water that went into the pot, all of it", Example: "1500 ml", Kind: VolumeKey},
			{Name: "volume", Holds: "decoction that came out, strained", Example: "500 ml", Kind: VolumeKey},
			{Name: "simmer_hours", Holds: "how long it simmered, in hours", Example: "2", Kind: NumberKey, most: longestSimmer},
		},
	},
	make: func() readable { return &Decocted{SimmerHours: NotSaid} },
}

// Decocted is one pot boiled for a batch.
type Decocted struct {
	Batch         string
	Water, Volume Quantity // ml
	SimmerHours   float64
}

// Decoction is one pot that was boiled for a batch.
type Decoction struct {
	On      When
	WaterML float64 // that went in; 0 not measured
	ML      float64 // that came out; 0 not measured
	Hours   float64 // it simmered; 0 not said
	Entry   *Entry
}

// Kind is "decocted".
func (x *Decocted) Kind() string { return decoctedKind.Name }

func (x *Decocted) fields() []any { return []any{&x.Batch, &x.Water, &x.Volume, &x.SimmerHours} }

// Apply notes it on the batch. Boiled pot by pot, it adds up.
func (x *Decocted) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	hours := max(0, x.SimmerHours)
	b.touch(e)
	b.Decocted = spanningOr(b.Decocted, e.On)
	b.Decoctions = append(b.Decoctions, Decoction{On: e.On, WaterML: x.Water.Mid(), ML: x.Volume.Mid(), Hours: hours, Entry: e})
	b.WaterML += x.Water.Mid()
	b.DecoctionML += x.Volume.Mid()
	b.SimmerHours += hours
	if in, out := x.Water.Mid(), x.Volume.Mid(); in > 0 && out > in {
		return []Problem{e.odd("volume", fmt.Sprintf("%.0f ml of decoction came of %.0f ml of water", out, in),
			"look at both volumes; water that was poured in later counts too")}
	}
	return nil
}
