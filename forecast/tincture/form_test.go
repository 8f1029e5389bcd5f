package tincture

import (
	"slices"
	"strings"
	"testing"

	"hodaba/yard"
)

// formed is a recipe of 100 g of reishi in a form.
func formed(name, form string) yard.Recipe {
	r := short(name, "reishi")
	r.Ingredients[0].Form = form
	return r
}

// By hand: 100 g are wanted, and what is on hand or comes on day 30 is in a
// form. Powder can be made of pieces, pieces never of powder, and fresh ones
// are still to be picked.
func TestFormsByHand(t *testing.T) {
	on := func() *larder { return newLarder(1) }
	for name, c := range map[string]struct {
		stock *larder
		form  string
		days  int // from today on; −1 never
	}{
		"pieces of pieces":                 {on().hold("reishi", 100), pieces, 0},
		"powder of powder":                 {on().powder("reishi", 100), powder, 0},
		"powder of pieces, ground":         {on().hold("reishi", 100), powder, 0},
		"powder of both":                   {on().hold("reishi", 60).powder("reishi", 40), powder, 0},
		"pieces of powder":                 {on().powder("reishi", 100), pieces, -1},
		"pieces of both":                   {on().hold("reishi", 60).powder("reishi", 40), pieces, -1},
		"pieces of what comes":             {on().powder("reishi", 100).everyDraw("reishi", today+30, 100), pieces, 30},
		"powder of what comes":             {on().everyDraw("reishi", today+30, 100), powder, 30},
		"fresh ones, and dried are there":  {on().hold("reishi", 100).powder("reishi", 100), fresh, -1},
		"fresh ones of what comes":         {on().hold("reishi", 100).everyDraw("reishi", today+30, 100), fresh, 30},
		"no form said is pieces":           {on().powder("reishi", 100), "", -1},
		"no form said, and pieces on hand": {on().hold("reishi", 100), "", 0},
	} {
		b := must(Schedule(c.stock, wishesFor(formed("One", c.form)), everyDay{}, termsOf(2), testSet())).Batches[0]
		want := today + yard.Date(c.days)
		if c.days < 0 {
			want = 0
		}
		if b.Start != want {
			t.Errorf("%s: starts on %v, want %v (%s)", name, b.Start, want, b.Why)
		}
	}
}

// By hand: 100 g of pieces and 100 g of powder. A batch of powder and one of
// pieces both start at once, in either order; of two of pieces the second waits
// for what comes, and so does a third of powder.
func TestFormsShareWhatThereIs(t *testing.T) {
	stock := newLarder(2).hold("reishi", 100).powder("reishi", 100).everyDraw("reishi", today+30, 100)
	for name, c := range map[string]struct{ forms, late []string }{
		"powder first":        {[]string{powder, pieces}, nil},
		"pieces first":        {[]string{pieces, powder}, nil},
		"two of pieces":       {[]string{pieces, pieces}, []string{"Recipe 1"}},
		"two of powder, then": {[]string{powder, powder, pieces}, []string{"Recipe 2"}},
		"pieces, two powders": {[]string{pieces, powder, powder}, []string{"Recipe 2"}},
	} {
		var recipes []yard.Recipe
		for i, f := range c.forms {
			recipes = append(recipes, formed("Recipe "+string('0'+rune(i)), f))
		}
		p := must(Schedule(stock, wishesFor(recipes...), everyDay{}, termsOf(9), testSet()))
		for _, b := range p.Batches {
			want := today
			if slices.Contains(c.late, b.Recipe) {
				want += 30
			}
			if b.Start != want {
				t.Errorf("%s: %s starts on %v, want %v", name, b.Recipe, b.Start, want)
			}
		}
	}
}

// By hand: 30 g of powder and 50 g of pieces in two lots, 100 g wanted: the
// powder is taken, both lots are ground, and 20 g of what is still to be dried.
// The next batch of powder has it all ground of what comes.
func TestWhatIsToBeGround(t *testing.T) {
	stock := newLarder(1).powder("reishi", 30).hold("reishi", 50).everyDraw("reishi", today+20, 200)
	terms := termsOf(9)
	terms.Lots = []DryLot{{"D1", "reishi", pieces, 20}, {"P1", "reishi", powder, 30}, {"the big jar", "reishi", pieces, 30}, {"S", "shiitake", pieces, 500}}
	p := must(Schedule(stock, wishesFor(formed("One", powder), formed("Two", powder)), everyDay{}, terms, testSet()))
	want := [][]Grinding{{{"reishi", "D1", 20}, {"reishi", "the big jar", 30}, {"reishi", "", 20}}, {{"reishi", "", 100}}}
	for i, b := range p.Batches {
		if got := b.Needs[0].Grind; !slices.Equal(got, want[i]) {
			t.Errorf("%s: %v, want %v", b.Recipe, got, want[i])
		}
	}
	notes := strings.Join(p.Batches[0].Notes, "\n")
	for _, say := range []string{"reishi goes in as powder: grind 20 g of lot D1 first: hodaba record ground reishi dry=20g lot=D1",
		"hodaba record ground reishi dry=30g lot='the big jar'", "grind 20 g as soon as it is dry: hodaba record ground reishi dry=20g"} {
		if !strings.Contains(notes, say) {
			t.Errorf("missing %q in\n%s", say, notes)
		}
	}
	if p := must(Schedule(stock, wishesFor(formed("One", pieces)), everyDay{}, terms, testSet())); !strings.Contains(strings.Join(p.Batches[0].Notes, "\n"), "30 g of reishi powder are on hand and not counted on") {
		t.Errorf("nothing is said of the powder: %q", p.Batches[0].Notes)
	} else if len(p.Batches[0].Needs[0].Grind) > 0 {
		t.Error("pieces are wanted, and something is to be ground")
	}
	if q := yard.CommandWord("lion's mane"); q != `'lion'\''s mane'` {
		t.Errorf("quoted as %s", q)
	}
}

// Scaled to the stock by hand: 100 g a jar of each form from 300 g of pieces,
// 100 g of powder and 50 g fresh in the cold.
func TestScaledByForm(t *testing.T) {
	hand := func(_, form string) float64 { return map[string]float64{pieces: 300, powder: 400, fresh: 50}[form] }
	for name, c := range map[string]struct {
		forms []string
		by    float64
	}{
		"pieces": {[]string{pieces}, 3}, "powder": {[]string{powder}, 4}, "fresh": {[]string{fresh}, 0.5}, "both": {[]string{pieces, powder}, 2},
		"two of pieces": {[]string{pieces, pieces}, 1.5}, "two of pieces and powder": {[]string{pieces, powder, pieces}, 4. / 3},
	} {
		r := formed("One", pieces)
		r.Ingredients = nil
		for _, f := range c.forms {
			r.Ingredients = append(r.Ingredients, yard.Ingredient{Species: "reishi", Form: f, GramsJar: 100})
		}
		if _, by, _, _ := ForStock(r, hand); !near(by, c.by, 1e-6) {
			t.Errorf("%s: %g times, want %g", name, by, c.by)
		}
	}
}
