package yard

import (
	"bytes"
	"strings"
)

// FileDifference is what stands in one of two files only, line by line.
type FileDifference struct {
	File        string
	Here, There []TextLine
}

// TextLine is a line of a file.
type TextLine struct {
	Line int
	Text string
}

// settingsApart compares the files that the grower writes.
func (f *Folder) settingsApart(c *Copy) (out []FileDifference) {
	for _, name := range []string{YardFile, RecipesFile} {
		here, err1 := readBounded(f.files, name, mostSettings)
		there, err2 := readBounded(c.files, name, mostSettings)
		if err1 != nil || err2 != nil {
			continue // missing on one side: nothing to compare line by line
		}
		d := FileDifference{File: name, Here: linesOnlyIn(here, there), There: linesOnlyIn(there, here)}
		if len(d.Here)+len(d.There) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// linesOnlyIn are the lines of a that b has not, or not as often; remarks and
// spaces count for nothing.
func linesOnlyIn(a, b []byte) (out []TextLine) {
	left := map[string]int{}
	for l := range strings.Lines(string(b)) {
		left[withoutRemark(l)]++
	}
	n := 0
	for l := range strings.Lines(string(a)) {
		n++
		l = withoutRemark(l)
		if left[l]--; left[l] < 0 && l != "" {
			out = append(out, TextLine{n, l})
		}
	}
	return out
}

// withoutRemark is a line of TOML with single spaces and no remark.
func withoutRemark(l string) string {
	open := byte(0)
	for i := 0; i < len(l); i++ {
		switch c := l[i]; {
		case open != 0 && c == '\\' && open == '"':
			i++
		case open != 0 && c == open:
			open = 0
		case open != 0:
		case c == '"' || c == '\'':
			open = c
		case c == '#':
			l = l[:i]
		}
	}
	return strings.Join(strings.Fields(l), " ")
}

// weatherApart is what the weather.csv of the other copy would bring.
func (f *Folder) weatherApart(c *Copy) (m Merge) {
	b, err := readBounded(c.files, WeatherFile, mostJournal)
	if err != nil {
		return m
	}
	t, err := readWeather(bytes.NewReader(b), f.today, Hints{})
	if err != nil || t.weather == nil {
		return m
	}
	old, _, err := f.storedWeather()
	if err != nil {
		return m
	}
	_, m = merged(old, t.weather, false)
	return m
}
