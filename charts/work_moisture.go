package charts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/forecast/ground"
	"hodaba/yard"
)

// The thresholds of watering, our own judgement but for the last.
const (
	waterLikely   = 0.50 // a pile with this chance of being too dry within two weeks is watered
	weighLikely   = 0.15 // from this chance on, and while it is not sure, a few of its logs are weighed
	weighSure     = 0.85
	weighAgain    = 28   // days before the logs of a pile are weighed again
	logsWeighed   = 3    // logs that lie on the scales
	wateringStep  = 6    // hours to which watering is rounded up
	longestAdvice = 48   // hours of watering advised at most
	wellWatered   = 0.35 // share of water that is aimed at while spawn runs; University of Kentucky, FOR-82
	lostWorthWord = 0.05 // chance of lost spawn that is worth a word
)

// thirsty is a pile with the moisture of its logs.
type thirsty struct {
	pile *yard.Pile
	m    *forecast.Moisture
}

// thirst are the standing piles in their growing season, driest first.
func (b *book) thirst() []thirsty {
	var list []thirsty
	for _, p := range b.State.Piles {
		f := b.ahead[p.Name]
		if f == nil || p.Closed != 0 || f.Moisture == nil || len(f.Months) == 0 || f.Months[0].Winter {
			continue
		}
		list = append(list, thirsty{p, f.Moisture})
	}
	slices.SortStableFunc(list, func(a, c thirsty) int { return cmp.Compare(c.m.DryChance, a.m.DryChance) })
	return list
}

// watering is one line for all piles that want water.
func (b *book) watering() []Task {
	var names, words []string
	var first *yard.Pile
	hours := 0
	for _, t := range b.thirst() {
		if t.m.DryChance < waterLikely {
			continue
		}
		if first == nil {
			first = t.pile
		}
		names = append(names, handle(t.pile))
		words = append(words, fmt.Sprintf("%s (%s)", t.pile.Name, percent(t.m.DryChance)))
		hours = max(hours, b.hoursOfWater(t.m))
	}
	if first == nil {
		return nil
	}
	do, ran := "Water "+some(words, namesInLine), "…"
	if hours > 0 {
		ran = fmt.Sprint(hours)
		do += fmt.Sprintf(", about %s of sprinkling", count(hours, "hour", "hours"))
	}
	t := b.anyDay("water", do+".", fmt.Sprintf(
		"In brackets the chance that the logs fall under %.0f %% water within two weeks; the hours are a rough guess, scales know better.", b.Data.Practice.WaterBelow.Value),
		"hodaba record watered "+strings.Join(names[:min(len(names), namesInLine)], " ")+" --hours "+ran)
	t.Page = b.slugs[first.Name]
	return []Task{t}
}

// hoursOfWater is how long water must run until logs are well watered again,
// zero where nothing is known of it.
func (b *book) hoursOfWater(m *forecast.Moisture) int {
	gain := b.Data.Practice.WateringGain.Value
	lacks := ground.DryBasis(wellWatered) - ground.DryBasis(m.Now.P50)
	if gain <= 0 {
		return 0
	}
	steps := math.Ceil(max(lacks, 0) / gain / wateringStep)
	return min(max(int(steps), 1)*wateringStep, longestAdvice)
}

// scales asks to weigh a few logs of the pile of whose moisture least is sure.
func (b *book) scales() []Task {
	var best *thirsty
	for _, t := range b.thirst() {
		if t.m.DryChance < weighLikely || t.m.DryChance > weighSure || b.sinceWeighed(t.pile) < weighAgain || !weighable(t.pile) {
			continue
		}
		if best == nil || evenness(t.m.DryChance) > evenness(best.m.DryChance) {
			best = &t
		}
	}
	if best == nil {
		return nil
	}
	n := logsWeighed
	if best.pile.LogsKnown && best.pile.Logs > 0 {
		n = min(n, best.pile.Logs)
	}
	t := b.anyDay("scales", fmt.Sprintf("Weigh %s of %s together, always the same.", count(n, "log", "logs"), best.pile.Name),
		fmt.Sprintf("Whether it wants water is open (%s); a log that lost a tenth since it was inoculated does.", percent(best.m.DryChance)),
		fmt.Sprintf("hodaba record weighed %s %s …kg", handle(best.pile), count(n, "log", "logs")))
	t.Page = b.slugs[best.pile.Name]
	return []Task{t}
}

// evenness is largest where a chance is one half.
func evenness(p float64) float64 { return p * (1 - p) }

// weighable reports whether a weight can be set against one when green: a
// weight near the beginning, or the size of the logs.
func weighable(p *yard.Pile) bool {
	return len(p.Weighed) > 0 || p.Diameter.Known() && p.Length.Known() && p.Wood != ""
}

// sinceWeighed is the number of days since logs of a pile were weighed, and
// more than anyone waits where they never were.
func (b *book) sinceWeighed(p *yard.Pile) int {
	last := yard.Date(0)
	for _, w := range p.Weighed {
		last = max(last, w.On.To)
	}
	if last == 0 {
		return 1 << 20
	}
	return int(b.today() - last)
}

// wetWords say how wet the logs of a pile are; nil in a bed.
func (b *book) wetWords(m *forecast.Moisture) []string {
	if m == nil {
		return nil
	}
	pr := &b.Data.Practice
	said := []string{fmt.Sprintf("Its logs hold about %s water now, %s; the chance that they fall under %.0f %% within two weeks, where watering is due, is %s.",
		wetness(m.Now.P50), mostly("times", wetness(m.Now.P10), wetness(m.Now.P90)), pr.WaterBelow.Value, percent(m.DryChance))}
	if m.Lost >= lostWorthWord {
		said = append(said, fmt.Sprintf("They may have been too dry for too long: the chance that the spawn is lost is %s. Look at the ends before you count on them.", percent(m.Lost)))
	}
	return append(said, "This is a coarse balance of rain, shade, drying and watering, as share of the whole weight; three logs on the scales tell more.")
}
