package yard

import (
	"bytes"
	"strings"
)

// A piece is one table of a file as it stands there, from its header to the
// line before the next header. The piece before the first header has none.
type piece struct {
	text   []byte
	start  int // offset of the first byte
	line   int // of the first byte, counted from 1
	header bool
}

// cutter cuts a file at table headers, line by line, so that each table can
// be read alone: a mistake in one then hides no other.
type cutter struct {
	b    []byte
	at   int
	line int
	back int // how many bytes were cut in vain so far
	seam int // offset at which an entry without a header was told apart last
}

// isHeader reports whether a line can only be a table header, rightly written
// or not: no value of an array begins with a bare word, except four.
func isHeader(line []byte) bool {
	rest := bytes.TrimLeft(line, " \t")
	if len(rest) == 0 || rest[0] != '[' {
		return false
	}
	rest = bytes.TrimLeft(bytes.TrimPrefix(rest[1:], []byte("[")), " \t")
	if len(rest) == 0 || rest[0] == 0 {
		return true // the file ends here, with a header just begun
	}
	if !isLetter(rest[0]) {
		return false
	}
	word := rest
	if end := bytes.IndexFunc(rest, func(r rune) bool { return r > 127 || !isLetter(byte(r)) }); end >= 0 {
		word = rest[:end]
	}
	switch string(word) {
	case "true", "false", "inf", "nan":
		return false
	}
	return true
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }

// next returns the next piece; ok is false at the end.
func (c *cutter) next() (p piece, ok bool) {
	if c.at >= len(c.b) {
		return piece{}, false
	}
	p = piece{start: c.at, line: c.line}
	strict := c.back > mostTries*max(len(c.b), longestTable)
	open := ""
	for i := 0; c.at < len(c.b); i++ {
		line := c.b[c.at:lineEnd(c.b, c.at)]
		if (open == "" || strict) && isHeader(line) {
			if i > 0 {
				break
			}
			p.header = true
		}
		open = stringState(line, open)
		c.at += len(line)
		c.line++
	}
	p.text = c.b[p.start:c.at]
	return p, true
}

// shorten takes back the end of a piece that turned out to be broken: the
// piece then ends before the first line that looks like a header, even inside
// what seemed to be a string, and cutting goes on from there. It reports
// whether there was such a line.
func (c *cutter) shorten(p *piece) bool {
	for at, n := 0, 0; at < len(p.text); n++ {
		end := lineEnd(p.text, at)
		if n > 0 && isHeader(p.text[at:end]) {
			c.back += len(p.text) - at
			c.at, c.line = p.start+at, p.line+n
			p.text = p.text[:at]
			return true
		}
		at = end
	}
	return false
}

// lineEnd is the offset after the newline of the line that begins at at.
func lineEnd(b []byte, at int) int {
	if i := bytes.IndexByte(b[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(b)
}

// stringState follows multi-line strings over a line: open is `"""` or `”'`
// inside one, "" outside; the state after the line is returned.
func stringState(line []byte, open string) string {
	if !bytes.Contains(line, []byte(`"""`)) && !bytes.Contains(line, []byte(`'''`)) {
		return open
	}
	for s := string(line); s != ""; {
		switch {
		case open != "":
			s, open = afterClose(s, open)
		case strings.HasPrefix(s, `"""`), strings.HasPrefix(s, `'''`):
			open, s = s[:3], s[3:]
		case s[0] == '#':
			return ""
		case s[0] == '"':
			s = afterQuote(s[1:])
		case s[0] == '\'':
			_, s, _ = strings.Cut(s[1:], "'")
		default:
			s = s[1:]
		}
	}
	return open
}

// afterClose skips to behind the end of a multi-line string. Up to two more
// quotes may stand before the closing three.
func afterClose(s, open string) (rest, state string) {
	for i := 0; i+3 <= len(s); i++ {
		if open == `"""` && s[i] == '\\' {
			i++
			continue
		}
		if s[i:i+3] == open {
			rest = s[i+3:]
			for n := 0; n < 2 && rest != "" && rest[0] == open[0]; n++ {
				rest = rest[1:]
			}
			return rest, ""
		}
	}
	return "", open
}

// afterQuote skips to behind the end of a one-line basic string.
func afterQuote(s string) string {
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '\\':
			i++
		case '"':
			return s[i+1:]
		}
	}
	return ""
}
