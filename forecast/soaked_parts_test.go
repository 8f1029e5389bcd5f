package forecast

import (
	"reflect"
	"testing"

	"hodaba/yard"
)

// soakWritten is a pile of 40 logs soaked as written, on a Monday of May.
func soakWritten(t testing.TB, tank int, soaked ...yard.Soaking) (*yard.State, *yard.Pile) {
	t.Helper()
	p := referencePile("oak", yard.NewDate(2023, 4, 12), "shiitake", "wide-range")
	for i := range soaked {
		soaked[i].On = yard.On(yard.NewDate(2026, 5, 18) + yard.Date(7*i))
	}
	p.Soaked = soaked
	s := yardOf(mustLoad(t), "oxford", yard.NewDate(2026, 5, 18)+yard.Date(7*max(len(soaked)-1, 0)), p)
	s.Config.Soak = yard.Soak{TankLogs: tank, CycleWeeks: 9}
	return s, p
}

// Which logs a soak wetted, as it was written: of 40 logs, without a tank.
func TestWhichLogsWereSoaked(t *testing.T) {
	for _, c := range []struct {
		name   string
		soaked []yard.Soaking
		parts  int
		which  [][]int
	}{
		{"the pile", []yard.Soaking{{}}, 1, [][]int{{Whole}}},
		{"all by number", []yard.Soaking{{Logs: 40}}, 1, [][]int{{Whole}}},
		{"10 of no part", []yard.Soaking{{Logs: 10}}, 4, [][]int{{0}}},
		{"10 of no part, and 10 again", []yard.Soaking{{Logs: 10}, {Logs: 10}}, 4, [][]int{{0}, {1}}},
		{"30 of no part", []yard.Soaking{{Logs: 30}}, 4, [][]int{{0, 1, 2}}},
		{"39 of no part", []yard.Soaking{{Logs: 39}}, 24, [][]int{seq(23)}},
		{"part A of 10", []yard.Soaking{{Part: "A", Logs: 10}}, 4, [][]int{{0}}},
		{"part A, no number", []yard.Soaking{{Part: "A"}}, 2, [][]int{{0}}},
		{"part A of all", []yard.Soaking{{Part: "A", Logs: 40}}, 1, [][]int{{0}}},
		{"by colour", []yard.Soaking{{Part: "blue"}, {Part: "Red"}}, 2, [][]int{{1}, {0}}},
		{"a letter and its colour", []yard.Soaking{{Part: "red", Logs: 10}, {Part: "A red", Logs: 10}}, 4, [][]int{{0}, {0}}},
		{"on no list", []yard.Soaking{{Part: "north end"}, {Part: "A"}, {Part: "North  end"}, {Part: "I"}}, 3, [][]int{{1}, {0}, {1}, {2}}},
		{"on no list, of 10", []yard.Soaking{{Part: "1", Logs: 10}, {Part: "ZZ", Logs: 10}}, 4, [][]int{{0}, {1}}},
		{"beside parts that are named", []yard.Soaking{{Part: "A", Logs: 10}, {Logs: 10}, {Part: "B", Logs: 10}}, 4, [][]int{{0}, {2}, {1}}},
	} {
		s, p := soakWritten(t, 0, c.soaked...)
		r, err := prepare(Input{State: s, Data: mustLoad(t), Draws: 1, Years: 1})
		if err != nil {
			t.Fatal(err)
		}
		soaks, parts := r.soaksOf(r.tasks[0])
		if which := soakedParts(p, parts, s.AsOf); parts != c.parts || !reflect.DeepEqual(which, c.which) {
			t.Errorf("%s: %d parts, %v; want %d, %v", c.name, parts, which, c.parts, c.which)
		}
		n := 0
		for _, w := range c.which {
			n += len(w)
		}
		if len(soaks) != n {
			t.Errorf("%s: %d soaks, want %d", c.name, len(soaks), n)
		}
	}
}

func seq(n int) (all []int) {
	for i := range n {
		all = append(all, i)
	}
	return all
}

// Ten logs of forty bring about as much whether their part is named or not, and
// much less than all; and they keep no other part out of the tank. (Planted
// once: with ten logs of no part taken as all, both failed.)
func TestSomeLogsAreNotAll(t *testing.T) {
	may := func(tank int, soaked ...yard.Soaking) (float64, []Load) {
		s, _ := soakWritten(t, tank, soaked...)
		s.AsOf = yard.NewDate(2026, 5, 20)
		res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 300, Years: 1})
		kg := 0.0
		for _, m := range res.Piles[0].Months {
			if m.Month == yard.NewDate(2026, 5, 1) {
				kg = m.Fresh.Mean
			}
		}
		return kg, res.Loads
	}
	none, _ := may(0)
	all, _ := may(0, yard.Soaking{})
	for _, c := range []struct {
		name   string
		soaked yard.Soaking
	}{{"no part", yard.Soaking{Logs: 10}}, {"part A", yard.Soaking{Part: "A", Logs: 10}}, {"by colour", yard.Soaking{Part: "yellow", Logs: 10}}} {
		kg, _ := may(0, c.soaked)
		share := (kg - none) / (all - none)
		t.Logf("%s: %.2f kg in May, %.2f of nothing soaked, %.2f of all, %.2f of the way", c.name, kg, none, all, share)
		if share < 0.1 || share > 0.45 {
			t.Errorf("%s: 10 logs of 40 bring %.2f of what all do", c.name, share)
		}
	}
	_, loads := may(10, yard.Soaking{Logs: 10})
	soon := 0
	for _, l := range loads[:6] {
		soon += l.Logs
	}
	if soon < 20 {
		t.Errorf("%d logs go into the tank in the six weeks after ten of forty were in: %+v", soon, loads[:6])
	}
}
