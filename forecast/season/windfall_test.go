package season

import (
	"fmt"
	"strings"
	"testing"

	"hodaba/yard"
)

// Logs that lie there are used up to what they are worth, and no others.
func TestWindfall(t *testing.T) {
	q := wanting(crop("shiitake", 16, 2029, 2029), crop("oyster", 4, 2029, 2029))
	q.Windfall = true
	q.Plan.Logs = []yard.LogsToHave{
		{Wood: "white oak", Diameter: yard.Span{Low: 12, High: 12}, Length: yard.Span{Low: 100, High: 100}, Most: 60},
		{Wood: "birch", Diameter: yard.Span{Low: 15, High: 15}, Length: yard.Span{Low: 100, High: 100}, Most: 30},
	}
	q.Draws, q.Fresh = 300, 300
	r := mustMake(t, hazelBottom(t), q)
	by := map[string]int{}
	for _, l := range r.Lines {
		by[l.Wood] += l.Logs
		t.Logf("%d logs of %s: %s", l.Logs, l.Wood, l.Species)
	}
	if by["white oak"] == 0 || by["white oak"] > 60 || by["birch"] > 30 || len(by) > 2 {
		t.Errorf("logs used: %v", by)
	}
	for _, m := range r.Meets {
		if m.Planning < m.Alone {
			t.Errorf("%s: %.2f with the logs, %.2f without", m.Text, m.Planning, m.Alone)
		}
	}
}

// Where too few logs can be had it is said what would have to give way, and
// what is said can be had.
func TestWhatWouldHaveToGiveWay(t *testing.T) {
	q := wanting(crop("shiitake", 16, 2029, 2029))
	q.Plan.Logs[0].Most = 12
	q.Draws, q.Fresh = 300, 300
	r := mustMake(t, hazelBottom(t), q)
	if r.Met || len(r.Lacking) == 0 {
		t.Fatalf("met %v, %d ways out", r.Met, len(r.Lacking))
	}
	for _, l := range r.Lacking {
		t.Logf("%s, at %.0f", l.Text, l.Cost)
		if l.Kind != "limit" {
			continue
		}
		if !strings.HasPrefix(l.Text, "logs of white oak: ") || l.To <= 12 {
			t.Errorf("says %q, to %g", l.Text, l.To)
		}
		q.Plan.Logs[0].Most = int(l.To*1.1) + 1
		if again := mustMake(t, hazelBottom(t), q); !again.Met {
			t.Errorf("with %d logs it is not met either", q.Plan.Logs[0].Most)
		}
	}
	if m := r.Meets[0]; m.Short <= 0 || m.Worst == "" {
		t.Errorf("short by %g, of %q", m.Short, m.Worst)
	}
}

// What is bought in is counted in its year, and only as much as may be.
func TestBuyingIn(t *testing.T) {
	q := wanting(yard.Want{From: 2028, To: 2028, Species: "reishi", HoldG: 750})
	q.Plan.Species = []string{"shiitake"} // so that none is grown
	q.Plan.Buys = []yard.MayBuy{{Species: "reishi", MostG: 2000, PriceKG: 60}}
	r := mustMake(t, hazelBottom(t), q)
	if len(r.Lines) != 1 || r.Lines[0].Kind != "buy" || r.Lines[0].BuyG != 800 || r.Lines[0].Month.Year() != 2028 {
		t.Fatalf("%+v", r.Lines)
	}
	if !r.Met || r.Cost != 48 || r.Meets[0].Chance != 1 {
		t.Errorf("met %v at %g, %g of the time", r.Met, r.Cost, r.Meets[0].Chance)
	}
	q.Plan.Buys[0].MostG = 500
	if r := mustMake(t, hazelBottom(t), q); r.Met {
		t.Error("750 g from 500 g")
	}
}

// Prices turn a plan into what it earns, and a fifth off them takes a fifth off
// that and nothing else.
func TestPricesAFifthLower(t *testing.T) {
	q := wanting(crop("shiitake", 12, 2029, 2029))
	q.Plan.Prices, q.Plan.Currency = []yard.Price{{Species: "shiitake", Fresh: 15, Dry: 20}}, "EUR"
	r := mustMake(t, hazelBottom(t), q)
	kg := 0.0
	for _, l := range r.Lines {
		for _, y := range l.Fresh {
			kg += y.Fresh.Mean
		}
	}
	if r.Earns < 15*kg*0.8 || r.Earns > 15*kg*1.2 { // other draws
		t.Errorf("earns %.0f for %.1f kg at 15", r.Earns, kg)
	}
	last := r.Ifs[len(r.Ifs)-1]
	if want := fmt.Sprintf("earns %.0f EUR rather than %.0f", 0.8*r.Earns, r.Earns); !strings.Contains(last.Name, want) || last.Joint != r.Ifs[0].Joint {
		t.Errorf("says %q, want %q", last.Name, want)
	}
}

// Where all the logs in the world bring a chance no further, a plan does not
// chase it.
func TestUnmetPlanStaysSmall(t *testing.T) {
	q := wanting(yard.Want{From: 2030, To: 2030, Species: "shiitake", FreshKG: 0.1, FirstMonth: 6, LastMonth: 7})
	r := mustMake(t, hazelBottom(t), q)
	logs := 0
	for _, l := range r.Lines {
		logs += l.Logs
	}
	if m := r.Meets[0]; r.Met || logs == 0 || logs > 200 || m.Planning < m.Alone {
		t.Errorf("met %v by %d logs, %.2f of the time; %.2f with none", r.Met, logs, m.Planning, m.Alone)
	}
}
