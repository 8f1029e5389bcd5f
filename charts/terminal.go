package charts

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"hodaba/yard"
)

// Terminal says how text for a terminal is written.
type Terminal struct {
	Plain bool // only ASCII: for terminals and fonts without block signs
	US    bool // pounds and ounces, as yard.toml asks
}

// TerminalWidth is the number of columns that every table fits.
const TerminalWidth = 80

// write joins the parts of a page of text, an empty line between them, and
// brings it to the signs that the terminal has.
func (t Terminal) write(parts ...string) string {
	var full []string
	for _, p := range parts {
		if p = strings.TrimRight(p, "\n"); p != "" {
			full = append(full, p)
		}
	}
	s := strings.Join(full, "\n\n") + "\n"
	if t.Plain {
		return plain(s)
	}
	return s
}

// ascii writes the signs of our own texts so that any terminal shows them.
var ascii = strings.NewReplacer("°C", "C", "°F", "F", "°", " deg", "–", "-", "—", "-", "·", ",", "…", "~", "×", "x",
	"≥", ">=", "≤", "<=", "’", "'", "“", `"`, "”", `"`, "\u00a0", " ", "\u202f", " ", "½", "1/2", "²", "2", "³", "3")

// plain brings text to ASCII; other letters become a question mark, and a line
// that grew too long by it is folded.
func plain(s string) string {
	lines := strings.Split(ascii.Replace(s), "\n")
	for i, l := range lines {
		l = strings.Map(func(r rune) rune {
			if r > 0x7e {
				return '?'
			}
			return r
		}, l)
		if len(l) > TerminalWidth {
			indent := l[:len(l)-len(strings.TrimLeft(l, " "))]
			l = strings.TrimRight(wrap(indent, indent+"  ", l), "\n")
		}
		lines[i] = l
	}
	return strings.Join(lines, "\n")
}

// Clean takes out of typed text whatever could steer a terminal or hide in a
// line: control signs, those that turn the direction of writing, and those
// that nobody sees. Line ends and tabs become blanks.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r' || r == '\u2028' || r == '\u2029':
			return ' '
		case r == utf8.RuneError: // a letter that cannot be read is seen to be missing
			return '?'
		case steers(r):
			return -1
		}
		return r
	}, s)
}

// Screen is Clean for a text of many lines: what is written on a terminal goes
// through it as a whole, so that nothing can be forgotten.
func Screen(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError:
			return '?'
		case r != '\n' && steers(r):
			return -1
		}
		return r
	}, s)
}

// steers reports whether a sign does something to the text around it instead
// of standing in it. The joiners of letters are among those that nobody sees.
func steers(r rune) bool {
	if r >= ' ' && r < 0x7f {
		return false
	}
	return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Variation_Selector) || r == utf8.RuneError
}

// column is one column of a table.
type column struct {
	head  string
	right bool // numbers
	most  int  // columns at most; 0: as wide as it needs
}

// table sets rows under heads, two blanks between columns.
func table(cols []column, rows [][]string) string {
	width := make([]int, len(cols))
	for i, c := range cols {
		width[i] = utf8.RuneCountInString(c.head)
	}
	for _, row := range rows {
		for i, cell := range row {
			row[i] = cut(cell, cols[i].most)
			width[i] = max(width[i], utf8.RuneCountInString(row[i]))
		}
	}
	var b strings.Builder
	heads := make([]string, len(cols))
	for i, c := range cols {
		heads[i] = c.head
	}
	line(&b, cols, width, heads)
	for _, row := range rows {
		line(&b, cols, width, row)
	}
	return b.String()
}

func line(b *strings.Builder, cols []column, width []int, cells []string) {
	var l strings.Builder
	for i, cell := range cells {
		if i > 0 {
			l.WriteString("  ")
		}
		gap := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
		if cols[i].right {
			l.WriteString(gap + cell)
		} else {
			l.WriteString(cell + gap)
		}
	}
	b.WriteString(strings.TrimRight(l.String(), " ") + "\n")
}

// cut shortens s to at most n columns, the last one then an ellipsis.
func cut(s string, n int) string {
	s = Clean(s)
	if n <= 0 || utf8.RuneCountInString(s) <= n {
		return s
	}
	return strings.TrimRight(string([]rune(s)[:n-1]), " ") + "…"
}

// wrap breaks text into lines that fit the terminal, each begun with indent,
// the first with lead.
func wrap(lead, indent, text string) string {
	var b strings.Builder
	at := lead
	for _, word := range words(text) {
		gap := " "
		if at == lead || at == indent {
			gap = ""
		}
		if gap != "" && utf8.RuneCountInString(at)+1+utf8.RuneCountInString(word) > TerminalWidth {
			b.WriteString(at + "\n")
			at, gap = indent, ""
		}
		at += gap + word
	}
	b.WriteString(at + "\n")
	return b.String()
}

// words are the pieces between which a line may break: a percent sign stays
// with its number.
func words(text string) []string {
	var out []string
	for _, w := range strings.Fields(Clean(text)) {
		if strings.HasPrefix(w, "%") && len(out) > 0 {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// Wrap breaks text into lines that fit the terminal: the first begins with
// lead, the others with indent.
func Wrap(lead, indent, text string) string { return wrap(lead, indent, text) }

// gauge fills a month box from below, a hatched gap behind it in winter.
func (t Terminal) gauge(p float64, winter bool) string {
	signs, hatch := []rune(" ▁▂▃▄▅▆▇█"), "░"
	if t.Plain {
		signs, hatch = []rune(".123456789"), "-"
	}
	if p < leastShown {
		signs = []rune("·")
		if t.Plain {
			signs = []rune(".")
		}
	}
	i := int(math.Ceil(p * float64(len(signs)-1)))
	box := string(signs[min(max(i, 0), len(signs)-1)])
	if winter {
		return box + hatch
	}
	return box + " "
}

// leastShown is the chance under which a month box stays empty: one in fifty
// is no reason to walk to a pile.
const leastShown = 0.02

// gaugeKey explains the boxes.
func (t Terminal) gaugeKey() string {
	if t.Plain {
		return ". hardly, 1 to 9: years in 10 rounded up, - behind it: winter, no growth"
	}
	return "· hardly, ▁ seldom, ▄ half the years, █ nearly every year, ░ winter, no growth"
}

// inTen says a chance the way growers do. Draws can show neither that a thing
// is certain nor that it is impossible, so the ends are bounds.
func inTen(p float64) string {
	switch {
	case math.IsNaN(p):
		return "?"
	case p <= 0:
		return "0 in 10"
	case p < 0.05:
		return "<1 in 10"
	case p > 0.95:
		return ">9 in 10"
	}
	return fmt.Sprintf("%.0f in 10", math.Max(1, math.Min(9, p*10)))
}

// shortMonth is "Sep 2026", or a dash for a date not reached.
func shortMonth(d yard.Date) string {
	if d == 0 {
		return "–"
	}
	return d.Time().Format("Jan 2006")
}

// shortDay is "Sat 9 Jan 2027", or a dash for a date not reached.
func shortDay(d yard.Date) string {
	if d == 0 {
		return "–"
	}
	return d.Time().Format("Mon 2 Jan 2006")
}

// early, likely and late in one cell.
func span(p10, p50, p90 yard.Date) string {
	if p10 == 0 && p50 == 0 {
		return "not within sight"
	}
	return shortMonth(p10) + " / " + shortMonth(p50) + " / " + shortMonth(p90)
}

// fresh is a mass of mushrooms without its unit, heavy says which that is.
func (t Terminal) fresh(kg float64) string {
	if t.US {
		kg /= poundKG
	}
	switch {
	case kg < 0.05:
		return "·"
	case kg < 100:
		return fmt.Sprintf("%.1f", kg)
	}
	return fmt.Sprintf("%.0f", kg)
}

func (t Terminal) heavy() string {
	if t.US {
		return "lb"
	}
	return "kg"
}

// dry is a mass of dried mushrooms without its unit, light says which.
func (t Terminal) dry(kg float64) string {
	g := kg * 1000
	if t.US {
		if oz := g / ounceG; oz >= 0.05 {
			return fmt.Sprintf("%.1f", oz)
		}
		return "·"
	}
	if g < 0.5 {
		return "·"
	}
	return fmt.Sprintf("%.0f", g)
}

func (t Terminal) light() string {
	if t.US {
		return "oz"
	}
	return "g"
}

// grams is a small mass with its unit.
func (t Terminal) grams(g float64) string {
	if t.US {
		return fmt.Sprintf("%.1f oz", g/ounceG)
	}
	return fmt.Sprintf("%.0f g", g)
}

// liquid is a volume with its unit.
func (t Terminal) liquid(ml float64) string {
	if t.US {
		return fmt.Sprintf("%.1f fl oz", ml/fluidOunceML)
	}
	return fmt.Sprintf("%.0f ml", ml)
}
