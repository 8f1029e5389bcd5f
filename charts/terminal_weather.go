package charts

import (
	"fmt"
	"strings"

	"hodaba/yard"
)

// differencesShown is how many differing cells a preview lists one by one.
const differencesShown = 5

// WeatherPreview says what a table of daily weather holds and what would
// become of weather.csv. strange says why it may be of another place, "" where
// it fits.
func (t Terminal) WeatherPreview(file string, p yard.Preview, strange string) string {
	return t.write(
		t.weatherHead(file, p),
		t.weatherColumns(p),
		t.weatherMonths(p),
		t.weatherMerge(p.Merge),
		t.Problems(p.Problems),
		oddOf(strange),
	)
}

// oddOf is a remark that asks to be looked at.
func oddOf(text string) string {
	if text == "" {
		return ""
	}
	return wrap("odd: ", "  ", text)
}

func (t Terminal) weatherHead(file string, p yard.Preview) string {
	temps, rain := p.Weather.Known()
	return wrap("", "", fmt.Sprintf("%s: %s to %s; days with minimum and maximum: %d, with rain: %d.",
		Clean(file), p.Weather.From, p.Weather.To(), temps, rain))
}

func (t Terminal) weatherColumns(p yard.Preview) string {
	rows := [][]string{}
	for _, c := range p.Columns {
		rows = append(rows, []string{Clean(c.Heading), c.Holds, c.Unit, c.Why})
	}
	out := table([]column{{head: "column", most: 24}, {head: "holds"}, {head: "unit"}, {head: "because", most: 32}}, rows)
	if len(p.Unused) > 0 {
		var names []string
		for _, n := range p.Unused {
			names = append(names, Clean(n))
		}
		out += wrap("not taken: ", "  ", some(names, 2*namesInLine))
	}
	return out
}

func (t Terminal) weatherMonths(p yard.Preview) string {
	u := units{us: t.US}
	rows := [][]string{}
	for i, m := range p.Months {
		if m.TempDays+m.RainDays == 0 {
			continue
		}
		row := []string{monthName(i), "–", "–", "–", fmt.Sprint(m.TempDays), fmt.Sprint(m.RainDays)}
		if m.TempDays > 0 {
			row[1], row[2] = u.c(m.TMin), u.c(m.TMax)
		}
		if m.RainDays >= monthDays { // fewer would not make a month's sum
			row[3] = u.rain(m.Rain)
		}
		rows = append(rows, row)
	}
	return table([]column{{head: "month"}, {head: "mean night", right: true}, {head: "mean day", right: true},
		{head: "rain a month", right: true}, {head: "days", right: true}, {head: "with rain known", right: true}}, rows)
}

// weatherMerge says what would become of weather.csv.
func (t Terminal) weatherMerge(m yard.Merge) string {
	out := wrap("", "", fmt.Sprintf("Into %s: %s; %s in which blank cells are filled; %s; %s.", yard.WeatherFile,
		count(m.New, "new day", "new days"), count(m.Filled, "day", "days"), count(m.Same, "day as before", "days as before"),
		count(m.Changed(), "day that differs", "days that differ")))
	if len(m.Differ) == 0 {
		return out
	}
	u := units{us: t.US}
	rows := [][]string{}
	for _, d := range m.Differ[:min(len(m.Differ), differencesShown)] {
		write := u.c
		if d.What == "rain" {
			write = u.rain
		}
		rows = append(rows, []string{d.On.String(), d.What, write(d.Old), write(d.New)})
	}
	out += table([]column{{head: "day"}, {head: "what"}, {head: "there", right: true}, {head: "in the file", right: true}}, rows)
	if n := len(m.Differ) - differencesShown; n > 0 {
		out += "and " + count(n, "difference more", "differences more") + "\n"
	}
	return strings.TrimRight(out, "\n")
}

// weatherJSON is the preview for programs.
type weatherJSON struct {
	File     string              `json:"file"`
	From     isoDay              `json:"from"`
	To       isoDay              `json:"to"`
	TempDays int                 `json:"temperature_days"`
	RainDays int                 `json:"rain_days"`
	Columns  []weatherColumnJSON `json:"columns"`
	Unused   []string            `json:"columns_not_taken"`
	Months   []weatherMonthJSON  `json:"months"`
	New      int                 `json:"days_new"`
	Filled   int                 `json:"days_filled"`
	Same     int                 `json:"days_same"`
	Changed  int                 `json:"days_differing"`
	Strange  string              `json:"looks_like_another_place,omitempty"`
	Problems []string            `json:"problems"`
	Written  bool                `json:"written"`
	Replaced bool                `json:"differing_days_replaced"`
}

type weatherColumnJSON struct {
	Heading string `json:"heading"`
	Holds   string `json:"holds"`
	Unit    string `json:"unit,omitempty"`
	Why     string `json:"because,omitempty"`
}

type weatherMonthJSON struct {
	Month    int        `json:"month"`
	TMin     jsonNumber `json:"tmin_c"`
	TMax     jsonNumber `json:"tmax_c"`
	Rain     jsonNumber `json:"rain_mm"`
	TempDays int        `json:"temperature_days"`
	RainDays int        `json:"rain_days"`
}

// WeatherPreviewJSON is WeatherPreview for programs; written and replaced say
// whether weather.csv was written, and whether differing days were replaced.
func WeatherPreviewJSON(file string, p yard.Preview, strange string, written, replaced bool) ([]byte, error) {
	temps, rain := p.Weather.Known()
	out := weatherJSON{File: file, From: isoDay(p.Weather.From), To: isoDay(p.Weather.To()), TempDays: temps, RainDays: rain,
		Columns: []weatherColumnJSON{}, Unused: append([]string{}, p.Unused...), Months: []weatherMonthJSON{},
		New: p.Merge.New, Filled: p.Merge.Filled, Same: p.Merge.Same, Changed: p.Merge.Changed(),
		Strange: strange, Problems: []string{}, Written: written, Replaced: replaced}
	for _, c := range p.Columns {
		out.Columns = append(out.Columns, weatherColumnJSON(c))
	}
	for i, m := range p.Months {
		if m.TempDays+m.RainDays > 0 {
			out.Months = append(out.Months, weatherMonthJSON{i + 1, smallNumber(m.TMin), smallNumber(m.TMax), smallNumber(m.Rain), m.TempDays, m.RainDays})
		}
	}
	for _, q := range p.Problems {
		out.Problems = append(out.Problems, q.String())
	}
	return encode(out)
}
