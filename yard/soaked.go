package yard

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/data"
)

// The bounds of a soak: all are our judgement.
const (
	longestSoak   = 31 * 24 // hours beyond which it can only be a slip of the pen
	drowningHours = 72      // hours beyond which a soak is pointed at
	soonestSoak   = 21      // days of rest under which two soaks of the same logs are pointed at
)

var soakedKind = kind{
	KindInfo: KindInfo{
		Name: "soaked", Says: "logs lay in water, to make them fruit",
		Example: `soaked oak-north part=A logs=12 soak_hours=24`,
		Keys: []Key{
			pileKey.with("pile the logs are of", "oak-north", true),
			partKey,
			logsKey.with("how many logs; the part or the whole pile if left out", "12", false),
			{Name: "soak_hours", Holds: "how long they lay in the water, in hours", Example: "24", Kind: NumberKey, most: longestSoak},
		},
	},
	make: func() readable { return &Soaked{Logs: NotSaid, Hours: NotSaid} },
}

var partKey = Key{Name: "part", Holds: "part of the pile, where it is soaked in turns: the letter or the colour of its tag", Example: "A", Kind: TextKey}

// Soaked is logs of a pile that lay in water.
type Soaked struct {
	Pile, Part string
	Logs       int
	Hours      float64
}

// Soaking is one soak of a pile, of a part of it, or of some of its logs.
type Soaking struct {
	On    When
	Part  string  // "A", "B", …, or as written where that is no letter or colour; "" the pile as a whole, or just some logs
	Logs  int     // 0 not said: all of the part, or of the pile
	Hours float64 // in the water; 0 not said
	Entry *Entry
}

// Kind is "soaked".
func (x *Soaked) Kind() string { return soakedKind.Name }

func (x *Soaked) fields() []any { return []any{&x.Pile, &x.Part, &x.Logs, &x.Hours} }

func (x *Soaked) names() (piles, begins []string) { return []string{x.Pile}, nil }

// Apply notes it on the pile.
func (x *Soaked) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(x.Pile, e)
	if p == nil {
		return problems
	}
	problems = append(problems, e.notOnTheList(x.Part)...)
	k := Soaking{On: e.On, Part: partName(x.Part), Logs: max(0, x.Logs), Hours: max(0, x.Hours), Entry: e}
	say := func(is bool, key, text, remedy string) {
		if is {
			problems = append(problems, e.odd(key, text, remedy))
		}
	}
	say(p.LogsKnown && x.Logs > p.Logs, "logs", fmt.Sprintf("%s has %s, and %d were soaked", p.Name, logWord(p.Logs), x.Logs),
		countPile)
	say(p.Kind == "bed", "pile", p.Name+" is a bed, and buried logs are not soaked", "record water given to a bed with [[watered]]")
	say(k.Hours > drowningHours, "soak_hours", fmt.Sprintf("%s hours in the water is long: mycelium drowns", decimal(k.Hours)),
		"look at the number; soak_hours are hours in the water, hours are hours of work")
	if last, ok := p.soakedNear(k); ok {
		say(true, "on", fmt.Sprintf("%s was soaked on %s, and %son %s again: logs rest between two soaks", p.partWords(last.Part), last.On, p.otherWords(last, k), k.On),
			"look at both days and parts")
	}
	p.Soaked = append(p.Soaked, k)
	slices.SortStableFunc(p.Soaked, func(a, b Soaking) int { return cmp.Compare(a.On.From, b.On.From) })
	return problems
}

// soakedNear finds a soak of the same logs that is certainly too near to k.
func (p *Pile) soakedNear(k Soaking) (Soaking, bool) {
	for _, o := range slices.Backward(p.Soaked) {
		if days := max(k.On.To-o.On.From, o.On.To-k.On.From); p.SameLogs(o, k) && days < soonestSoak {
			return o, true
		}
	}
	return Soaking{}, false
}

func (p *Pile) partWords(part string) string {
	if part == "" {
		return p.Name
	}
	return "part " + part + " of " + p.Name
}

// otherWords names the logs of a second soak where they were not named with the
// first.
func (p *Pile) otherWords(last, k Soaking) string {
	if folded(last.Part) == folded(k.Part) {
		return ""
	}
	return p.partWords(k.Part) + " "
}
