package yard

import (
	"cmp"
	"fmt"
	"strings"

	"hodaba/data"
)

var felledKind = kind{
	KindInfo: KindInfo{
		Name: "felled", Says: "logs were cut, and rest until they are inoculated",
		Example: `felled F-27-01 wood="white oak" logs=60 diameter=12cm`,
		Keys: []Key{
			{Name: "lot", Holds: "a lot number for the logs", Example: "F-27-01", Kind: LotKey},
			woodKey, logsKey.with("how many logs", "60", false), diameterKey, lengthKey, barkKey,
			{Name: "from", Holds: "where the wood was cut, or who it came from", Example: "own hedge", Kind: TextKey},
			{Name: "untreated", Holds: "false if the wood was sprayed or preserved", Example: "false", Kind: YesNoKey},
		},
	},
	make: func() readable { return &Felled{Logs: NotSaid, Untreated: true} },
}

// Felled is logs that were cut.
type Felled struct {
	Lot, Wood        string
	Logs             int
	Diameter, Length Quantity
	Bark             string
	From             string
	Untreated        bool
}

// FelledLot is logs that were cut together and rest until they are
// inoculated.
type FelledLot struct {
	Lot              string // as written, else the identifier of the entry
	On               When
	Wood             string // as written
	Logs             int    // 0 not said
	Left             int    // not inoculated yet; 0 where nobody counted
	Diameter, Length Span   // cm
	UnderBark        bool   // the diameter is of the log without its bark
	From, Place      string
	Untreated        bool
	Until            Date // inoculating them was put off until then; 0: it was not
	Went             []LotWent
	Entry            *Entry

	used bool // some were inoculated
}

// LotWent is felled logs that were inoculated.
type LotWent struct {
	On    When
	Pile  *Pile
	Logs  int // 0 not said, and nothing was known to be left
	Entry *Entry
}

// Resting reports whether logs of the lot wait for their spawn.
func (l *FelledLot) Resting() bool { return l.Left > 0 || l.Logs == 0 && !l.used }

// Rested is for how many days the logs have rested on a day, at least and at
// most; below zero before they were felled.
func (l *FelledLot) Rested(on When) (least, most int) { return rested(l.On, on) }

func rested(felled, on When) (least, most int) {
	return int(on.From - felled.To), int(on.To - felled.From)
}

// Kind is "felled".
func (x *Felled) Kind() string { return felledKind.Name }

func (x *Felled) fields() []any {
	return []any{&x.Lot, &x.Wood, &x.Logs, &x.Diameter, &x.Length, &x.Bark, &x.From, &x.Untreated}
}

// Apply notes the lot. A lot that was felled on several days is one; of no
// logs it is none.
func (x *Felled) Apply(s *State, e *Entry, d *data.Set) []Problem {
	problems := e.unknownWood(x.Wood, d)
	if !x.Untreated {
		problems = append(problems, treated("untreated", cmp.Or(x.Lot, e.ID), e))
	}
	l := s.felledLot(x.Lot)
	switch {
	case x.Logs == 0:
		return problems
	case l == nil:
		s.Felled = append(s.Felled, &FelledLot{Lot: cmp.Or(x.Lot, e.ID), On: e.On, Wood: x.Wood, Logs: max(0, x.Logs), Left: max(0, x.Logs),
			Diameter: x.Diameter.Span(), Length: x.Length.Span(), UnderBark: underBark(x.Bark), From: x.From, Place: e.Place, Untreated: x.Untreated, Entry: e})
		return problems
	}
	if x.Wood != "" && l.Wood != "" && folded(x.Wood) != folded(l.Wood) {
		problems = append(problems, e.odd("wood", fmt.Sprintf("lot %s is %s, and these logs are %s", l.Lot, l.Wood, x.Wood), "give them a lot of their own"))
	}
	l.Logs += max(0, x.Logs)
	l.Left += max(0, x.Logs)
	l.On = spanning(l.On, e.On)
	l.Untreated = l.Untreated && x.Untreated
	return problems
}

// treated warns of wood on which nothing to eat may grow.
func treated(key, lot string, e *Entry) Problem {
	return e.odd(key, fmt.Sprintf("the wood of %s was treated: mushrooms take up what is in it, and nothing grown on it may be eaten", lot),
		"do not inoculate it with a mushroom for food or extracts")
}

// felledLot is the lot of a name, or nil.
func (s *State) felledLot(name string) *FelledLot {
	for _, l := range s.Felled {
		if name != "" && folded(l.Lot) == folded(name) {
			return l
		}
	}
	return nil
}

// ofFelled takes the logs of an inoculation from the lots it names, gives
// their pile what is known of the wood, and points at logs that rested too
// short or too long.
func (n *Inoculated) ofFelled(s *State, p *Pile, e *Entry, d *data.Set) (problems []Problem) {
	lots, problems := n.lots(s, p, e, d)
	logs := n.Logs
	for i, l := range lots {
		take := logs
		if i < len(lots)-1 {
			take = min(logs, l.Left)
		}
		problems = append(problems, l.take(take, p, e)...)
		if logs > 0 {
			logs -= take
		}
		if p.Wood == "" {
			p.Wood = l.Wood
		}
		p.measure(l.Diameter, l.UnderBark)
		if !p.Length.Known() {
			p.Length = l.Length
		}
		if !l.Untreated {
			problems = append(problems, treated("felled", l.Lot, e))
		}
		problems = append(problems, restOdd(p.Name, l.On, e, d)...)
	}
	return problems
}

// lots are the lots that the key `felled` names. It may hold a day instead.
func (n *Inoculated) lots(s *State, p *Pile, e *Entry, d *data.Set) (lots []*FelledLot, problems []Problem) {
	if n.Felled == "" {
		return nil, nil
	}
	if s.felledLot(n.Felled) == nil {
		if w, err := ParseWhen(n.Felled); err == nil {
			return nil, restOdd(p.Name, w, e, d)
		}
	}
	var known []string
	for _, l := range s.Felled {
		known = append(known, l.Lot)
	}
	for _, name := range strings.Split(n.Felled, ",") {
		if l := s.felledLot(name); l != nil {
			lots = append(lots, l)
		} else if near, ok := data.Nearest(name, known); ok {
			problems = append(problems, e.odd("felled", fmt.Sprintf("no lot of felled logs is called %s", shown(strings.TrimSpace(name))), fmt.Sprintf("did you mean %s?", near)))
		}
	}
	return lots, problems
}

// take takes logs from the lot; all that is left where nobody said how many.
func (l *FelledLot) take(logs int, p *Pile, e *Entry) (problems []Problem) {
	if logs < 0 {
		logs = l.Left
	}
	if l.Logs > 0 && logs > l.Left {
		problems = append(problems, e.odd("logs", fmt.Sprintf("lot %s had %s left, and %s", l.Lot, logWord(l.Left), wentWord(logs, "inoculated")),
			"look at both numbers; a lot felled on several days has a [[felled]] for each"))
	}
	l.used = true
	l.Went = append(l.Went, LotWent{e.On, p, logs, e})
	l.Left = max(0, l.Left-logs)
	return problems
}

// restOdd points at logs that certainly rested shorter or longer than can be
// found in print.
func restOdd(pile string, felled When, e *Entry, d *data.Set) []Problem {
	least, most := rested(felled, e.On)
	say := func(text string) []Problem {
		return []Problem{e.odd("felled", text, "look at both days; sources disagree on how long wood should rest")}
	}
	switch {
	case most < 0:
		return []Problem{e.odd("felled", fmt.Sprintf("%s was inoculated on %s, before its wood was felled, on %s", pile, e.On, felled), "look at both days")}
	case d == nil || d.Practice.RestMost.Value == 0:
	case float64(most) < d.Practice.RestLeast.Value:
		return say(fmt.Sprintf("%s was inoculated %s after its wood was felled: fresh wood can still fight the spawn, and %.0f days are wanted", pile, dayWord(most), d.Practice.RestLeast.Value))
	case float64(least) > d.Practice.RestMost.Value:
		return say(fmt.Sprintf("%s was inoculated %s after its wood was felled: other fungi may be in it, and %.0f days are the most that is advised", pile, dayWord(least), d.Practice.RestMost.Value))
	}
	return nil
}

func dayWord(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// lotsPutOff notes which lots were put off.
func (s *State) lotsPutOff() {
	for _, l := range s.Felled {
		for _, o := range s.PutOff {
			if o.On.To >= l.On.From && putsOffInoculating(o.Task, folded(l.Lot)) {
				l.Until = max(l.Until, o.Until.From)
			}
		}
	}
}
