package yard

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// slipIn recognises what people write who have never seen TOML, in a line that
// cannot be read, and says how it is written; nil for anything else.
func slipIn(line string) error {
	for _, find := range []func(string) error{curlyQuotes, halfHeader, behindHeader, otherDay, twoKeys} {
		if err := find(line); err != nil {
			return err
		}
	}
	return nil
}

var straightened = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`, "‟", `"`, "«", `"`, "»", `"`, "‘", `"`, "’", `"`, "‚", `"`)

// curlyQuotes are those that a word processor makes of straight ones.
func curlyQuotes(line string) error {
	if right := straightened.Replace(line); right != line && !strings.ContainsAny(line, `"'`) {
		return mistake{shownLine(line) + ": curly quotes begin and end no text", "retype them as straight ones: " + clippedName(right)}
	}
	return nil
}

// halfHeader is a header that lacks a bracket.
func halfHeader(line string) error {
	if kind := meantAs([]byte(line)); kind != "" {
		return mistake{shownLine(line) + " is not a table header", fmt.Sprintf("write [[%s]]", clippedName(kind))}
	}
	return nil
}

var headerAndMore = regexp.MustCompile(`^(\[\[?[ \t]*[A-Za-z_.]+[ \t]*\]\]?)[ \t]*([^#\] \t].*)$`)

// behindHeader is a key on the line of a header.
func behindHeader(line string) error {
	if m := headerAndMore.FindStringSubmatch(line); m != nil {
		if keyOf([]byte(m[2])) == "" {
			return mistake{"something stands behind the header " + shownLine(m[1]), "put # before " + shownLine(m[2]) + ", or write it below the header, as note = " + quote(clippedName(m[2]))}
		}
		return mistake{"something stands behind the header " + shownLine(m[1]), "begin a new line before " + shownLine(m[2])}
	}
	return nil
}

var (
	yearLastDay  = regexp.MustCompile(`=[ \t]*["']?(\d{1,2})[./-](\d{1,2})[./-](\d{4})\b`)
	yearFirstDay = regexp.MustCompile(`=[ \t]*["']?(\d{4})[./](\d{1,2})[./](\d{1,2})\b`)
)

// otherDay is a day in another order or with other signs between.
func otherDay(line string) error {
	m := yearFirstDay.FindStringSubmatch(line)
	if m == nil {
		l := yearLastDay.FindStringSubmatch(line)
		if l == nil {
			return nil
		}
		m = []string{l[0], l[3], l[2], l[1]}
	}
	y, _ := strconv.Atoi(m[1])
	a, _ := strconv.Atoi(m[2])
	b, _ := strconv.Atoi(m[3])
	var ways []string
	for _, d := range [][2]int{{a, b}, {b, a}} {
		day := fmt.Sprintf("%04d-%02d-%02d", y, d[0], d[1])
		if _, err := ParseDate(day); err == nil && (len(ways) == 0 || ways[0] != day && !yearFirstDay.MatchString(line)) {
			ways = append(ways, day)
		}
	}
	remedy := "write year, month and day, such as 2026-04-12"
	if len(ways) > 0 {
		remedy = "write year, month and day: " + strings.Join(ways, ", or ")
	}
	return mistake{shownLine(line) + ": a day is not written so", remedy}
}

var keyAndMore = regexp.MustCompile(`^([A-Za-z_]+[ \t]*=[ \t]*(?:"[^"]*"|'[^']*'|\d[0-9T:.-]*|true|false))[ \t]*[,;]?[ \t]*([A-Za-z_]+[ \t]*=.*)$`)

// twoKeys is a line that lost its end, so that the next one runs on in it.
func twoKeys(line string) error {
	if m := keyAndMore.FindStringSubmatch(line); m != nil {
		return mistake{shownLine(line) + ": two keys stand on one line", "begin a new line before " + shownLine(m[2])}
	}
	return nil
}

var oneBareValue = regexp.MustCompile(`^([A-Za-z_]+)[ \t]*=[ \t]*([^"'#\[\]{}\\=]*[^"'#\[\]{}\\= \t])$`)

// inQuotes is the way out of a value that can only be a text.
func inQuotes(line string) string {
	if m := oneBareValue.FindStringSubmatch(line); m != nil && len(m[2]) <= 60 {
		return fmt.Sprintf("put text, and amounts with their unit, in quotes: %s = %s", m[1], quote(m[2]))
	}
	return `put text, and amounts with their unit, in quotes: fresh = "2.4 kg"`
}

var (
	dayAndClock = regexp.MustCompile(`(\d{4}-\d{1,2}-\d{1,2})[T ](\d[0-9:.]*)`)
	shortDay    = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
)

// wrongDay says what is wrong with a day, or with the time of day behind it.
func wrongDay(msg, line string) error {
	where := msg
	if !dayInText.MatchString(where) {
		where = line
	}
	day := dayInText.FindString(where)
	if day == "" {
		return mistake{shownLine(line) + " is not a day of the calendar", "write a day that exists, such as 2026-04-12"}
	}
	if m := dayAndClock.FindStringSubmatch(where); m != nil {
		if _, err := ParseDate(m[1]); err == nil && len(m[1]) == len("2026-04-12") {
			return mistake{clippedName(m[2]) + " is no time of day", "write hours, minutes and seconds in two digits each, such as " + m[1] + "T18:02:00"}
		}
	}
	m := shortDay.FindStringSubmatch(day)
	y, _ := strconv.Atoi(m[1])
	mo, _ := strconv.Atoi(m[2])
	d, _ := strconv.Atoi(m[3])
	padded := fmt.Sprintf("%04d-%02d-%02d", y, mo, d)
	if _, err := ParseDate(padded); err == nil && padded != day {
		return mistake{day + " is not written in two digits each for month and day", "write " + padded}
	}
	return mistake{day + " is not a day of the calendar", "write a day that exists, such as 2026-04-12"}
}
