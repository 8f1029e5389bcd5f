package yard

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// divide takes back the end of a piece in which two tables run together because
// the header of the second is missing or broken: the piece then ends before the
// second, and cutting goes on from there. It reports whether there was one.
// FORMAT.md, Entries.
func (c *cutter) divide(p *piece) bool {
	at := seam(p.text)
	if at <= 0 || c.back > mostTries*max(len(c.b), longestTable) {
		return false
	}
	c.back += len(p.text) - at
	c.at, c.line = p.start+at, p.line+bytes.Count(p.text[:at], []byte("\n"))
	c.seam = c.at
	p.text = p.text[:at]
	return true
}

// seam is the offset at which a second table begins in a piece, or -1: where a
// line was meant to be a header, where `written` stands a second time, and
// behind `entry` where a key comes that stands above it, or what is no key.
func seam(text []byte) int {
	var keys []string
	begun, written, behind, open := false, false, -1, ""
	for at, end := 0, 0; at < len(text); at = end {
		end = lineEnd(text, at)
		line := bytes.Trim(text[at:end], " \t\r\n\x00\ufeff")
		inside := open != ""
		open = stringState(text[at:end], open)
		if inside || len(line) == 0 || line[0] == '#' {
			continue
		}
		key := keyOf(line)
		past := slices.Contains(keys, "entry")
		switch {
		case !begun:
		case key == "" && (past || meantAs(line) != ""):
			return at
		case key == "written" && written:
			return at
		case past && slices.Contains(keys, key):
			if behind < 0 {
				behind = at
			}
			return behind
		}
		if past && behind < 0 {
			behind = at
		}
		if behind < 0 && key != "" && len(keys) < mostKeysAbove {
			keys = append(keys, key)
		}
		begun, written = true, written || key == "written"
	}
	return -1
}

// mostKeysAbove is how many keys of one table are compared with those below
// them: twice what any kind of event has.
const mostKeysAbove = 60

var keyForm = regexp.MustCompile(`^([A-Za-z_]+)[ \t]*=`)

// keyOf is the key of a line such as logs = 40, or "".
func keyOf(line []byte) string {
	if m := keyForm.FindSubmatch(line); m != nil {
		return string(m[1])
	}
	return ""
}

var brokenHeader = regexp.MustCompile(`^[^A-Za-z"'=#]*([A-Za-z_]+)[^A-Za-z0-9"'=#]*$`)

// meantAs is the kind of event that a line was meant to be the header of, ""
// where it was not.
func meantAs(line []byte) string {
	m := brokenHeader.FindSubmatch(line)
	if m == nil || !bytes.ContainsAny(line, "[](){}<>") {
		return ""
	}
	word := strings.ToLower(string(m[1]))
	if kindOf(word) != nil {
		return word
	}
	return NearestKind(word)
}

// isHeaderless reports whether a piece is an entry without its header.
func (c *cutter) isHeaderless(p piece) bool {
	return !p.header && (c.seam > 0 && p.start == c.seam || hasWritten.Match(p.text) || hasEntry.Match(p.text))
}

// headerless stands for an entry whose header is missing, broken, or below one
// of its lines. Nothing is taken out of the file for it.
func (c *cutter) headerless(p piece) *Entry {
	skip := 0
	for skip < len(p.text) {
		end := lineEnd(p.text, skip)
		if line := bytes.TrimSpace(p.text[skip:end]); len(line) > 0 && line[0] != '#' {
			break
		}
		skip = end
	}
	p.line += bytes.Count(p.text[:skip], []byte("\n"))
	p.start, p.text = p.start+skip, p.text[skip:]
	say := Problem{File: JournalFile, Line: p.line, Grade: Aside}
	first := bytes.TrimSpace(p.text[:lineEnd(p.text, 0)])
	switch kind, below := meantAs(first), c.headerBelow(p); {
	case keyOf(first) == "" && kind != "":
		say.Text, say.Remedy = shownLine(string(first))+" is not a table header", fmt.Sprintf("write [[%s]]", kind)
	case keyOf(first) == "":
		say.Text = shownLine(string(first)) + " stands where an entry should begin, and is not of the form key = value"
		say.Remedy = "write the header of the entry there, such as [[harvested]]; delete the line if it is nothing, or put # before a remark"
	case below > 0:
		say.Text = fmt.Sprintf("`written` stands above the header of its entry, in line %d", below)
		say.Remedy = "move the line below that header"
	default:
		say.Text = fmt.Sprintf("a header is missing above line %d", p.line)
		say.Remedy = "write it there: " + kindsWith(p.text)
	}
	return brokenEntry(p, []Problem{say})
}

// headerBelow is the line of the header below a piece that is nothing but a
// line `written`, where that entry has none; else 0.
func (c *cutter) headerBelow(p piece) int {
	if len(bytes.TrimSpace(p.text)) == 0 || !hasWritten.Match(p.text) || bytes.Contains(bytes.TrimSpace(p.text), []byte("\n")) || c.at >= len(c.b) {
		return 0
	}
	next := cutter{b: c.b, at: c.at, line: c.line}
	if below, ok := next.next(); ok && below.header && !hasWritten.Match(below.text) {
		return below.line
	}
	return 0
}

// mostKinds is how many kinds are named that a table may be of.
const mostKinds = 4

// kindsWith are the headers under which a table's keys can stand, in words.
func kindsWith(text []byte) string {
	var keys []string
	open := ""
	for line := range bytes.Lines(text) {
		if k := keyOf(bytes.TrimSpace(line)); k != "" && open == "" {
			keys = append(keys, k)
		}
		open = stringState(line, open)
	}
	has := func(name string) bool { return slices.Contains(keys, name) }
	var fit []string
	for _, k := range kinds {
		strange := slices.ContainsFunc(keys, func(name string) bool { return !slices.Contains(k.known, name) })
		lacks := slices.ContainsFunc(k.Keys, func(key Key) bool { return key.Required && !has(key.Name) })
		if !strange && !lacks && k != &correctedKind {
			fit = append(fit, "[["+k.Name+"]]")
		}
	}
	switch n := len(fit); {
	case has("replaces"):
		return "[[corrected]]"
	case n == 0, n > mostKinds:
		return "what happened in two brackets, such as [[harvested]]"
	case n == 1:
		return fit[0]
	default:
		return strings.Join(fit[:n-1], ", ") + " or " + fit[n-1] + ", whichever it was"
	}
}
