package charts

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/yard"
)

// The lengths to which the answer of a merge is cut.
const (
	takenShown = 20 // entries taken over
	linesShown = 8  // lines of a file that differ, on either side
)

// Takeover says what became of the entries of another copy; written is false
// where they were only looked at.
func (t Terminal) Takeover(o *yard.Takeover, written bool) string {
	parts := []string{takeoverHead(o, written)}
	if len(o.Taken) > 0 {
		parts = append(parts, t.History(o.Taken[:min(len(o.Taken), takenShown)])+more(len(o.Taken), takenShown))
	}
	parts = append(parts, t.differing(o.Differ), t.notTaken(o.Problems), settingsApart(o.Settings), weatherApart(o))
	return t.write(parts...)
}

func takeoverHead(o *yard.Takeover, written bool) string {
	what := "Taken over from "
	if !written {
		what = "To be taken over from "
	}
	return wrap("", "  ", fmt.Sprintf("%s%s: %s. In both: %d, only here: %d.", what, o.From, count(len(o.Taken), "entry", "entries"), o.Same+len(o.Differ), o.Here))
}

func more(n, shown int) string {
	if n <= shown {
		return ""
	}
	return fmt.Sprintf("… and %d more: hodaba history\n", n-shown)
}

func (t Terminal) differing(list []yard.Clash) string {
	if len(list) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("Different there; what stands here is left as it is\n")
	for _, c := range list {
		b.WriteString(wrap("- ", "  ", fmt.Sprintf("%s, line %d; here: %s, %s", c.Here.ID, c.There.Line, c.Here.On, c.Here.Says())))
		b.WriteString(wrap("  there: ", "    ", fmt.Sprintf("%s, %s", c.There.On, c.There.Says())))
		b.WriteString("    " + Clean(TakeThere(c)) + "\n")
	}
	return b.String()
}

// TakeThere is the command that makes an entry say what it says in the other
// copy.
func TakeThere(c yard.Clash) string {
	if c.Here.Replaced != nil {
		return "it no longer counts here: hodaba history " + shell(c.Here.Replaced.ID)
	}
	if len(c.Right) == 0 || c.Here.Kind != c.There.Kind || c.Here.Kind == "corrected" && c.Right["replaces"]+c.Right["kind"]+c.Right["void"] != "" {
		return "look at both: hodaba history " + shell(c.Here.ID)
	}
	words := []string{"hodaba correct", shell(c.Here.ID)}
	for _, k := range slices.Sorted(maps.Keys(c.Right)) {
		v := c.Right[k]
		if v != "" {
			v = shell(v)
		}
		words = append(words, k+"="+v)
	}
	return strings.Join(words, " ")
}

func (t Terminal) notTaken(problems []yard.Problem) string {
	if len(problems) == 0 {
		return ""
	}
	return t.Problems(problems)
}

func settingsApart(list []yard.FileDifference) string {
	var b strings.Builder
	for _, d := range list {
		b.WriteString(d.File + " differs, and is left to you\n")
		b.WriteString(sideLines("there", d.There) + sideLines("here", d.Here))
	}
	return b.String()
}

func sideLines(side string, lines []yard.TextLine) string {
	var b strings.Builder
	for _, l := range lines[:min(len(lines), linesShown)] {
		b.WriteString(wrap(fmt.Sprintf("  only %s, line %d: ", side, l.Line), "    ", l.Text))
	}
	if n := len(lines) - linesShown; n > 0 {
		fmt.Fprintf(&b, "  … and %d more lines only %s\n", n, side)
	}
	return b.String()
}

func weatherApart(o *yard.Takeover) string {
	m := o.Weather
	if m.New+m.Filled+len(m.Differ) == 0 {
		return ""
	}
	return wrap("", "  ", fmt.Sprintf("weather.csv there has days that are not here (%d), fills blanks (%d), differs (%d): hodaba import weather %s",
		m.New, m.Filled, m.Changed(), shell(strings.TrimSuffix(o.From, "/")+"/weather.csv")))
}

// TakeoverJSON is what became of the entries of another copy.
func TakeoverJSON(o *yard.Takeover, written bool) ([]byte, error) {
	type lineJSON struct {
		Line int    `json:"line"`
		Text string `json:"text"`
	}
	type clashJSON struct {
		Entry   string            `json:"entry"`
		Here    string            `json:"here"`
		There   string            `json:"there"`
		Correct map[string]string `json:"correct"`
		Command string            `json:"command"`
	}
	type fileJSON struct {
		File  string     `json:"file"`
		Here  []lineJSON `json:"only_here"`
		There []lineJSON `json:"only_there"`
	}
	out := struct {
		From     string        `json:"from"`
		Written  bool          `json:"written"`
		Taken    []string      `json:"taken"`
		Same     int           `json:"same"`
		Here     int           `json:"only_here"`
		Differ   []clashJSON   `json:"differ"`
		Problems []problemJSON `json:"problems"`
		Settings []fileJSON    `json:"settings"`
		Weather  struct {
			New    int `json:"new_days"`
			Filled int `json:"filled_days"`
			Differ int `json:"differing_days"`
		} `json:"weather"`
	}{From: o.From, Written: written, Taken: []string{}, Same: o.Same, Here: o.Here, Differ: []clashJSON{}, Problems: []problemJSON{}, Settings: []fileJSON{}}
	for _, e := range o.Taken {
		out.Taken = append(out.Taken, e.ID)
	}
	for _, c := range o.Differ {
		out.Differ = append(out.Differ, clashJSON{c.Here.ID, c.Here.Text, c.There.Text, c.Right, TakeThere(c)})
	}
	for _, p := range o.Problems {
		out.Problems = append(out.Problems, problemJSON{p.File, p.Line, p.Entry, GradeWord(p.Grade), p.Text, p.Remedy})
	}
	side := func(lines []yard.TextLine) []lineJSON {
		l := []lineJSON{}
		for _, x := range lines {
			l = append(l, lineJSON{x.Line, x.Text})
		}
		return l
	}
	for _, d := range o.Settings {
		out.Settings = append(out.Settings, fileJSON{d.File, side(d.Here), side(d.There)})
	}
	out.Weather.New, out.Weather.Filled, out.Weather.Differ = o.Weather.New, o.Weather.Filled, o.Weather.Changed()
	return encode(out)
}
