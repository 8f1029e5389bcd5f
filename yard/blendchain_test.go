package yard

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A blend of blends takes no longer than its entries, however often the same
// goods come into it: of a batch that is named twice, and where each batch is
// made of the two before it, the lists would otherwise double with every step.
func TestBlendsOfBlends(t *testing.T) {
	const steps = 500
	for name, from := range map[string]func(i int) string{
		"twice":         func(i int) string { return fmt.Sprintf(`from = ["B%d", "B%d"]`, i, i) },
		"twice, parts":  func(i int) string { return fmt.Sprintf(`from = ["B%d 100 ml", "B%d 50 ml"]`, i, i) },
		"the last two":  func(i int) string { return fmt.Sprintf(`from = ["B%d", "B%d"]`, i, max(0, i-1)) },
		"of each a bit": func(i int) string { return fmt.Sprintf(`from = ["B%d 100 ml", "B%d 100 ml"]`, i, max(0, i-1)) },
	} {
		var b strings.Builder
		b.WriteString(strings.ReplaceAll(begunBatch, "26-1", "B0"))
		b.WriteString(entry("strained", "2025-12-01", `batch = "B0"`, `volume = "840 ml"`))
		for i := range steps {
			b.WriteString(entry("blended", "2025-12-02", fmt.Sprintf(`batch = "B%d"`, i+1), from(i), `volume = "800 ml"`))
		}
		s, problems := stateOf(t, b.String())
		if len(s.Batches) != steps+1 {
			t.Fatal(name, len(s.Batches))
		}
		for i, x := range s.Batches {
			if g, _ := x.GoodsG(); len(x.Carried) > 2 || math.IsInf(g, 0) || g > 100.001 {
				t.Fatalf("%s: batch %d has %d goods, %g g", name, i, len(x.Carried), g)
			}
		}
		if strings.HasPrefix(name, "twice") != has(problems, 0, "batch B7 stands in it twice: name it once") {
			t.Errorf("%s: %v", name, lines(problems[:min(3, len(problems))]))
		}
	}
}

// All of a batch goes over once, also where it is named twice.
func TestBlendedNamedTwice(t *testing.T) {
	s, problems := stateOf(t, begunBatch+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`)+
		entry("blended", "2025-12-02", `batch = "26-9"`, `from = ["26-1", "26-1"]`))
	b := s.batch("26-9")
	if g, known := b.GoodsG(); g != 100 || !known || len(b.Carried) != 1 || len(s.Batches[0].Into) != 1 {
		t.Error(g, known, summary(s, problems))
	}
	if !has(problems, 0, "batch 26-1 stands in it twice") {
		t.Error(lines(problems))
	}
}
