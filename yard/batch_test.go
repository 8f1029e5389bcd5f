package yard

import (
	"strings"
	"testing"
)

// standing is a second batch, of one jar and 50 g of the same lot.
var standing = entry("macerated", "2025-11-02", `batch = "26-2"`, `recipe = "five mushrooms"`, "jars = 1", `ingredients = [{species = "shiitake", dry = "50 g"}]`)

func TestAdded(t *testing.T) {
	s, problems := stateOf(t, begunBatch+entry("added", "2025-11-10", `batch = "26-1"`, `species = "shiitake"`, `dry = "20 g"`, `note = "looked thin"`, `by = "mk"`))
	b := s.Batches[0]
	if len(problems) > 0 || s.OnHand("shiitake") != 80 || len(b.Additions) != 1 || b.Additions[0].Taken[0].Grams != 20 || b.dryGrams() != 120 {
		t.Error(summary(s, problems))
	}
	if in := b.WentIn(); len(in) != 1 || in[0].Grams != 120 {
		t.Errorf("went in: %v", in)
	}
	if d := b.Deviations; len(d) != 1 || d[0].Text != "looked thin" || d[0].By != "mk" {
		t.Errorf("deviations: %+v", d)
	}
	if got := s.DryTermsOf("shiitake", "", ""); got.Used != 120 || got.Balance() != nil {
		t.Error(got)
	}
}

// Of a lot alone the species is known; without a weight nothing is taken.
func TestAddedOfALot(t *testing.T) {
	lot := entry("received", "2025-10-01", `species = "reishi"`, `dry = "100 g"`, `lot = "R-1"`)
	s, problems := stateOf(t, begunBatch+lot+entry("added", "2025-11-10", `batch = "26-1"`, `lot = "R-1"`, `dry = "10 g"`))
	if b := s.Batches[0]; len(problems) > 0 || b.Additions[0].Taken[0].Species != "reishi" || s.OnHand("reishi") != 90 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, begunBatch+lot+entry("added", "2025-11-10", `batch = "26-1"`, `lot = "R-1"`))
	if !has(problems, 0, "how much went in is not said") || s.OnHand("reishi") != 100 || len(s.Batches[0].Additions) != 1 {
		t.Error(summary(s, problems))
	}
}

func TestShaken(t *testing.T) {
	s, problems := stateOf(t, begunBatch+entry("shaken", "2025-11-02", `batch = "26-1"`)+entry("shaken", "2025-11-09", `batch = "26-1"`, "days = 7"))
	if b := s.Batches[0]; len(problems) > 0 || b.DaysShaken() != 8 || len(b.Shakings) != 2 {
		t.Error(summary(s, problems))
	}
	_, problems = stateOf(t, begunBatch+entry("shaken", "2025-11-09", `batch = "26-1"`, "days = 10"))
	if !has(problems, 0, "was shaken on 10 days, and has stood for 9") {
		t.Error(lines(problems))
	}
}

func TestBlended(t *testing.T) {
	s, problems := stateOf(t, begunBatch+
		entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`)+
		entry("decocted", "2025-12-01", `batch = "26-1"`, `water = "1500 ml"`, `volume = "700 ml"`)+
		entry("blended", "2025-12-02", `batch = "26-1"`, `spirit_part = "800 ml"`, `decoction_part = "640 ml"`, `volume = "1410 ml"`, "abv_percent = 22.5"))
	b := s.Batches[0]
	if len(problems) > 0 || b.BlendedML != 1410 || b.ABV != 22.5 || !b.Bottled.IsZero() || b.Ended != "" || b.LiquidML() != 1410 {
		t.Error(summary(s, problems))
	}
	if spirit, decoction := b.LeftOver(); spirit != 40 || decoction != 60 {
		t.Errorf("left over: %v ml, %v ml", spirit, decoction)
	}
}

// Two batches become one, which never stood in a jar; what is left of the
// first is still there, and all of the second is gone.
func TestTwoBatchesBlendedIntoOne(t *testing.T) {
	strained := entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`) + entry("strained", "2025-12-01", `batch = "26-2"`, `volume = "400 ml"`)
	s, problems := stateOf(t, begunBatch+standing+strained+
		entry("blended", "2025-12-03", `batch = "26-5"`, `from = ["26-1 500 ml", {batch = "26-2"}]`, `volume = "890 ml"`))
	if len(problems) > 0 || len(s.Batches) != 3 {
		t.Fatal(summary(s, problems))
	}
	first, second, made := s.Batches[0], s.Batches[1], s.Batches[2]
	if first.Ended != "" || first.LiquidML() != 340 || len(first.Into) != 1 || first.Into[0].Batch != "26-5" {
		t.Errorf("%+v", first)
	}
	if second.Ended != EndBlended || second.Bottled.From != NewDate(2025, 12, 3) {
		t.Errorf("%+v", second)
	}
	if !made.Made || made.JarsStanding() != 0 || made.Recipe != "five mushrooms" || made.Strained.IsZero() || len(made.Blendings[0].From) != 2 || made.BlendedML != 890 {
		t.Errorf("%+v", made)
	}
	// Bottled, it stands on the shelf of its recipe.
	s, problems = stateOf(t, begunBatch+standing+strained+
		entry("blended", "2025-12-03", `batch = "26-5"`, `from = ["26-1", "26-2"]`)+entry("bottled", "2025-12-04", `batch = "26-5"`, "bottles = 12", `kept_back = "50 ml"`))
	b := s.Batches[2]
	if ml, sized := b.FilledML(); len(problems) > 0 || s.Bottles[0].Recipe != "five mushrooms" || b.Ended != EndBottled || ml != 1250 || !sized || b.KeptBackML != 50 {
		t.Error(summary(s, problems))
	}
}

// A broken jar is free, and what was in it is gone: not back on the shelf, and
// not in what the straining is measured against.
func TestDiscardedJar(t *testing.T) {
	broke := entry("discarded", "2025-11-08", `batch = "26-1"`, "jars = 1", `why = "jar broke"`)
	s, problems := stateOf(t, begunBatch+broke)
	b := s.Batches[0]
	if len(problems) > 0 || b.JarsStanding() != 1 || b.JarsPutUp() != 2 || b.SpiritML != 500 || b.SpiritPutUpML() != 1000 || b.dryGrams() != 50 || s.OnHand("shiitake") != 100 {
		t.Error(summary(s, problems))
	}
	if in := b.WentIn(); len(in) != 1 || in[0].Grams != 100 || b.Discards[0].Goods[0].Grams != 50 {
		t.Errorf("went in: %v, discarded: %+v", in, b.Discards)
	}
	if got := s.DryTermsOf("shiitake", "", ""); got.Used != 100 || got.Balance() != nil {
		t.Error(got)
	}
	// 500 ml of spirit and the water of 50 g: what came of two jars is too much of one.
	for volume, odd := range map[string]bool{"420 ml": false, "840 ml": true} {
		_, problems := stateOf(t, begunBatch+broke+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "`+volume+`"`))
		if got := has(problems, 0, "went in, the water in the goods included"); got != odd {
			t.Errorf("%s: pointed at: %v, want %v", volume, got, odd)
		}
	}
	// The other one breaks too: the batch is over.
	s, problems = stateOf(t, begunBatch+broke+entry("discarded", "2025-11-09", `batch = "26-1"`, "jars = 1"))
	if b := s.Batches[0]; len(problems) > 0 || b.Ended != EndDiscarded || b.JarsStanding() != 0 || b.JarsPutUp() != 2 || b.WentIn()[0].Grams != 100 {
		t.Error(summary(s, problems))
	}
}

func TestDiscarded(t *testing.T) {
	strained := entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`)
	s, problems := stateOf(t, begunBatch+strained+entry("discarded", "2025-12-02", `batch = "26-1"`, `volume = "100 ml"`, `why = "spilt"`))
	if b := s.Batches[0]; len(problems) > 0 || b.LiquidML() != 740 || b.Ended != "" {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, begunBatch+entry("discarded", "2025-12-02", `batch = "26-1"`, `why = "mould"`))
	if b := s.Batches[0]; len(problems) > 0 || b.Ended != EndDiscarded || b.JarsStanding() != 0 || !b.Discards[0].All {
		t.Error(summary(s, problems))
	}
	// Two jars are put up and both are said to be strained after one broke.
	_, problems = stateOf(t, begunBatch+entry("discarded", "2025-11-08", `batch = "26-1"`, "jars = 1")+entry("strained", "2025-12-01", `batch = "26-1"`, "jars = 2"))
	if !has(problems, 0, "2 jars of batch 26-1 are strained, and 2 were put up and 1 of them lost") {
		t.Error(lines(problems))
	}
}

// Jars that stood before the first evening: a vague day, no lots, nothing on
// the shelf. The batch stands, and what the shelf lacks is pointed at.
func TestJarsOfTheFirstEvening(t *testing.T) {
	for _, lines := range [][]string{
		{`batch = "old"`, `recipe = "five mushrooms"`, "ingredients = []"},
		{`batch = "old"`, `recipe = "five mushrooms"`, "jars = 1", `ingredients = [{species = "shiitake", dry = "50 g"}]`},
		{`batch = "old"`, `recipe = "grandmother's"`, "jars = 3"},
	} {
		s, problems := stateOf(t, entry("macerated", "2026-03", lines...)+entry("counted", "2026-05-01", `species = "shiitake"`, `dry = "200 g"`))
		for _, p := range problems {
			if p.Grade != Odd {
				t.Error(p)
			}
		}
		if len(s.Batches) != 1 || len(s.Sort) > 0 || s.Batches[0].JarsStanding() == 0 || s.OnHand("shiitake") != 200 {
			t.Error(summary(s, problems))
		}
		for _, b := range s.books() {
			if err := b.Balance(); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestSpiritLot(t *testing.T) {
	bought := entry("bought", "2025-10-01", `item = "spirit"`, `amount = "3 l"`, `lot = "SP-26-1"`)
	for lot, odd := range map[string]bool{"SP-26-1": false, "sp-26-1": false, "SP-26-2": true, "from the cellar": false} {
		s, problems := stateOf(t, bought+entry("macerated", "2025-11-01", `batch = "26-1"`, `recipe = "five mushrooms"`, "ingredients = []", `spirit_lot = "`+lot+`"`))
		if got := has(problems, 0, "did you mean SP-26-1"); got != odd || s.Batches[0].SpiritLot != lot {
			t.Errorf("%s: pointed at: %v, want %v", lot, got, odd)
		}
	}
}

// Each can be set right and taken back like any other entry.
func TestBatchEntriesCorrected(t *testing.T) {
	wrong := "[[discarded]]\non = 2025-11-08\nbatch = \"26-1\"\njars = 2\nentry = \"kitchen-7\"\n\n" +
		"[[added]]\non = 2025-11-09\nbatch = \"26-1\"\nspecies = \"shiitake\"\ndry = \"20 g\"\nentry = \"kitchen-8\"\n\n" +
		"[[shaken]]\non = 2025-11-09\nbatch = \"26-1\"\ndays = 3\nentry = \"kitchen-9\"\n\n"
	right := "[[corrected]]\non = 2025-11-08\nreplaces = \"kitchen-7\"\nkind = \"discarded\"\nbatch = \"26-1\"\njars = 1\nwhy = \"cracked\"\nentry = \"kitchen-10\"\n\n"
	void := "[[corrected]]\non = 2025-11-09\nreplaces = \"kitchen-8\"\nvoid = true\nentry = \"kitchen-11\"\n\n" +
		"[[corrected]]\non = 2025-11-09\nreplaces = \"kitchen-9\"\nvoid = true\nentry = \"kitchen-12\"\n\n"
	s, problems := stateOf(t, begunBatch+wrong+right+void)
	b := s.Batches[0]
	if len(problems) > 0 || b.Ended != "" || b.JarsStanding() != 1 || len(b.Additions) != 0 || b.DaysShaken() != 0 || s.OnHand("shiitake") != 100 {
		t.Error(summary(s, problems))
	}
}

func TestBatchEntriesSay(t *testing.T) {
	s, _ := stateOf(t, begunBatch+standing+
		entry("blended", "2025-12-03", `batch = "26-5"`, `from = ["26-1 500 ml", "26-2"]`, `volume = "890 ml"`)+
		entry("discarded", "2025-12-04", `batch = "26-5"`, `volume = "90 ml"`, `why = "spilt"`)+
		entry("sold", "2025-12-05", `lot = "26-5"`, `bottles = [{count = 2, size = "50 ml"}]`, `to = "fair"`))
	var all []string
	for _, e := range s.Entries {
		all = append(all, e.Says())
	}
	for _, want := range []string{"blended 26-5: from 26-1 500 ml, from 26-2, volume 890 ml", "discarded 26-5: volume 90 ml, why spilt", "lot 26-5, 2 x 50 ml, to fair"} {
		if !strings.Contains(strings.Join(all, "\n"), want) {
			t.Errorf("nothing says %q:\n%s", want, strings.Join(all, "\n"))
		}
	}
}

func TestPartsAreComposed(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for typed, want := range map[string]string{
		"26-03 400 ml, 26-04":       `from    = [{batch = "26-03", volume = "400 ml"}, {batch = "26-04"}]`,
		"26-03 about 400 ml":        `from    = [{batch = "26-03", volume = "about 400 ml"}]`,
		"Grey jar 1 l; 7":           `from    = [{batch = "Grey jar", volume = "1 l"}, {batch = "7"}]`,
		`[{batch = "26-03"}]`:       `from    = [{batch = "26-03"}]`,
		"26-03 12 floz, 26-04 3 ml": `from    = [{batch = "26-03", volume = "12 floz"}, {batch = "26-04", volume = "3 ml"}]`,
	} {
		text, problems := Compose("blended", map[string]string{"batch": "26-05", "from": typed}, terms)
		if !strings.Contains(text, want) {
			t.Errorf("%s became\n%s%s", typed, text, lines(problems))
		}
	}
}

// A batch that is blended of others carries their recipes, their mushrooms and
// their share of the dried goods.
func TestBlendedCarries(t *testing.T) {
	reishi := entry("received", "2025-10-01", `species = "reishi"`, `dry = "100 g"`) +
		entry("macerated", "2025-11-02", `batch = "26-3"`, `recipe = "grandmother's"`, "jars = 1", `ingredients = [{species = "reishi", dry = "60 g"}]`)
	strained := entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "800 ml"`) + entry("strained", "2025-12-01", `batch = "26-2"`, `volume = "400 ml"`) +
		entry("strained", "2025-12-01", `batch = "26-3"`, `volume = "300 ml"`)
	for _, c := range []struct {
		from, recipe, named, species string
		g                            float64
		known                        bool
	}{
		{`["26-1 400 ml", "26-2"]`, "five mushrooms", "five mushrooms", "shiitake", 50 + 50, true},
		{`["26-1 200 ml", "26-3 100 ml"]`, "", "five mushrooms and grandmother's", "shiitake, reishi", 25 + 20, true},
		{`["26-3"]`, "grandmother's", "grandmother's", "reishi", 60, true},
	} {
		made := entry("blended", "2025-12-03", `batch = "26-5"`, "from = "+c.from, `volume = "590 ml"`)
		s, problems := stateOf(t, begunBatch+standing+reishi+strained+made)
		b := s.batch("26-5")
		g, known := b.GoodsG()
		if b.Recipe != c.recipe || b.Named() != c.named || strings.Join(b.Species(), ", ") != c.species || g < c.g-1e-9 || g > c.g+1e-9 || known != c.known {
			t.Errorf("%s: %q, %q, %v, %v g\n%s", c.from, b.Recipe, b.Named(), b.Species(), g, lines(problems))
		}
		// What is blended once more, goods and all.
		s, _ = stateOf(t, begunBatch+standing+reishi+strained+made+entry("blended", "2025-12-09", `batch = "26-6"`, `from = ["26-5 295 ml", "26-3 30 ml"]`)+
			entry("bottled", "2025-12-10", `batch = "26-6"`, `bottles = [{count = 3, size = "100 ml"}]`))
		again := s.batch("26-6")
		if h, _ := again.GoodsG(); c.from != `["26-3"]` && (h < g/2+6-1e-9 || h > g/2+6+1e-9) {
			t.Errorf("%s: %v g, half of %v and 6 more were wanted", c.from, h, g)
		}
		if s.Bottles[0].Recipe != again.Named() || !strings.Contains(again.Named(), "grandmother's") {
			t.Errorf("%+v of %q", s.Bottles[0], again.Named())
		}
		if p := s.takeBottles("26-6", []BottleCount{{100, 1}}, DrySold, s.Entries[0]); len(p) > 0 || s.Bottles[0].count() != 2 {
			t.Error(p)
		}
	}
	// A part of what nobody measured, and a batch of which nobody wrote what went in.
	unmeasured := entry("macerated", "2025-11-02", `batch = "old"`, `recipe = "grandmother's"`, "jars = 1", "ingredients = []")
	for _, from := range []string{`["26-1 200 ml", "old"]`, `["26-2 200 ml"]`} {
		s, _ := stateOf(t, begunBatch+standing+unmeasured+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "800 ml"`)+
			entry("blended", "2025-12-03", `batch = "26-5"`, "from = "+from))
		if _, known := s.batch("26-5").GoodsG(); known {
			t.Errorf("%s: nobody knows how much", from)
		}
	}
}

// What is counted on the first evening is an opening stock, also where jars
// stood before; what was in them came before the record.
func TestFirstCountAfterStandingJars(t *testing.T) {
	old := entry("macerated", "2026-03", `batch = "old"`, `recipe = "five mushrooms"`, "jars = 1", `ingredients = [{species = "shiitake", dry = "50 g"}]`)
	first := entry("counted", "2026-04-20", `species = "shiitake"`, `dry = "200 g"`)
	s, _ := stateOf(t, old+first)
	if b := s.DryTermsOf("shiitake", "", ""); b.String() != "in 250 = left 200 + used 50" || b.Balance() != nil {
		t.Error(b)
	}
	// From then on what nobody wrote down is unexplained.
	s, _ = stateOf(t, old+first+entry("counted", "2026-04-21", `species = "shiitake"`, `dry = "230 g"`))
	if b := s.DryTermsOf("shiitake", "", ""); b.String() != "in 250 + unexplained 30 = left 230 + used 50" || b.Balance() != nil {
		t.Error(b)
	}
}

// Leftovers: what was not blended in and is thrown away leaves the blend whole,
// and what was spilt before it was measured is not spilt twice.
func TestLeftOversAndSpills(t *testing.T) {
	made := entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`) + entry("decocted", "2025-12-01", `batch = "26-1"`, `volume = "700 ml"`)
	blend := entry("blended", "2025-12-02", `batch = "26-1"`, `spirit_part = "800 ml"`, `decoction_part = "500 ml"`, `volume = "1290 ml"`)
	poured := func(lines ...string) string {
		return entry("discarded", "2025-12-03", append([]string{`batch = "26-1"`}, lines...)...)
	}
	for name, c := range map[string]struct {
		text                 string
		ml, spirit, decocted float64
		odd                  string
	}{
		"nothing":                  {made + blend, 1290, 40, 200, ""},
		"the leftover decoction":   {made + blend + poured(`volume = "200 ml"`, `of = "decoction"`), 1290, 40, 0, ""},
		"some of the spirit":       {made + blend + poured(`volume = "30 ml"`, `of = "spirit"`), 1290, 10, 200, ""},
		"some of the blend":        {made + blend + poured(`volume = "90 ml"`), 1200, 40, 200, ""},
		"the blend, said so":       {made + blend + poured(`volume = "90 ml"`, `of = "blend"`), 1200, 40, 200, ""},
		"more than was left":       {made + blend + poured(`volume = "300 ml"`, `of = "decoction"`), 1290, 40, 0, "300 ml of batch 26-1 were discarded, and there were 200 ml"},
		"spilt before the measure": {made + entry("discarded", "2025-12-01", `batch = "26-1"`, `volume = "100 ml"`) + blend, 1290, 40, 200, ""},
		"spilt, never measured":    {made + entry("discarded", "2025-12-01", `batch = "26-1"`, `volume = "100 ml"`), 1440, 0, 0, ""},
	} {
		s, problems := stateOf(t, begunBatch+c.text)
		b := s.Batches[0]
		spirit, decoction := b.LeftOver()
		if b.LiquidML() != c.ml || spirit != c.spirit || decoction != c.decocted || len(problems) > 0 != (c.odd != "") || c.odd != "" && !has(problems, 0, c.odd) {
			t.Errorf("%s: %v ml, left over %v and %v\n%s", name, b.LiquidML(), spirit, decoction, lines(problems))
		}
	}
}
