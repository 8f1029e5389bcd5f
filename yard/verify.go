package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

// Check reads the whole folder and tells everything that is wrong or odd in
// it: the mistakes in every file, what the replay found, entries that
// vanished, other versions of the files that lie beside them, amounts that look
// like a slip of the pen, days out of order, and what seems to be written twice.
// Of very many problems of one kind it tells the first.
func (f *Folder) Check() []Problem {
	problems := slices.Clone(f.reading)
	s, replayed := f.State(f.today, 0)
	problems = append(problems, tooEarly(s, replayed)...)
	missing, nameless, _ := f.vanished() // that the journal cannot be read is told already
	problems = append(problems, missed(missing)...)
	problems = append(problems, f.oddCopy()...)
	problems = append(problems, f.oddOwn()...)
	problems = withoutNameless(problems, f.unnamed(nameless))
	problems = append(problems, f.weather().notes...)
	problems = append(f.withoutMarked(problems), f.oddFiles()...)
	problems = append(problems, f.oddClock()...)
	for _, find := range append(slices.Clone(lookedAt), wrongBooks, oddFrost) {
		problems = append(problems, find(s, f.data)...)
	}
	return fewAlike(sorted(f.notTwice(problems)))
}

// The bounds beyond which an amount looks like a slip of the pen. All are our
// judgement, and only ever point at something.
const (
	mostPerLog    = 3.0   // kg fresh of one log in one picking
	mostPick      = 200.0 // kg fresh in one picking where the logs are not counted
	leastPick     = 0.005 // kg fresh
	timesUsual    = 10.0  // a picking this many times the pile's usual one
	picksForUsual = 3     // pickings that make one usual
	soonestDays   = 90    // from inoculation to a first picking
	driestShare   = 0.04  // dried weight over fresh weight, where the species is not known
	wettestShare  = 0.30
	timesShare    = 2.0 // how far a dried weight may be off what the species gives
	thinnestLog   = 4.0 // cm
	thickestLog   = 45.0
	thickestStump = 100.0 // cm, also of a round that stands in a totem
	longestLog    = 300.0
	mostDryLot    = 50e3 // g in one lot of dried goods
	leastDryLot   = 0.5  // g
)

func oddAmounts(s *State, d *data.Set) []Problem {
	var out []Problem
	for _, p := range s.Piles {
		out = append(out, p.oddSizes()...)
		out = append(out, p.oddWood(d)...)
		out = append(out, p.oddPicks()...)
	}
	for _, pick := range s.Picks {
		out = append(out, s.oddPick(pick)...)
	}
	for _, k := range s.Dryings {
		if x, ok := k.Entry.Event.(*Dried); ok {
			out = append(out, x.oddShare(k, d)...)
		}
	}
	out = append(out, oddFresh(s)...)
	for _, l := range s.Dry {
		out = append(out, l.oddLot()...)
	}
	for _, l := range s.Loads {
		if x, ok := l.Entry.Event.(*Loaded); ok && x.Fresh.Low > mostPick {
			out = append(out, l.Entry.odd("fresh", x.Fresh.Text+" in one load of the drier is a great deal", "look whether grams were meant"))
		}
	}
	return out
}

// oddLot points at dried goods that were weighed in another unit than written.
func (l *DryLot) oddLot() []Problem {
	switch {
	case l.Entry == nil:
	case l.InG > mostDryLot:
		return []Problem{l.Entry.odd(dryKeyOf(l.Entry), fmt.Sprintf("%.0f kg dried in one lot is a great deal", l.InG/gramsPerKilogram), "look whether grams were meant")}
	case l.InG > 0 && l.InG < leastDryLot:
		return []Problem{l.Entry.odd(dryKeyOf(l.Entry), fmt.Sprintf("%s g dried is less than one mushroom", decimal(l.InG)), "look whether kilograms were meant")}
	}
	return nil
}

// dryKeyOf is the key in which an entry says the weight of dried goods.
func dryKeyOf(e *Entry) string {
	if keyLine(e.Text, "dry") > 0 {
		return "dry"
	}
	return "amount"
}

// oddSizes points at logs that nobody lifts.
func (p *Pile) oddSizes() []Problem {
	e := p.Entries[0]
	var out []Problem
	if d := p.Diameter; d.Known() && (d.Low < thinnestLog || d.High > p.thickest()) {
		out = append(out, e.odd("diameter", fmt.Sprintf("logs of %s cm across are unusual", spanWords(d)), "look at the number and its unit"))
	}
	if l := p.Length; l.Known() && l.High > longestLog {
		out = append(out, e.odd("length", fmt.Sprintf("logs of %s cm are unusually long", spanWords(l)), "look at the number and its unit"))
	}
	return out
}

// thickest is how thick, in cm, the logs of a pile are believed to be: what
// stands alone may be a stump, and the rounds of a totem are as thick.
func (p *Pile) thickest() float64 {
	if p.Method == "totem" || p.Started == 1 {
		return thickestStump
	}
	return thickestLog
}

// oddWood points at a wood that is not known: its yield is then taken wide.
func (p *Pile) oddWood(d *data.Set) []Problem {
	if d == nil || p.Wood == "" {
		return nil
	}
	if _, ok := d.FindWood(p.Wood); ok {
		return nil
	}
	return []Problem{p.Entries[0].odd("wood", fmt.Sprintf("no wood is called %s here: what it yields is taken wide", shown(p.Wood)), woodRemedy(p.Wood, d))}
}

func spanWords(s Span) string {
	if s.Low == s.High {
		return decimal(s.Low)
	}
	return decimal(s.Low) + "-" + decimal(s.High)
}

// oddPick points at a picking that no log bears.
func (s *State) oddPick(k *Pick) []Problem {
	if !k.Weighed || k.Season {
		return nil
	}
	logs, known := 0, true
	for _, name := range k.Piles {
		p := s.Pile(name)
		known = known && p != nil && p.Started > 0
		if p != nil {
			logs += p.Started
		}
	}
	kg := k.Fresh.Low
	switch {
	case known && logs > 0 && kg > mostPerLog*float64(logs):
		return []Problem{k.Entry.odd("fresh", fmt.Sprintf("%s from %s is a great deal", k.weight(), logWord(logs)), "look whether grams were meant")}
	case !known && kg > mostPick:
		return []Problem{k.Entry.odd("fresh", k.weight()+" in one picking is a great deal", "look whether grams were meant")}
	case k.Fresh.High > 0 && k.Fresh.High < leastPick:
		return []Problem{k.Entry.odd("fresh", k.weight()+" is less than one mushroom", "look whether kilograms were meant")}
	}
	return nil
}

// weight is what was weighed, as written.
func (k *Pick) weight() string {
	if h, ok := k.Entry.Event.(*Harvested); ok {
		return h.Fresh.Text
	}
	return decimal(k.Fresh.Mid()) + " kg"
}

// oddPicks points at pickings far from a pile's usual one, and at those that
// come sooner than logs fruit.
func (p *Pile) oddPicks() []Problem {
	var out []Problem
	var weights []float64
	for _, k := range p.Picks {
		if k.Weighed && !k.Season && len(k.Piles) == 1 && k.Fresh.Mid() > 0 {
			weights = append(weights, k.Fresh.Mid())
		}
		if p.Closed != 0 && k.On.From > p.Closed {
			out = append(out, k.Entry.odd("pile", fmt.Sprintf("%s was picked after its last log had gone, on %s", p.Name, p.Closed), "count its logs and record them with [[counted]]"))
		}
		if p.Origin == "inoculated" && p.Kind == "pile" && !k.Season && k.On.To < p.Since.From+soonestDays && k.On.From >= p.Since.From {
			out = append(out, k.Entry.odd("on", fmt.Sprintf("%s was picked %d days after it was inoculated", p.Name, k.On.From-p.Since.From),
				"look at both days, and make sure what it was before anyone eats it"))
		}
	}
	if len(weights) <= picksForUsual {
		return out
	}
	slices.Sort(weights)
	usual := weights[len(weights)/2]
	for _, k := range p.Picks {
		if k.Weighed && !k.Season && len(k.Piles) == 1 && k.Fresh.Low > timesUsual*usual {
			out = append(out, k.Entry.odd("fresh", fmt.Sprintf("%s is more than ten times the usual picking of %s, %.2g kg", k.weight(), p.Name, usual),
				"look at the number and its unit"))
		}
	}
	return out
}

// oddShare points at a dried weight that does not fit the fresh one.
func (x *Dried) oddShare(k Drying, d *data.Set) []Problem {
	kg := k.DryG / gramsPerKilogram
	if k.FreshKG <= 0 || kg <= 0 || kg >= k.FreshKG {
		return nil
	}
	low, high := dryShare(k.Species, d)
	share := kg / k.FreshKG
	if share >= low && share <= high {
		return nil
	}
	believed := fmt.Sprintf("%.0f to %.0f %%", 100*low, 100*high)
	if high >= 1 { // nothing gains by drying
		believed = fmt.Sprintf("%.0f %% at the least", 100*low)
	}
	return []Problem{k.Entry.odd("dry", fmt.Sprintf("%s fresh gave %s dried: %.0f %% of it, where %s can be believed",
		x.freshWords(Span{k.FreshKG, k.FreshKG}), x.Dry.Text, 100*share, believed),
		"look at both weights and their units, and whether it is dry all through")}
}

// dryShare is the range of dried over fresh weight that is believed: what
// follows from the water in the fresh and in the dried mushroom, with room.
func dryShare(species string, d *data.Set) (low, high float64) {
	if d != nil {
		if sp, ok := d.FindSpecies(species); ok && sp.Fresh.High > 0 {
			solid := 1 - sp.Dried.Value
			return (1 - sp.Fresh.High) / solid / timesShare, (1 - sp.Fresh.Low) / solid * timesShare
		}
	}
	return driestShare, wettestShare
}
