package yard

import (
	"strings"
	"testing"
)

// begunBatch is a batch of two jars, a litre of spirit and 100 g of shiitake.
var begunBatch = entry("received", "2025-10-01", `species = "shiitake"`, `dry = "200 g"`) +
	entry("macerated", "2025-11-01", `batch = "26-1"`, `recipe = "five mushrooms"`, `ingredients = [{species = "shiitake", dry = "100 g"}]`)

func TestStrained(t *testing.T) {
	s, problems := stateOf(t, begunBatch+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`, `marc = "260 g"`))
	b := s.Batches[0]
	if len(problems) > 0 || b.Strained.From != NewDate(2025, 12, 1) || b.StrainedML != 840 || b.MarcG != 260 || b.JarsStanding() != 0 || len(b.Entries) != 2 {
		t.Error(summary(s, problems))
	}
	if !b.Bottled.IsZero() || len(s.Bottles) > 0 {
		t.Error("a strained batch is not bottled yet")
	}
}

// Jars that are strained on different days add up; none is counted twice.
func TestStrainedJarByJar(t *testing.T) {
	first := entry("strained", "2025-12-01", `batch = "26-1"`, "jars = 1", `volume = "410 ml"`, `marc = "130 g"`)
	s, problems := stateOf(t, begunBatch+first)
	if b := s.Batches[0]; len(problems) > 0 || b.JarsStanding() != 1 || b.StrainedML != 410 {
		t.Error(summary(s, problems))
	}
	for _, second := range []string{"jars = 1", `note = "the other"`} { // as many as stand, or not said
		s, problems = stateOf(t, begunBatch+first+entry("strained", "2025-12-09", `batch = "26-1"`, second, `volume = "430 ml"`))
		b := s.Batches[0]
		if len(problems) > 0 || b.JarsStanding() != 0 || b.StrainedML != 840 || b.MarcG != 130 || len(b.Strainings) != 2 ||
			b.Strained.From != NewDate(2025, 12, 1) || b.Strained.To != NewDate(2025, 12, 9) {
			t.Error(summary(s, problems))
		}
	}
}

// What went in bounds what comes out: 1000 ml of spirit and the 13 % of water
// that dried shiitake may hold (CODEX STAN 39-1981) make 1013 ml of 100 g.
func TestStrainedMoreThanWentIn(t *testing.T) {
	for volume, odd := range map[string]bool{"1010 ml": false, "1014 ml": true} {
		s, problems := stateOf(t, begunBatch+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "`+volume+`"`))
		if got := has(problems, 0, "went in, the water in the goods included"); got != odd || s.Batches[0].StrainedML == 0 {
			t.Errorf("%s: pointed at: %v, want %v\n%s", volume, got, odd, lines(problems))
		}
	}
}

func TestDecocted(t *testing.T) {
	s, problems := stateOf(t, begunBatch+
		entry("decocted", "2025-12-01", `batch = "26-1"`, `water = "800 ml"`, `volume = "300 ml"`, "simmer_hours = 1", "hours = 0.5")+
		entry("decocted", "2025-12-02", `batch = "26-1"`, `water = "700 ml"`, `volume = "200 ml"`, "simmer_hours = 1.25"))
	b := s.Batches[0]
	if len(problems) > 0 || b.WaterML != 1500 || b.DecoctionML != 500 || b.SimmerHours != 2.25 || len(b.Decoctions) != 2 ||
		b.Decocted.To != NewDate(2025, 12, 2) || !b.Strained.IsZero() {
		t.Error(summary(s, problems))
	}
	if got := b.Decoctions[0].Entry.Hours; got != 0.5 {
		t.Errorf("%g hours of work, want 0.5: they are not the hours that it simmered", got)
	}
}

// Both can be set right and taken back like any other entry.
func TestStrainedCorrected(t *testing.T) {
	wrong := "[[strained]]\non = 2025-12-01\nbatch = \"26-1\"\nvolume = \"480 ml\"\nentry = \"kitchen-7\"\n\n" +
		"[[decocted]]\non = 2025-12-01\nbatch = \"26-1\"\nwater = \"1 l\"\nvolume = \"5 l\"\nentry = \"kitchen-8\"\n\n"
	right := "[[corrected]]\non = 2025-12-01\nreplaces = \"kitchen-7\"\nkind = \"strained\"\nbatch = \"26-1\"\nvolume = \"840 ml\"\nentry = \"kitchen-9\"\n\n"
	void := "[[corrected]]\non = 2025-12-01\nreplaces = \"kitchen-8\"\nvoid = true\nentry = \"kitchen-10\"\n\n"
	s, problems := stateOf(t, begunBatch+wrong+right+void)
	b := s.Batches[0]
	if len(problems) > 0 || b.StrainedML != 840 || !b.Decocted.IsZero() || b.DecoctionML != 0 {
		t.Error(summary(s, problems))
	}
	for _, e := range s.Entries {
		if e.ID == "kitchen-9" && !strings.Contains(e.Says(), "strained 26-1: volume 840 ml") {
			t.Error(e.Says())
		}
	}
}
