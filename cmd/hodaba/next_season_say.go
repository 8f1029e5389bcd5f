package main

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

const (
	wantExample = `say it as in "48 bottles Dark bracket 2028-2030", "2 kg shiitake a week 5-10 2029", "500 g dried reishi over 2029", "25 kg shiitake 2029"`
	logsExample = `say it as in --logs "60 oak 12cm, 30 birch 15cm"`
)

var yearsSaid = regexp.MustCompile(`^(\d{4})(?:\s*(?:-|–|to)\s*(\d{4}))?$`)

// parseWant reads one thing that is wanted, the way it is said: an amount, of
// what, when in the year, and of which years, the years last.
func parseWant(text string, s *yard.State, set *data.Set) (yard.Want, error) {
	var w yard.Want
	words := strings.Fields(text)
	wrong := func(format string, args ...any) (yard.Want, error) {
		return yard.Want{}, lineWrong(wantExample, "--want %q: "+format, append([]any{text}, args...)...)
	}
	rest, ok := cutYears(words, s.AsOf.Year(), &w)
	switch {
	case len(words) == 0:
		return wrong("nothing is said")
	case !ok:
		return wrong("of which year is not said")
	case w.To < w.From:
		return wrong("the last year is before the first")
	case w.To < s.AsOf.Year():
		return wrong("%d is past", w.To)
	case w.From < firstSeason || w.To > lastSeason:
		return wrong("that is no year of a season")
	}
	if len(rest) >= 2 && (rest[1] == "bottles" || rest[1] == "bottle") {
		n, err := strconv.Atoi(rest[0])
		if err != nil || n <= 0 || n > mostBottles {
			return wrong("%q is no number of bottles", rest[0])
		}
		w.Bottles = n
		name, err := recipeSaid(strings.Join(withoutOf(rest[2:]), " "), s)
		w.Recipe = name
		return w, err
	}
	kg, rest, ok := cutWeight(rest, s)
	if !ok {
		return wrong("how much is not said as a weight or as bottles")
	}
	if !(kg > 0) || kg > mostLogs {
		return wrong("that is no amount to want")
	}
	return w, wantOf(&w, kg, withoutOf(rest), s, set, text)
}

// mostBottles is more than anybody fills in a year.
const mostBottles = 1_000_000

// cutYears takes the years off the end: "2029", "2028-2030", "in 3 years".
func cutYears(words []string, now int, w *yard.Want) (rest []string, ok bool) {
	if at := len(words) - 3; at >= 0 && words[at] == "in" && (words[at+2] == "years" || words[at+2] == "year") {
		if n, err := strconv.Atoi(words[at+1]); err == nil && n > 0 && n <= lastSeason-firstSeason {
			w.From, w.To = now+n, now+n
			return words[:at], true
		}
	}
	for n := min(3, len(words)); n >= 1; n-- {
		at := len(words) - n
		m := yearsSaid.FindStringSubmatch(strings.Join(words[at:], " "))
		if m == nil {
			continue
		}
		w.From = number(m[1])
		w.To = w.From
		if m[2] != "" {
			w.To = number(m[2])
		}
		return words[:at], true
	}
	return words, false
}

// weightWords is how many words a weight has at most: "3 lb 2 oz".
const weightWords = 4

// cutWeight takes a weight off the front, kg.
func cutWeight(words []string, s *yard.State) (kg float64, rest []string, ok bool) {
	for n := min(weightWords, len(words)); n >= 1; n-- {
		if q, err := yard.ParseQuantity(strings.Join(words[:n], " "), yard.Kilogram, s.Config.Measures); err == nil {
			return q.Mid(), words[n:], true
		}
	}
	return 0, words, false
}

func withoutOf(words []string) []string {
	if len(words) > 0 && words[0] == "of" {
		return words[1:]
	}
	return words
}

// wantOf finds out what a weight is wanted of: dried and over, fresh by the
// week, or fresh in the year.
func wantOf(w *yard.Want, kg float64, words []string, s *yard.State, set *data.Set, text string) error {
	dried := len(words) > 0 && (words[0] == "dried" || words[0] == "dry")
	if dried {
		words = withoutOf(words[1:])
	}
	week := slices.Index(words, "week")
	var season []string
	if week > 0 && slices.Contains([]string{"a", "per", "each", "every"}, words[week-1]) {
		words, season = words[:week-1], words[week+1:]
	} else {
		week = -1
	}
	for len(words) > 0 && slices.Contains([]string{"over", "in", "left", "fresh", "by", "hold"}, words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	name, err := speciesSaid(strings.Join(words, " "), s, set)
	if err != nil {
		return err
	}
	w.Species = name
	switch {
	case name == "" && (dried || week >= 0):
		return lineWrong(wantExample, "--want %q: of which species is not said", text)
	case dried && week >= 0:
		return lineWrong(wantExample, "--want %q: what is wanted by the week is fresh, what is dried is over at the end of the year", text)
	case dried:
		w.HoldG = kg * 1000
	case week >= 0:
		w.FreshKG = kg
		var ok bool
		if w.FirstMonth, w.LastMonth, ok = monthsSaid(season); !ok {
			return lineWrong("write months as 5-10, or May-October", "--want %q: %q are no months", text, strings.Join(season, " "))
		}
	default:
		w.CropKG = kg
	}
	return nil
}

var monthsSplit = regexp.MustCompile(`\s*(?:-|–|\bto\b)\s*`)

// monthsSaid reads "5-10", "May to October", "june"; nothing is the whole year.
func monthsSaid(words []string) (first, last int, ok bool) {
	text := strings.TrimPrefix(strings.TrimSpace(strings.Join(words, " ")), "in ")
	if text == "" || text == "in" {
		return 0, 0, true
	}
	parts := monthsSplit.Split(text, -1)
	if len(parts) > 2 {
		return 0, 0, false
	}
	first, last = monthSaid(parts[0]), monthSaid(parts[len(parts)-1])
	return first, last, first > 0 && last > 0
}

// monthSaid is the month of a number or a name of at least three letters; 0
// where it is none.
func monthSaid(text string) int {
	text = strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= 12 {
		return n
	}
	for m := time.January; m <= time.December; m++ {
		if len(text) >= len("mar") && strings.HasPrefix(strings.ToLower(m.String()), text) {
			return int(m)
		}
	}
	return 0
}

// recipeSaid is the recipe of recipes.toml that a name means.
func recipeSaid(name string, s *yard.State) (string, error) {
	var names []string
	for i := range s.Recipes {
		if strings.EqualFold(s.Recipes[i].Name, name) {
			return s.Recipes[i].Name, nil
		}
		names = append(names, s.Recipes[i].Name)
	}
	if near, ok := data.Nearest(name, names); ok {
		return "", lineWrong("did you mean "+near+"?", "no recipe is called %q", name)
	}
	if len(names) == 0 {
		return "", lineWrong("write one into recipes.toml", "no recipe is called %q: there is none", name)
	}
	return "", lineWrong("those of recipes.toml: "+strings.Join(names, ", "), "no recipe is called %q", name)
}

// speciesSaid is the species that a name means, of the yard's own or built in;
// "" where none is named.
func speciesSaid(name string, s *yard.State, set *data.Set) (string, error) {
	if name == "" {
		return "", nil
	}
	names := set.SpeciesNames()
	for _, o := range s.Config.Own {
		if strings.EqualFold(o.Name, name) {
			return o.Name, nil
		}
		names = append(names, o.Name)
	}
	if sp, ok := set.FindSpecies(name); ok {
		return sp.Name, nil
	}
	if near, ok := data.Nearest(name, names); ok {
		return "", lineWrong("did you mean "+near+"?", "no species is called %q", name)
	}
	return "", lineWrong("those that are known: "+strings.Join(set.SpeciesNames(), ", "), "no species is called %q", name)
}

// sizeSaid is a length in a text: "12cm", "10-15 cm", "5 in".
var sizeSaid = regexp.MustCompile(`(?i)\d[\d.,]*(?:\s+\d+/\d+)?(?:\s*(?:-|–|to)\s*\d[\d.,]*)?\s*(?:cm|mm|m|inches|inch|in|ft|foot|feet|")`)

// parseLogs reads logs that lie there: "60 oak 12cm, 30 birch 15cm 120cm". The
// first length is the diameter; what is not said is as usual.
func parseLogs(text string, s *yard.State, set *data.Set) (all []yard.LogsToHave, err error) {
	for _, part := range strings.Split(text, ",") {
		l, err := parseLog(strings.TrimSpace(part), s, set)
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

func parseLog(text string, s *yard.State, set *data.Set) (l yard.LogsToHave, err error) {
	wrong := func(format string, args ...any) (yard.LogsToHave, error) {
		return yard.LogsToHave{}, lineWrong(logsExample, "--logs %q: "+format, append([]any{text}, args...)...)
	}
	count, rest, _ := strings.Cut(text, " ")
	if l.Most, err = strconv.Atoi(count); err != nil || l.Most < 1 || l.Most > mostLogs {
		return wrong("%q is no number of logs", count)
	}
	sizes := sizeSaid.FindAllString(rest, -1)
	wood := strings.Join(strings.Fields(sizeSaid.ReplaceAllString(rest, " ")), " ")
	wood = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(wood, "logs of "), " logs"))
	w, ok := set.FindWood(wood)
	if !ok {
		if near, ok := data.Nearest(wood, set.WoodNames()); ok {
			return l, lineWrong("did you mean "+near+"?", "--logs %q: no wood is called %q", text, wood)
		}
		return wrong("no wood is called %q", wood)
	}
	if len(sizes) > 2 {
		return wrong("more is said than a diameter and a length")
	}
	usual := func(cm float64) yard.Span { return yard.Span{Low: cm, High: cm} }
	l.Wood, l.Diameter, l.Length = w.Name, usual(set.Practice.DefaultDiameter.Value), usual(set.Practice.DefaultLength.Value)
	for i, size := range sizes {
		q, err := yard.ParseQuantity(size, yard.Centimetre, s.Config.Measures)
		if err != nil || !(q.Low > 0) || q.High > mostCentimetres {
			return wrong("%q is no size of a log", size)
		}
		if i == 0 {
			l.Diameter = q.Span()
		} else {
			l.Length = q.Span()
		}
	}
	return l, nil
}

// mostCentimetres is longer than any log that is carried.
const mostCentimetres = 1000
