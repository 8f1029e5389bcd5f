package forecast

import (
	"hodaba/data"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Stands is what the tincture calendar says without a forecast: what is left to
// do with the batches that stand, on which days, and how those on record came
// out. It takes next to no time.
func Stands(s *yard.State, set *data.Set) (*tincture.Plan, error) {
	r := &run{state: s, data: set, asOf: s.AsOf}
	days, note, err := r.workdays()
	if err != nil {
		return nil, err
	}
	var standing []*yard.Batch
	for _, b := range s.Batches {
		if b.Bottled.IsZero() {
			standing = append(standing, b)
		}
	}
	plan, err := tincture.Schedule(nothing{}, nil, days, tincture.Terms{
		AsOf: s.AsOf, Until: s.AsOf, Confidence: 1, Kitchen: s.Config.Kitchen,
		Standing: standing, Record: s.Batches, Seed: DefaultSeed, Recipes: r.resolved(), Shelf: s.Bottles,
	}, set)
	if err != nil {
		return nil, err
	}
	plan.Notes = append(note, plan.Notes...)
	return plan, nil
}

// nothing is a stock to which nothing comes.
type nothing struct{}

func (nothing) Draws() int { return 1 }

func (nothing) FirstDay(string, string, int, float64) (yard.Date, bool) { return 0, false }
