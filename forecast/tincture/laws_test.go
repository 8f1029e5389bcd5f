package tincture

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hodaba/yard"
)

var kinds = []string{"shiitake", "reishi", "lion's mane"}

// drawLarder makes a stock in which draws go together and apart.
func drawLarder(t *rapid.T) *larder {
	l := newLarder(rapid.IntRange(1, 8).Draw(t, "draws"))
	for _, s := range kinds {
		l.hold(s, float64(rapid.IntRange(0, 250).Draw(t, s+" on hand")))
		l.powder(s, float64(rapid.SampledFrom([]int{0, 0, 50, 200}).Draw(t, s+" powder")))
		for d := range l.draws {
			for range rapid.IntRange(0, 4).Draw(t, "pickings") {
				l.add(s, d, today+yard.Date(rapid.IntRange(-5, 250).Draw(t, "day")), float64(rapid.IntRange(1, 200).Draw(t, "g")))
			}
		}
	}
	return l
}

// plainRecipe has neither alternatives nor optional ingredients.
func plainRecipe(t *rapid.T, name string) yard.Recipe {
	r := short(name, rapid.SampledFrom(kinds).Draw(t, "first"))
	for _, s := range kinds {
		if s != r.Ingredients[0].Species && rapid.Bool().Draw(t, "also "+s) {
			r.Ingredients = append(r.Ingredients, yard.Ingredient{Species: s, GramsJar: float64(rapid.IntRange(1, 120).Draw(t, "g"))})
		}
	}
	for i := range r.Ingredients {
		r.Ingredients[i].Form = rapid.SampledFrom([]string{pieces, pieces, powder, fresh}).Draw(t, "form")
	}
	r.Jars = rapid.IntRange(1, 2).Draw(t, "jars")
	r.MacerateMin = rapid.IntRange(1, 30).Draw(t, "from")
	r.MacerateMax = r.MacerateMin + rapid.IntRange(0, 20).Draw(t, "to")
	r.Method = rapid.SampledFrom([]string{MarcDecocted, MarcDecocted, MacerationOnly, DecoctionOnly}).Draw(t, "method")
	return r
}

// anyRecipe may have both.
func anyRecipe(t *rapid.T, name string) yard.Recipe {
	r := plainRecipe(t, name)
	for i := range r.Ingredients {
		if rapid.IntRange(0, 2).Draw(t, "or") == 0 {
			r.Ingredients[i].Or = []string{rapid.SampledFrom(kinds).Draw(t, "stand-in")}
		}
		r.Ingredients[i].Optional = i > 0 && rapid.Bool().Draw(t, "optional")
	}
	return r
}

func drawWishes(t *rapid.T, recipe func(*rapid.T, string) yard.Recipe) (ws []Wish) {
	for i := range rapid.IntRange(1, 5).Draw(t, "wishes") {
		ws = append(ws, Wish{Recipe: recipe(t, fmt.Sprintf("Recipe %c", 'A'+i))})
	}
	return ws
}

func drawDays(t *rapid.T) Workdays {
	w := yard.Working{Country: rapid.SampledFrom([]string{"", "gb", "us"}).Draw(t, "country")}
	from := today + yard.Date(rapid.IntRange(0, 200).Draw(t, "away from"))
	w.Away = []yard.Absence{{From: from, To: from + yard.Date(rapid.IntRange(0, 40).Draw(t, "days"))}}
	return must(NewWorkdays(w))
}

func drawTerms(t *rapid.T, jars int) Terms {
	terms := termsOf(jars)
	terms.Until = today + yard.Date(rapid.IntRange(100, 400).Draw(t, "horizon"))
	terms.Confidence = rapid.SampledFrom([]float64{0.3, 0.5, 0.8, 1}).Draw(t, "confidence")
	return terms
}

// audit goes through books apart from the code that wrote them, and says what
// is used twice: a gram, a jar, the pot, a day on which nobody works.
func audit(b *book, stock *larder, species []string, draw int, days Workdays, jars int) (wrong []string) {
	for s, takes := range b.takes {
		for _, at := range takes {
			if lack := stock.lacks(species[s], draw, takes, at.day); lack > 0 {
				wrong = append(wrong, fmt.Sprintf("%s: %d mg taken by %v that are not there", species[s], lack, at.day))
			}
			if !days.Open(at.day) {
				wrong = append(wrong, fmt.Sprintf("begun on %v, when nobody works", at.day))
			}
		}
	}
	use := map[yard.Date]int{}
	for _, s := range b.stands {
		for d := s.from; d <= s.to; d++ {
			use[d] += s.jars
		}
		if !days.Open(s.from) || !days.Open(s.to) {
			wrong = append(wrong, fmt.Sprintf("stands from %v to %v, one of which is closed", s.from, s.to))
		}
	}
	for d, n := range use {
		if jars > 0 && n > jars {
			wrong = append(wrong, fmt.Sprintf("%d jars in use on %v of %d", n, d, jars))
		}
	}
	pot := map[yard.Date]bool{}
	for _, d := range b.pot {
		if pot[d] {
			wrong = append(wrong, fmt.Sprintf("the pot is used twice on %v", d))
		}
		pot[d] = true
	}
	return wrong
}

// auditPlan looks at what is printed.
func auditPlan(p *Plan, recipes []yard.Recipe, days Workdays, jars int) (wrong []string) {
	jar, pot := map[[2]int]string{}, map[yard.Date]string{}
	for i, b := range p.Batches {
		r := recipes[i]
		for _, d := range []yard.Date{b.Start, b.Strain, b.Decoct, b.Blend, b.Bottled} {
			if d != 0 && !days.Open(d) {
				wrong = append(wrong, fmt.Sprintf("%s: work on %v, when nobody works", b.Lot, d))
			}
		}
		if stood := int(b.Strain - b.Start); b.Strain != 0 && (stood < r.MacerateMin || stood > r.MacerateMax) {
			wrong = append(wrong, fmt.Sprintf("%s: stands %d days", b.Lot, stood))
		}
		if b.Strain != 0 && (b.ShakeUntil >= b.Strain || len(b.Jars) != r.Jars) {
			wrong = append(wrong, fmt.Sprintf("%s: shaken until %v, strained %v, in jars %v", b.Lot, b.ShakeUntil, b.Strain, b.Jars))
		}
		if b.Decoct != 0 && pot[b.Decoct] != "" {
			wrong = append(wrong, fmt.Sprintf("%s and %s: the pot on %v", b.Lot, pot[b.Decoct], b.Decoct))
		}
		pot[b.Decoct] = b.Lot
		for _, j := range b.Jars {
			for d := b.Start; d <= b.Strain; d++ {
				at := [2]int{j, int(d)}
				if jar[at] != "" || j < 1 || (jars > 0 && j > jars) {
					wrong = append(wrong, fmt.Sprintf("%s and %s: jar %d of %d on %v", b.Lot, jar[at], j, jars, d))
				}
				jar[at] = b.Lot
			}
		}
	}
	return wrong
}

// holds is the share of draws in which all printed starts hold together, from
// the stock alone: by each of these days, all that is to be taken up to then
// has come in.
func holds(p *Plan, stock *larder) float64 {
	good := 0
	for draw := range stock.draws {
		ok := true
		for _, at := range p.Batches {
			taken := map[string][]take{}
			for _, b := range p.Batches {
				for _, n := range b.Needs {
					if m, _ := moisture(n.Species, testSet()); b.Start != 0 {
						taken[n.Species] = append(taken[n.Species], take{b.Start, int64(driedGrams(n, m)*1000 + 0.5), levelOf(n.Form)})
					}
				}
			}
			for s, takes := range taken {
				ok = ok && stock.lacks(s, draw, takes, at.Start) == 0
			}
		}
		if ok {
			good++
		}
	}
	return float64(good) / float64(stock.draws)
}

func TestNothingIsUsedTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, wishes, days := drawLarder(t), drawWishes(t, anyRecipe), drawDays(t)
		jars := rapid.IntRange(1, 4).Draw(t, "kitchen jars")
		s := must(schedule(stock, wishes, days, drawTerms(t, jars), testSet()))
		for d := range s.follow {
			for name, b := range map[string]*book{"soonest": &s.soonest[d], "following": &s.follow[d]} {
				if wrong := audit(b, stock, s.species, d, days, jars); len(wrong) > 0 {
					t.Fatalf("%s, draw %d: %v", name, d, wrong)
				}
			}
		}
		var recipes []yard.Recipe
		for _, w := range wishes {
			recipes = append(recipes, w.Recipe)
		}
		if wrong := auditPlan(s.plan, recipes, days, jars); len(wrong) > 0 {
			t.Fatalf("printed: %v", wrong)
		}
	})
}

// A batch starts on the very first day on which it can: going through the days
// one by one, the first on which nothing is used twice is that day.
func TestNoSoonerDayIsMissed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		wishes := drawWishes(t, plainRecipe)
		wishes = wishes[:min(len(wishes), 3)]
		terms := drawTerms(t, rapid.IntRange(1, 4).Draw(t, "kitchen jars"))
		terms.Until = today + 100
		s := &scheduler{planner: newPlanner(stock, days, terms), plan: &Plan{}, set: testSet()}
		for k, w := range wishes {
			want := s.wantOf(w.Recipe)
			l := s.place(want)
			for d := range min(stock.draws, 2) {
				if first := firstByHand(s, want, d, stock, days); first != l.soonest[d].start {
					t.Fatalf("batch %d, draw %d: starts on %v, could on %v", k, d, l.soonest[d].start, first)
				}
			}
			s.book(want, l)
		}
	})
}

// firstByHand tries day after day.
func firstByHand(s *scheduler, w *want, draw int, stock *larder, days Workdays) yard.Date {
	for start := s.terms.AsOf; start <= s.terms.Until; start++ {
		for strain := start + yard.Date(w.pace.first); strain <= start+yard.Date(w.pace.last); strain++ {
			if !days.Open(start) || !days.Open(strain) || w.pace.pot && s.soonest[draw].potBusy(strain) {
				continue
			}
			b := book{stands: slices.Clone(s.soonest[draw].stands), pot: slices.Clone(s.soonest[draw].pot)}
			for _, ts := range s.soonest[draw].takes {
				b.takes = append(b.takes, slices.Clone(ts))
			}
			at := begin{start: start, strain: strain}
			for _, l := range w.lines {
				at.picks = append(at.picks, pick{l.species[0], l.level, l.mg})
			}
			enter(&b, w.pace, at)
			if len(audit(&b, stock, s.species, draw, days, s.terms.Kitchen.Jars)) == 0 {
				return start
			}
			break // the first day on which it can be strained is the one
		}
	}
	return 0
}

// Each kind of fault is planted once and must be seen.
func TestAuditSeesPlantedFaults(t *testing.T) {
	days := monToFri()
	stock := newLarder(1).hold("reishi", 200)
	r := short("One", "reishi")
	fresh := func() *scheduler { return must(schedule(stock, wishesFor(r, r), days, termsOf(2), testSet())) }
	for name, fault := range map[string]func(b *book){
		"a gram twice":     func(b *book) { b.take(0, asPieces, today+30, 1000) },
		"a jar twice":      func(b *book) { b.stands = append(b.stands, b.stands[0]) },
		"the pot twice":    func(b *book) { b.pot = append(b.pot, b.pot[0]) },
		"a closed day":     func(b *book) { b.takes[0][0].day = today + 5 },
		"strained Sundays": func(b *book) { b.stands[0].to = today + 6 },
	} {
		s := fresh()
		if wrong := audit(&s.follow[0], stock, s.species, 0, days, 2); len(wrong) > 0 {
			t.Fatalf("before any fault: %v", wrong)
		}
		fault(&s.follow[0])
		if len(audit(&s.follow[0], stock, s.species, 0, days, 2)) == 0 {
			t.Errorf("%s is not seen", name)
		}
	}
	for name, fault := range map[string]func(p *Plan){
		"one jar for two":  func(p *Plan) { p.Batches[1].Jars = p.Batches[0].Jars },
		"one pot for two":  func(p *Plan) { p.Batches[1].Decoct = p.Batches[0].Decoct },
		"bottled Sundays":  func(p *Plan) { p.Batches[0].Bottled = today + 6 },
		"strained early":   func(p *Plan) { p.Batches[0].Strain = p.Batches[0].Start + 1 },
		"shaken too long":  func(p *Plan) { p.Batches[0].ShakeUntil = p.Batches[0].Strain },
		"a third jar of 2": func(p *Plan) { p.Batches[0].Jars = []int{3} },
	} {
		s := fresh()
		fault(s.plan)
		if len(auditPlan(s.plan, []yard.Recipe{r, r}, days, 2)) == 0 {
			t.Errorf("%s is not seen", name)
		}
	}
}

// A printed start holds as often as was asked for, all together no more often
// than any alone, and exactly as often as the stock says; less often only
// where a batch without a date may take goods first. That the product of the
// single chances would be caught, TestJointChanceIsNotTheProduct shows.
func TestChancesAreWhatTheStockSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		terms := drawTerms(t, rapid.IntRange(0, 4).Draw(t, "kitchen jars"))
		p := must(Schedule(stock, drawWishes(t, plainRecipe), days, terms, testSet()))
		for _, b := range p.Batches {
			if b.Start == 0 {
				continue
			}
			if b.StartChance < terms.Confidence-1e-9 || p.Holds > b.StartChance+1e-9 {
				t.Fatalf("%s: chance %g at confidence %g, all hold %g", b.Lot, b.StartChance, terms.Confidence, p.Holds)
			}
			if b.Start < terms.AsOf || b.Start > terms.Until {
				t.Fatalf("%s: starts on %v", b.Lot, b.Start)
			}
		}
		want, undated := holds(p, stock), slices.ContainsFunc(p.Batches, func(b Batch) bool { return b.Start == 0 && b.Reached > 0 })
		if p.Holds > want+1e-9 || (!undated && p.Holds < want-1e-9) {
			t.Fatalf("all hold %g, the stock says %g", p.Holds, want)
		}
	})
}

// more adds something to a stock, the same in every draw.
func more(t *rapid.T, l *larder) *larder {
	c := l.clone()
	species := rapid.SampledFrom(kinds).Draw(t, "more of")
	return c.everyDraw(species, today+yard.Date(rapid.IntRange(0, 200).Draw(t, "on day")), float64(rapid.IntRange(1, 300).Draw(t, "more g")))
}

// later reports whether a day is after another, none being after all.
func later(a, b yard.Date) bool { return b != 0 && (a == 0 || a > b) }

// Adding stock never delays the batch that is first in the order, in any draw,
// and so not its printed date. One lower in the order can be delayed: when the
// first starts sooner, it may take the jars or the goods that the other had
// borrowed. What never happens is that, of all batches in order, the first
// whose day in a draw changes comes later.
func TestMoreStockNeverDelays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		wishes := drawWishes(t, plainRecipe)
		terms := drawTerms(t, rapid.IntRange(0, 4).Draw(t, "kitchen jars"))
		p := placings(stock, wishes, days, terms)
		q := placings(more(t, stock), wishes, days, terms)
		if later(q[0].start, p[0].start) {
			t.Fatalf("printed %v, with more stock %v", p[0].start, q[0].start)
		}
		for d := range stock.draws {
			for k := range p {
				a, b := p[k].soonest[d].start, q[k].soonest[d].start
				if later(b, a) {
					t.Fatalf("draw %d, batch %d: %v, with more stock %v", d, k, a, b)
				}
				if a != b {
					break
				}
			}
		}
	})
}

// Where each batch has its own species and nothing else is short, adding stock
// delays none.
func TestMoreStockDelaysNoneApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		wishes, terms := apart(), drawTerms(t, 0)
		before := must(Schedule(stock, wishes, days, terms, testSet()))
		after := must(Schedule(more(t, stock), wishes, days, terms, testSet()))
		for i, b := range before.Batches {
			if a := after.Batches[i]; later(a.Start, b.Start) || later(a.Early, b.Early) || later(a.Late, b.Late) || a.Reached < b.Reached {
				t.Fatalf("%s: before %+v, after %+v", b.Lot, b, a)
			}
		}
	})
}

// placings are those of all wishes, in order.
func placings(stock Stock, wishes []Wish, days Workdays, terms Terms) (ls []*placing) {
	s := &scheduler{planner: newPlanner(stock, days, terms), plan: &Plan{}, set: testSet()}
	for _, w := range wishes {
		want := s.wantOf(w.Recipe)
		l := s.place(want)
		s.book(want, l)
		ls = append(ls, l)
	}
	return ls
}

// Without one of its ingredients a batch never starts later, in no draw and
// not as printed; an optional one makes no difference to its start at all.
func TestLeavingOutNeverDelays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		wishes := drawWishes(t, anyRecipe)
		terms := drawTerms(t, rapid.IntRange(0, 4).Draw(t, "kitchen jars"))
		k := rapid.IntRange(0, len(wishes)-1).Draw(t, "of batch")
		ins := wishes[k].Recipe.Ingredients
		i := rapid.IntRange(0, len(ins)-1).Draw(t, "without")
		if len(ins) == 1 {
			return
		}
		less := slices.Clone(wishes)
		less[k].Recipe.Ingredients = slices.Delete(slices.Clone(ins), i, i+1)
		p, q := placings(stock, wishes, days, terms)[k], placings(stock, less, days, terms)[k]
		for d := range stock.draws {
			a, b := p.soonest[d].start, q.soonest[d].start
			if later(b, a) || (ins[i].Optional && a != b) {
				t.Fatalf("draw %d: %v, without %s %v", d, a, ins[i].Species, b)
			}
		}
		if later(q.start, p.start) {
			t.Fatalf("printed %v, without %s %v", p.start, ins[i].Species, q.start)
		}
	})
}

// The surer a date must be, the later it is printed: for the first in the
// order always, for all where nothing but goods of their own holds them up.
func TestSurerIsLater(t *testing.T) {
	surer := func(t *rapid.T, wishes []Wish, jars, n int) {
		stock, days, terms := drawLarder(t), drawDays(t), drawTerms(t, jars)
		var last []*placing
		for _, c := range []float64{0.1, 0.3, 0.5, 0.7, 0.9, 1} {
			terms.Confidence = c
			now := placings(stock, wishes, days, terms)[:n]
			for k := range last {
				if later(last[k].start, now[k].start) {
					t.Fatalf("batch %d: at %g it is %v, less surely %v", k, c, now[k].start, last[k].start)
				}
			}
			last = now
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		surer(t, drawWishes(t, anyRecipe), rapid.IntRange(0, 4).Draw(t, "kitchen jars"), 1)
	})
	rapid.Check(t, func(t *rapid.T) { surer(t, apart(), 0, len(kinds)) })
}

// apart are wishes that share no mushroom, no jar and no pot.
func apart() (wishes []Wish) {
	for _, s := range kinds {
		r := short(s, s)
		r.Method = MacerationOnly
		wishes = append(wishes, Wish{Recipe: r})
	}
	return wishes
}

// The same stock, wishes and days give the same plan to the last bit.
func TestSamePlanTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days, wishes, terms := drawLarder(t), drawDays(t), drawWishes(t, anyRecipe), drawTerms(t, 3)
		a, b := must(Schedule(stock, wishes, days, terms, testSet())), must(Schedule(stock, wishes, days, terms, testSet()))
		if fmt.Sprintf("%+v", a) != fmt.Sprintf("%+v", b) {
			t.Fatalf("%+v\n%+v", a, b)
		}
	})
}

// What a grower can type never makes the calendar panic.
func TestOddRecipesDoNotPanic(t *testing.T) {
	odd := []float64{0, -1, 1e-9, 1, 40, 100, 101, 1e300}
	rapid.Check(t, func(t *rapid.T) {
		num := func(name string) float64 { return rapid.SampledFrom(odd).Draw(t, name) }
		r := short("Odd", "reishi", "unknown")
		r.Jars = rapid.IntRange(-1, 5).Draw(t, "jars")
		r.SpiritMLJar, r.SpiritABV, r.ToABV = num("ml"), num("% vol"), num("to")
		r.DecoctToML, r.BottleML, r.SpiritPart, r.WaterPart = num("decoct"), num("bottle"), num("part"), num("other part")
		r.MacerateMin, r.MacerateMax = rapid.IntRange(-2, 5000).Draw(t, "from"), rapid.IntRange(-2, 5000).Draw(t, "to")
		r.Ingredients[0].GramsJar = num("g")
		r.Method = rapid.SampledFrom([]string{"", MarcDecocted, Split, DecoctionOnly, MacerationOnly}).Draw(t, "method")
		terms := termsOf(rapid.IntRange(0, 3).Draw(t, "kitchen jars"))
		terms.Standing = []*yard.Batch{{Lot: "S", Recipe: "Odd", Jars: rapid.IntRange(-1, 3).Draw(t, "standing"), On: yard.When{From: today - 9, To: today - 2}}}
		plan, err := Schedule(newLarder(2).hold("reishi", 200).hold("unknown", 300), wishesFor(r), monToFri(), terms, testSet())
		if err != nil || len(plan.Batches) != 1 || len(plan.Standing) != 1 {
			t.Fatalf("%+v: %v", plan, err)
		}
	})
}
