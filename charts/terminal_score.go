package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast/score"
)

// Score says how right past forecasts were. The yards are named where they
// are several.
func (t Terminal) Score(name string, r *score.Report) string {
	w := scoreWords{r, units{us: t.US}}
	head := "How right were we"
	if name != "" {
		head = Clean(name) + ": how right were we"
	}
	parts := []string{head, paragraphs(w.lead())}
	if w.nothing() {
		return t.write(parts...)
	}
	parts = append(parts, w.meansTable(), w.leadsTable(), w.groupsTable(), sentences("How to read this", append(w.units80(), w.trust()...)))
	return t.write(parts...)
}

// paragraphs are sentences, each wrapped by itself.
func paragraphs(said []string) (out string) {
	for _, s := range said {
		out += wrap("", "", s)
	}
	return out
}

// kindShort are the kinds of outcome in a narrow column, with what is off.
var kindShort = map[score.Kind]string{
	score.FirstHarvest: "first harvest", score.Look: "log ends", score.Kilograms: "kg in a year",
}

func (w scoreWords) short(k score.Kind) string {
	if k == score.Kilograms && w.units.us {
		return "lb in a year"
	}
	return kindShort[k]
}

// offCols are the columns of how far off on average.
var offCols = []column{{head: "seen", right: true}, {head: "we", right: true}, {head: "rule of thumb", right: true}, {head: "thermal time", right: true}}

// offRow is how far off on average.
func (w scoreWords) offRow(k score.Kind, s *score.Sum) []string {
	return []string{fmt.Sprint(s.Outcomes), w.off(k, s.Ours), w.off(k, s.Rule), w.off(k, s.Normals)}
}

func (w scoreWords) meansTable() string {
	var rows [][]string
	for _, k := range score.Kinds {
		if s := w.SumOf(score.Of(k), nil); s.Outcomes > 0 {
			held := fmt.Sprintf("%s of %d", hits(s), s.Outcomes)
			if s.Judged() {
				held += fmt.Sprintf(" (%d to %d)", s.HitsLow, s.HitsHigh)
			} else {
				held += ": too few"
			}
			rows = append(rows, append(append([]string{w.short(k)}, w.offRow(k, s)...), held))
		}
	}
	cols := append(append([]column{{head: "off by"}}, offCols...), column{head: "held 8 in 10"})
	return fmt.Sprintf("On average (fewer than %d seen: too few to judge)\n", score.FewOutcomes) + table(cols, rows)
}

func (w scoreWords) leadsTable() string {
	var rows [][]string
	for _, k := range score.Kinds {
		for i, band := range score.Bands {
			if s := w.SumOf(score.Of(k), band.Holds); s.Outcomes > 0 {
				rows = append(rows, append([]string{w.short(k), bandWords[i]}, w.offRow(k, s)...))
			}
		}
	}
	return "By how long before it was said\n" + table(append([]column{{head: "off by"}, {head: "before"}}, offCols...), rows)
}

func (w scoreWords) groupsTable() string {
	var rows [][]string
	for _, g := range w.Groups() {
		rows = append(rows, append([]string{w.short(g.Kind), groupShort(g)}, w.offRow(g.Kind, g.Sum)...))
	}
	return "By the season in which it came, and by climate\n" + table(append([]column{{head: "off by"}, {head: "when or where", most: 18}}, offCols...), rows)
}

// groupShort names a group in a narrow column: a season as "Mar to May".
func groupShort(g score.Group) string {
	first, last, season := strings.Cut(g.Name, " to ")
	if g.By != "season" || !season {
		return g.Name
	}
	return first[:3] + " to " + last[:3]
}

// units80 says what the columns of a narrow table hold.
func (w scoreWords) units80() []string {
	return []string{"Off by: days of a first harvest, log ends in ten with or without a white ring, and the mass picked from a pile in a year. Thermal time: on monthly normals alone. Held 8 in 10: how many lay in the range that we said holds 8 times in 10, and in brackets how many would be as it should be."}
}
