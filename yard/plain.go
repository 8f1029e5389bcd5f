package yard

import (
	"strconv"
	"strings"
)

// plainTable reads a table as the program itself writes it: bare keys, and
// values that are text without backslashes, plain numbers, days, moments,
// true or false, one a line. ok is false for everything else, which the
// library reads; what both can read, both read alike. Nearly all of a long
// journal is plain, and this is several times as quick.
func plainTable(text string) (vals map[string]any, ok bool) {
	head, body, _ := strings.Cut(text, "\n")
	name, found := strings.CutPrefix(head, "[[")
	name, closed := strings.CutSuffix(strings.TrimRight(name, " \t"), "]]")
	if !found || !closed || !isBare(name) || !printable(text) {
		return nil, false
	}
	inner := make(map[string]any, 8)
	for body != "" {
		var l string
		l, body, _ = strings.Cut(body, "\n")
		l = strings.Trim(l, " \t")
		if l == "" || l[0] == '#' {
			continue
		}
		key, value, found := strings.Cut(l, "=")
		key = strings.TrimRight(key, " \t")
		if _, twice := inner[key]; !found || twice || !isBare(key) {
			return nil, false
		}
		if inner[key], ok = plainValue(strings.TrimLeft(value, " \t")); !ok {
			return nil, false
		}
	}
	return map[string]any{name: []map[string]any{inner}}, true
}

// isBare reports whether a key needs no quotes.
func isBare(s string) bool {
	for i := range len(s) {
		if c := s[i]; !isLetter(c) && c != '-' && (c < '0' || c > '9') {
			return false
		}
	}
	return s != ""
}

// printable reports whether no control character but tab and newline stands
// in a text.
func printable(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' && c != '\t' && c != '\n' || c == 0x7f {
			return false
		}
	}
	return true
}

// plainValue reads one value to the end of its line.
func plainValue(s string) (v any, ok bool) {
	if s == "" {
		return nil, false
	}
	if s[0] == '"' {
		in, rest, closed := strings.Cut(s[1:], `"`)
		if !closed || strings.IndexByte(in, '\\') >= 0 || !isRemark(rest) {
			return nil, false
		}
		return in, true
	}
	end := strings.IndexAny(s, " \t#")
	if end < 0 {
		end = len(s)
	}
	word, rest := s[:end], s[end:]
	if !isRemark(rest) {
		return nil, false
	}
	return plainWord(word)
}

func isRemark(s string) bool {
	s = strings.TrimLeft(s, " \t")
	return s == "" || s[0] == '#'
}

// plainWord reads a value without quotes.
func plainWord(w string) (v any, ok bool) {
	switch {
	case w == "true":
		return true, true
	case w == "false":
		return false, true
	case w == "" || w[0] < '0' || w[0] > '9':
		return nil, false
	case len(w) == len("2026-04-12") && w[4] == '-':
		d, ok := plainDay(w)
		return d, ok
	case len(w) == len("2026-04-12T18:02:00") && w[10] == 'T':
		_, isDay := plainDay(w[:10])
		return Moment(w), isDay && plainClock(w[11:])
	case len(w) > 1 && w[0] == '0' && w[1] != '.', len(w) > 15:
		return nil, false
	}
	whole, fraction, isFloat := strings.Cut(w, ".")
	if !allDigits(whole) || isFloat && !allDigits(fraction) {
		return nil, false
	}
	if isFloat {
		f, err := strconv.ParseFloat(w, 64)
		return f, err == nil
	}
	n, err := strconv.ParseInt(w, 10, 64)
	return n, err == nil
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// plainDay reads an ISO 8601 day that exists.
func plainDay(s string) (Date, bool) {
	if s[4] != '-' || s[7] != '-' || !allDigits(s[:4]) || !allDigits(s[5:7]) || !allDigits(s[8:]) {
		return 0, false
	}
	d, err := ParseDate(s)
	return d, err == nil && d != 0
}

// plainClock reads a time of day, 18:02:00.
func plainClock(s string) bool {
	return s[2] == ':' && s[5] == ':' && allDigits(s[:2]) && allDigits(s[3:5]) && allDigits(s[6:]) &&
		s[:2] < "24" && s[3:5] < "60" && s[6:] < "60"
}
