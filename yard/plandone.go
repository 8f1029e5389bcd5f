package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Inoculates reports whether the plan is of logs to inoculate, not of a soak.
func (k *Planning) Inoculates() bool { return k.Soak == "" }

// Open reports whether something of an inoculation is still to be done.
func (k *Planning) Open() bool {
	return k.Inoculates() && (k.Left > 0 || k.Logs == 0 && k.Last.IsZero())
}

// Carried reports whether the month of an inoculation has passed with some of
// it left: it is carried over until it is done, put off or void.
func (k *Planning) Carried(asOf Date) bool { return k.Open() && k.Month.To < asOf }

// Plan is the open plan of an inoculation into a pile of that name, the
// earliest of several; nil where there is none.
func (s *State) Plan(pile string) *Planning {
	want := folded(pile)
	if p := s.Pile(pile); p != nil {
		want = folded(p.Name)
	}
	var found *Planning
	for i := range s.Planned {
		k := &s.Planned[i]
		name := folded(k.Pile)
		if p := s.Pile(k.Pile); p != nil {
			name = folded(p.Name)
		}
		if k.Open() && name != "" && name == want && (found == nil || k.Month.From < found.Month.From) {
			found = k
		}
	}
	return found
}

// Rest are the keys of the `inoculated` entry that does what is left of a
// plan, as a person would type them: what Compose reads.
func (k *Planning) Rest() map[string]string {
	out := map[string]string{}
	x, ok := k.Entry.Event.(*Planned)
	if !ok {
		return out
	}
	for key, v := range map[string]string{
		"pile": k.Pile, "species": k.Species, "strain": k.Strain, "wood": k.Wood, "diameter": x.Diameter.Text, "length": x.Length.Text,
		"spawn": k.Spawn, "spawn_lot": k.SpawnLot, "method": k.Method, "place": k.Place,
	} {
		if v != "" {
			out[key] = v
		}
	}
	if k.Left > 0 {
		out["logs"] = strconv.Itoa(k.Left)
	}
	return out
}

// inoculation is one day's work as plans ask for it.
type inoculation struct {
	names         []string // that the pile had then, folded
	species, wood string
	logs          int // 0 not said
	entry         *Entry
	pile          *Pile
}

// didInoculate notes a day's work on a pile.
func (s *State) didInoculate(n *Inoculated, p *Pile, species string, e *Entry) {
	i := inoculation{species: species, wood: folded(n.Wood), logs: max(0, n.Logs), entry: e, pile: p}
	for _, name := range append([]string{n.Pile, p.Name, p.Code}, p.Formerly...) {
		if name != "" {
			i.names = append(i.names, folded(name))
		}
	}
	s.inoculated = append(s.inoculated, i)
}

// tickOff finds what was done of each plan, however many days it took.
func (s *State) tickOff() (problems []Problem) {
	for i := range s.Planned {
		k := &s.Planned[i]
		k.Left = k.Logs
		k.Until = s.putOffUntil(k)
	}
	for i := range s.inoculated {
		day := &s.inoculated[i]
		plans := s.plansFor(day)
		if len(plans) == 0 {
			problems = append(problems, s.plannedOtherwise(day)...)
			continue
		}
		day.tick(plans)
	}
	return problems
}

// plansFor are the plans that a day's work can be of, earliest month first:
// those of its pile, else those of its species without a pile.
func (s *State) plansFor(day *inoculation) []*Planning {
	var byPile, bySpecies []*Planning
	for i := range s.Planned {
		k := &s.Planned[i]
		switch {
		case !k.Inoculates() || !k.before(day):
		case k.Pile != "" && slices.Contains(day.names, folded(k.Pile)) && (k.Species == "" || k.Species == day.species):
			byPile = append(byPile, k)
		case k.Pile == "" && k.Species == day.species && (k.Wood == "" || day.wood == "" || folded(k.Wood) == day.wood):
			bySpecies = append(bySpecies, k)
		}
	}
	if len(byPile) == 0 {
		byPile = bySpecies
	}
	slices.SortStableFunc(byPile, func(a, b *Planning) int { return cmp.Compare(a.Month.From, b.Month.From) })
	return byPile
}

// before reports whether the plan was made before a day's work was done.
func (k *Planning) before(day *inoculation) bool {
	on := day.entry.On
	return on.To > k.On.From || on.To == k.On.From && byWriting(k.Entry, day.entry) < 0
}

// tick shares a day's logs out among plans. What is more than all of them
// want goes to the last; a day of which nobody counted the logs does all that
// is left of the first.
func (day *inoculation) tick(plans []*Planning) {
	if day.logs == 0 {
		for _, k := range plans {
			if k.Open() {
				k.did(max(k.Left, 0), day)
				return
			}
		}
		return
	}
	logs := day.logs
	for i, k := range plans {
		n := min(logs, k.Left)
		if i == len(plans)-1 || k.Logs == 0 {
			n = logs
		}
		if n > 0 {
			k.did(n, day)
		}
		logs -= n
	}
}

func (k *Planning) did(logs int, day *inoculation) {
	k.Done += logs
	k.Left = max(0, k.Left-logs)
	if day.entry.On.To >= k.Last.To {
		k.Last = day.entry.On
	}
}

// plannedOtherwise points at a pile that was planned for another species.
func (s *State) plannedOtherwise(day *inoculation) []Problem {
	for i := range s.Planned {
		k := &s.Planned[i]
		if k.Inoculates() && k.Species != "" && k.before(day) && slices.Contains(day.names, folded(k.Pile)) {
			return []Problem{day.entry.odd("species", fmt.Sprintf("%s was planned for %s, and %s was inoculated: the plan stays open", k.Pile, k.Species, day.species),
				"correct the entry, or the plan, "+k.Entry.ID)}
		}
	}
	return nil
}

// putOffUntil is the day until which inoculating what is planned was put off,
// or zero.
func (s *State) putOffUntil(k *Planning) (until Date) {
	name := folded(k.Pile)
	if name == "" {
		name = folded(k.Species)
	}
	for _, o := range s.PutOff {
		if k.Inoculates() && o.On.To >= k.On.From && putsOffInoculating(o.Task, name) {
			until = max(until, o.Until.From)
		}
	}
	return until
}

// putsOffInoculating reads "inoculate birch-3".
func putsOffInoculating(task, name string) bool {
	rest, ok := strings.CutPrefix(folded(task), "inoculate ")
	return ok && (rest == name || strings.HasPrefix(rest, name+" "))
}
