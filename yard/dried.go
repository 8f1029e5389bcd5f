package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

var (
	formKey = Key{Name: "form", Holds: "pieces or powder", Example: "pieces", Kind: ChoiceKey, OneOf: []string{"pieces", "powder"}}
	dryKey  = Key{Name: "dry", Holds: "dried weight", Example: "240 g", Kind: WeightKey}
)

var driedKind = kind{
	KindInfo: KindInfo{
		Name: "dried", Says: "mushrooms came out of the drier and are weighed",
		Example: `dried shiitake fresh="2.4 kg" dry="240 g"`,
		Keys: []Key{
			loadKey.with("load of the drier; if left out, the oldest of that species and weight that is in", "26-14", false),
			{Name: "species", Holds: "which mushroom; that of the load if left out", Example: "shiitake", Kind: SpeciesKey},
			{Name: "fresh", Holds: "weight that went in; that of the load if left out", Example: "2.4 kg", Kind: WeightKey},
			dryKey, lotKey, formKey,
		},
	},
	make: func() readable { return &Dried{} },
}

// Dried puts own dried goods on the shelf.
type Dried struct {
	Load, Species string
	Fresh, Dry    Quantity // kg
	Lot, Form     string
}

// Kind is "dried".
func (x *Dried) Kind() string { return driedKind.Name }

func (x *Dried) fields() []any {
	return []any{&x.Load, &x.Species, &x.Fresh, &x.Dry, &x.Lot, &x.Form}
}

func (x *Dried) check(t *table) {
	if x.Species == "" && x.Load == "" {
		t.unusable = true
		t.say(Aside, "", "the species is missing", `add a line such as species = "shiitake"`)
	}
}

// Apply puts the lot on the shelf, and keeps both weights of a load. Where
// only the fresh weight is known, or a dried one that cannot come of it, that
// is pointed at.
func (x *Dried) Apply(s *State, e *Entry, d *data.Set) []Problem {
	name, known := "", true
	if x.Species != "" {
		name, _, known = s.resolve(x.Species, d)
	}
	fresh, species, problems := x.unload(name, s, e)
	switch {
	case species == "":
		s.Sort = append(s.Sort, e)
		for i := range problems {
			problems[i].Text += ": the entry is kept in the tray \"to sort\""
			problems[i].Grade = Aside
		}
		return problems
	case !known:
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d)))
	}
	switch {
	case x.Dry.Text == "":
		return append(problems, e.odd("", "the dried weight is not said, and nothing is put on the shelf", `correct the entry with dry = "240 g"`))
	case fresh.High > 0 && x.Dry.Low >= fresh.High:
		problems = append(problems, e.odd("dry", fmt.Sprintf("%s dried cannot come of %s fresh", x.Dry.Text, x.freshWords(fresh)),
			"look at both weights and their units"))
	}
	if fresh.Known() {
		s.Dryings = append(s.Dryings, Drying{On: e.On, Species: species, FreshKG: fresh.Mid(), DryG: x.Dry.grams(), Entry: e})
	}
	s.stored(species, x.Form, x.Lot, "own", DryIn, x.Dry.grams(), e)
	return problems
}

func (x *Dried) freshWords(fresh Span) string {
	if x.Fresh.Text != "" {
		return x.Fresh.Text
	}
	return spanWords(fresh) + " kg"
}

// unload takes the load out of the drier: the one that is named, else the one
// that is meant. It gives the species and the fresh weight where the entry does
// not, and a fresh weight counts once.
func (x *Dried) unload(species string, s *State, e *Entry) (fresh Span, of string, problems []Problem) {
	var l *Load
	fresh = x.Fresh.Span()
	if x.Load != "" {
		l, problems = s.loadOf(x.Load, species, e)
	} else {
		l, problems = x.meant(species, s, e)
	}
	if l == nil {
		if fresh.Known() && species != "" {
			s.unloaded = append(s.unloaded, Load{Species: species, FreshKG: fresh, On: e.On, Out: e.On, Entry: e, Emptied: []*Entry{e}})
		}
		return fresh, species, problems
	}
	l.Emptied = append(l.Emptied, e)
	if !l.In() {
		if !l.FreshKG.Known() {
			l.FreshKG = fresh // said only with what came out last
		}
		l.DryG += x.Dry.grams()
		return Span{}, cmp.Or(species, l.Species), problems
	}
	l.Out, l.DryG = e.On, x.Dry.grams()
	switch {
	case !l.FreshKG.Known():
		l.FreshKG = fresh
	case !fresh.Known():
		fresh = l.FreshKG
	case !overlap(fresh, l.FreshKG):
		problems = append(problems, e.odd("fresh", fmt.Sprintf("load %s went in with %s kg, and here it is %s: what went in counts", l.Name, spanWords(l.FreshKG), x.Fresh.Text),
			"look at both weights"))
	}
	return fresh, l.Species, problems
}

// meant is the load that came out where none is named: the oldest of the
// species that is still in and has that fresh weight. One that is forgotten in
// the drier comes after the others, one that was not weighed after those that
// were. Where that leaves open which of two came out, it is pointed at.
func (x *Dried) meant(species string, s *State, e *Entry) (*Load, []Problem) {
	fresh := x.Fresh.Span()
	var fit []*Load
	var other *Load
	for i := range s.Loads {
		l := &s.Loads[i]
		switch {
		case !l.In() || l.Species != species:
		case fresh.Known() && l.FreshKG.Known() && !overlap(fresh, l.FreshKG):
			other = cmp.Or(other, l)
		default:
			fit = append(fit, l)
		}
	}
	last := func(l *Load) (rank int) {
		if e.On.From-l.On.To > s.longestIn() {
			rank += 2
		}
		if fresh.Known() && !l.FreshKG.Known() {
			rank++
		}
		return rank
	}
	slices.SortStableFunc(fit, func(a, b *Load) int { return last(a) - last(b) })
	switch {
	case len(fit) > 0:
		fit = slices.DeleteFunc(fit, func(l *Load) bool { return last(l) != last(fit[0]) })
		return fit[0], whichOf(fit, e)
	case other != nil:
		return nil, []Problem{e.odd("fresh", fmt.Sprintf("load %s is still in, with %s kg of %s, and %s is another weight: both count", other.Name, spanWords(other.FreshKG), species, x.Fresh.Text),
			"if it is what came out, correct the entry with load = "+quote(other.Name))}
	}
	return nil, nil
}

// whichOf points at loads of one day that differ: the first of them is taken
// for the one that came out, and may be the other.
func whichOf(fit []*Load, e *Entry) []Problem {
	differ := false
	var names []string
	for _, l := range fit {
		if l.On.From <= fit[0].On.To {
			names = append(names, "load="+l.Name)
			differ = differ || l.FreshKG != fit[0].FreshKG
		}
	}
	if !differ {
		return nil
	}
	return []Problem{e.odd("", fmt.Sprintf("%d loads of %s are in, and %s is taken for the one that came out", len(names), fit[0].Species, fit[0].Name),
		"say "+strings.Join(names, " or "))}
}

// overlap reports whether two weights can be one.
func overlap(a, b Span) bool {
	room := nearlyNothing * max(a.High, b.High)
	return a.Low <= b.High+room && b.Low <= a.High+room
}
