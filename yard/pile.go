package yard

import (
	"fmt"
	"strings"

	"hodaba/data"
)

// begin puts a new pile or bed into the state.
func (s *State) begin(name, kind string, e *Entry) *Pile {
	p := &Pile{Name: strings.Join(strings.Fields(name), " "), Kind: kind, Place: s.placeName(e.Place), Entries: []*Entry{e}}
	s.Piles = append(s.Piles, p)
	s.byName[folded(name)] = p
	s.named++
	s.remedies = nil
	return p
}

// start says with how many logs a pile begins; NotSaid leaves it open. how is
// one of LogBegun, LogArrived and LogMovedIn.
func (p *Pile) start(logs int, how string, e *Entry) {
	if logs > 0 {
		p.Started, p.Logs, p.LogsKnown = logs, logs, true
		p.move(how, logs, e)
	}
}

// measure says how thick a pile's logs are, unless that is known.
func (p *Pile) measure(diameter Span, underBark bool) {
	if !p.Diameter.Known() && diameter.Known() {
		p.Diameter, p.UnderBark = diameter, underBark
	}
}

func underBark(bark string) bool { return bark == "under" }

// code gives a pile its code, unless another one answers to it.
func (s *State) code(p *Pile, code string, e *Entry) []Problem {
	if code == "" {
		return nil
	}
	if other := s.Pile(code); other != nil && other != p {
		return []Problem{e.odd("code", fmt.Sprintf("%s answers to %s already", other.Name, code), "choose another code; the pile has none until then")}
	}
	p.Code = code
	s.byName[folded(code)] = p
	return nil
}

// resolve brings the name of a species to the one in the data or in
// yard.toml. like is the built-in species as which it is forecast, "" if it
// cannot be; known is false for a name that stands nowhere.
func (s *State) resolve(name string, d *data.Set) (canonical, like string, known bool) {
	return resolveSpecies(name, s.Config.Own, d)
}

func resolveSpecies(name string, own []OwnSpecies, d *data.Set) (canonical, like string, known bool) {
	for _, o := range own {
		if folded(o.Name) == folded(name) {
			return o.Name, grownAs(o.Like, d), true
		}
	}
	if d != nil {
		if sp, ok := d.FindSpecies(name); ok {
			return sp.Name, grownAs(sp.Name, d), true
		}
	}
	return strings.TrimSpace(name), "", false
}

// grownAs is the built-in species of a name if it is grown on logs, else "".
func grownAs(name string, d *data.Set) string {
	if d == nil || name == "" {
		return ""
	}
	if sp, ok := d.FindSpecies(name); ok && sp.Grown {
		return sp.Name
	}
	return ""
}

// species gives a pile its species and strain, as far as they are known.
func (s *State) species(p *Pile, species, strain string, e *Entry, d *data.Set) []Problem {
	var known bool
	p.Species, p.Like, known = s.resolve(species, d)
	p.Strain = strain
	switch {
	case !known:
		return []Problem{e.odd("species", fmt.Sprintf("no species is called %s: %s is kept, and not forecast", shown(species), p.Name),
			s.speciesRemedy(species, d))}
	case p.Like == "":
		return []Problem{s.notForecast(p, e, d)}
	}
	return s.strain(p, strain, e, d)
}

// notForecast says why a species that is known is not forecast.
func (s *State) notForecast(p *Pile, e *Entry, d *data.Set) Problem {
	add := fmt.Sprintf("to forecast it, add [[species]] with a name of its own and like = one that is grown to %s", YardFile)
	if _, builtIn := d.FindSpecies(p.Species); builtIn {
		return e.odd("species", fmt.Sprintf("%s is known as dried goods only: %s is kept, and not forecast", p.Species, p.Name), add)
	}
	return e.odd("species", fmt.Sprintf("%s is recorded and weighed, and not forecast", p.Species),
		fmt.Sprintf("to forecast it, name in %s which species it is like", YardFile))
}

func (s *State) speciesRemedy(species string, d *data.Set) string {
	var names []string
	for _, o := range s.Config.Own {
		names = append(names, o.Name)
	}
	if d != nil {
		names = append(names, d.SpeciesNames()...)
	}
	add := fmt.Sprintf("add to %s a [[species]] with name = %s and like = a species that is built in", YardFile, quote(species))
	if near, ok := data.Nearest(species, names); ok {
		return fmt.Sprintf("did you mean %s? If not, %s", near, add)
	}
	return add
}

// strain brings a strain to its class; an unknown one is taken as the first.
func (s *State) strain(p *Pile, strain string, e *Entry, d *data.Set) []Problem {
	sp, ok := d.FindSpecies(p.Like)
	if !ok || strain == "" {
		return nil
	}
	if st, ok := sp.FindStrain(strain); ok {
		p.Strain = st.Name
		return nil
	}
	p.Strain = ""
	remedy := "write one of " + strings.Join(sp.StrainNames(), ", ")
	if near, ok := data.Nearest(strain, sp.StrainNames()); ok {
		remedy = fmt.Sprintf("did you mean %s?", near)
	}
	return []Problem{e.odd("strain", fmt.Sprintf("%s has no class of strain called %s: the usual one is taken", sp.Name, shown(strain)), remedy)}
}

// pile finds the pile an entry names. If there is none, the entry goes to the
// tray "to sort" and the problem says which name is nearest.
func (s *State) pile(name string, e *Entry) (*Pile, []Problem) {
	if p := s.Pile(name); p != nil {
		if len(p.Entries) == 0 || p.Entries[len(p.Entries)-1] != e {
			p.Entries = append(p.Entries, e)
		}
		return p, nil
	}
	return nil, []Problem{s.toSort(e, name)}
}

func (s *State) toSort(e *Entry, name string) Problem {
	if len(s.Sort) == 0 || s.Sort[len(s.Sort)-1] != e {
		s.Sort = append(s.Sort, e)
	}
	key := "pile"
	for _, k := range []string{"pile", "piles", "bed", "from", "batch", "soak"} {
		if keyLine(e.Text, k) > 0 {
			key = k
			break
		}
	}
	p := e.odd(key, notBegun+shown(name)+inTray, s.pileRemedy(name))
	p.Grade = Aside
	return p
}

func (s *State) pileRemedy(name string) string {
	remedy, known := s.remedies[name]
	if !known {
		if s.sought >= mostRemedies {
			return nameThePile
		}
		s.sought++
		remedy = s.nearestPile(name)
		if s.remedies == nil {
			s.remedies = map[string]string{}
		}
		s.remedies[name] = remedy
	}
	return remedy
}

func (s *State) nearestPile(name string) string {
	names := make([]string, 0, 2*len(s.Piles))
	for _, p := range s.Piles {
		names = append(names, p.Name)
	}
	if near, ok := data.Nearest(name, names); ok {
		return fmt.Sprintf("did you mean %s? If not, say what it is with [[inoculated]], or with [[counted]] and its species", near)
	}
	return nameThePile
}

const nameThePile = "say what it is with an [[inoculated]], [[arrived]] or [[buried]] entry, or a [[counted]] one with its species"

// take removes logs from a pile, never below zero, and notes how they went.
func (p *Pile) take(logs int, how, cause string, e *Entry) []Problem {
	var problems []Problem
	if p.LogsKnown && logs > p.Logs {
		problems = append(problems, e.odd("logs", fmt.Sprintf("%s had %s left, and %s", p.Name, logWord(p.Logs), wentWord(logs, how)),
			countLogs))
	}
	p.Gone = append(p.Gone, LogLoss{e.On, logs, how, cause})
	p.move(how, -logs, e)
	p.move(LogUnexplained, max(0, logs-p.Logs), e) // the record had fewer than went
	p.Logs = max(0, p.Logs-logs)
	p.close(e)
	return problems
}

// close notes the day on which the last log went.
func (p *Pile) close(e *Entry) {
	if p.LogsKnown && p.Logs == 0 && p.Closed == 0 {
		p.Closed = e.On.To
	}
}

func logWord(n int) string {
	if n == 1 {
		return "1 log"
	}
	return fmt.Sprintf("%d logs", n)
}

func wentWord(n int, how string) string {
	verb := "were"
	if n == 1 {
		verb = "was"
	}
	return fmt.Sprintf("%d %s %s", n, verb, how)
}

// see notes evidence on a pile.
func (p *Pile) see(kind string, e *Entry) *Seen {
	p.Seen = append(p.Seen, Seen{On: e.On, Written: e.Written, Kind: kind, Entry: e,
		With: NotSaid, Spots: NotSaid, Springy: NotSaid, Dull: NotSaid})
	return &p.Seen[len(p.Seen)-1]
}
