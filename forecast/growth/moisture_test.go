package growth

import (
	"math"
	"testing"

	"hodaba/data"
	"hodaba/forecast/ground"
)

// University of Kentucky FOR-82: spawn does not survive below 23 %; Ohio State
// University Extension F-0041: logs are kept above 30 % while spawn runs
// (bases not stated, wet basis taken). So at 36 % nothing is held back, at
// 22 % nothing grows. The straight line between is judgement.
func TestAgainstMoistureLimits(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	m := NewMoist(&set.Practice)
	for wet, want := range map[float64]float64{0.22: 0, 0.23: 0, 0.265: 0.5, 0.30: 1, 0.36: 1, 0.6: 1} {
		if got := m.Share(ground.DryBasis(wet)); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %.0f %% moisture %.3f of growth, want %.1f", 100*wet, got, want)
		}
	}
}

func TestSpawnIsLost(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	m := NewMoist(&set.Practice)
	days := int(set.Practice.SpawnLostDays.Value)
	wet := make([]float32, 200)
	for i := range wet {
		wet[i] = 0.6
		if i >= 50 && i < 50+days {
			wet[i] = 0.25
		}
	}
	if _, lost := m.Fill(nil, wet); lost >= 0 {
		t.Errorf("lost on day %d after %d dry days, which it outlives", lost, days)
	}
	wet[50+days] = 0.25
	held, lost := m.Fill(nil, wet)
	if lost != 50+days || held[49] != 1 || held[199] != 0 {
		t.Errorf("lost on day %d, growth before %g and long after %g", lost, held[49], held[199])
	}
}
