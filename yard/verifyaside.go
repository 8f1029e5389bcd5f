package yard

import (
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
)

// asideNames are the files beside the journal into which the program puts what
// it takes out of one: torn entries, and what somebody added to a demo that is
// written over.
var asideNames = regexp.MustCompile(`^journal-(?:torn-\d{4}-\d{2}-\d{2}(?:-\d+)?|kept-\d+)\.toml$`)

// setAside points at what was set aside and stands in the journal nowhere, so
// that nobody has to remember what was said about it on one day: FORMAT.md,
// Torn entries.
func (f *Folder) setAside() (out []Problem) {
	list, err := fs.ReadDir(f.files, ".")
	if err != nil {
		return nil // told where the journal is read
	}
	var here []asideEntry
	missing, _ := f.Missing() // that the journal cannot be read is told already
	looked := 0
	for _, d := range list {
		if !asideNames.MatchString(d.Name()) {
			continue
		}
		b, err := readBounded(f.files, d.Name(), largestCopy)
		if err != nil {
			if p := unreadable(d.Name(), err); !errors.Is(err, fs.ErrNotExist) {
				p.Grade = Odd
				out = append(out, p)
			}
			continue
		}
		if looked++; looked > mostCopies {
			return out
		}
		if here == nil {
			for _, e := range f.journal().entries {
				here = append(here, asideOf(e.Text))
			}
		}
		out = append(out, asideIn(d.Name(), b, here, missing)...)
	}
	return out
}

// asideEntry is what can be read of an entry that was set aside.
type asideEntry struct {
	kind  string
	lines []string // its keys with their values, without spaces around
	whole bool
}

// asideOf reads an entry that was set aside line by line: the last line may
// have been cut.
func asideOf(text string) asideEntry {
	text = strings.NewReplacer("\x00", "", "\r", "").Replace(text)
	x := asideEntry{whole: wholeEntry.MatchString(text)}
	text = strings.TrimLeft(text, "\ufeff \t\n")
	for n := 0; text != ""; n++ {
		line, rest, ended := strings.Cut(text, "\n")
		text = rest
		if n == 0 {
			x.kind = strings.Trim(line, "[] \t")
			continue
		}
		key, value, found := strings.Cut(line, "=")
		if found && (ended || x.whole) {
			x.lines = append(x.lines, strings.TrimSpace(key)+" = "+strings.TrimSpace(value))
		}
	}
	return x
}

// in reports whether another entry says all that can be read of this one.
func (x asideEntry) in(other asideEntry) bool {
	return x.kind == other.kind && !slices.ContainsFunc(x.lines, func(l string) bool { return !slices.Contains(other.lines, l) })
}

// says names the entry in a message.
func (x asideEntry) says() string {
	if len(x.lines) == 0 {
		return "the beginning of an entry and no more"
	}
	return fmt.Sprintf("[[%s]] with %s", clippedName(x.kind), shownLine(strings.Join(x.lines, ", ")))
}

// asideIn points at the entries of one such file that are nowhere else.
func asideIn(name string, b []byte, here []asideEntry, missing []Missed) []Problem {
	c := &cutter{b: b, line: 1}
	var lost []asideEntry
	line := 0
	for {
		p, ok := c.next()
		if !ok {
			break
		}
		x := asideOf(string(p.text))
		if !p.header || len(x.lines) > 0 && slices.ContainsFunc(here, x.in) {
			continue
		}
		if len(lost) == 0 {
			line = p.line
		}
		lost = append(lost, x)
	}
	if len(lost) == 0 {
		return nil
	}
	first := lost[0]
	p := Problem{File: name, Line: line, Grade: Odd, Text: "what was set aside here is not in the journal: " + first.says()}
	if n := len(lost) - 1; n > 0 {
		p.Text += fmt.Sprintf(", and %d more", n)
	}
	switch {
	case !slices.ContainsFunc(lost, func(x asideEntry) bool { return !x.whole }):
		p.Remedy = "`hodaba merge " + name + "` puts it back; if it is not missed, delete the file"
	case len(first.lines) == 0:
		p.Remedy = "nothing can be made of it: record what happened then if it is not in the journal, and delete the file"
	case slices.ContainsFunc(missing, func(m Missed) bool { return m.Text != "" && first.in(asideOf(m.Text)) }):
		p.Remedy = "`hodaba put-back` has it whole; record nothing again. Then delete the file"
	default:
		p.Remedy = "record it again if it is missed, then delete the file"
	}
	return []Problem{p}
}

// notTwice says of an entry that was cut short and is missing, too, only that it
// can be put back: recorded again and put back it would stand there twice.
func (f *Folder) notTwice(problems []Problem) []Problem {
	var missing []Missed
	asked := false
	for i := range problems {
		p := &problems[i]
		text := f.cutText(*p)
		if text == "" {
			continue
		}
		if !asked {
			missing, _ = f.Missing() // that the journal cannot be read is told already
			asked = true
		}
		x := asideOf(text)
		at := slices.IndexFunc(missing, func(m Missed) bool { return m.Text != "" && x.isDated() && x.in(asideOf(m.Text)) })
		if at >= 0 {
			p.Remedy = "`hodaba put-back " + missing[at].ID + "` brings it back whole; record nothing again"
		}
	}
	return problems
}

// isDated reports whether an entry says when it was written: by that, one is
// told from another.
func (x asideEntry) isDated() bool {
	return slices.ContainsFunc(x.lines, func(l string) bool { return strings.HasPrefix(l, "written = ") })
}

var wentInto = regexp.MustCompile(`what there was of it is in (journal-torn-[0-9-]+\.toml)$`)

// cutText is what there is of the entry of which a problem says that it was cut
// short; "" for any other problem.
func (f *Folder) cutText(p Problem) string {
	if m := wentInto.FindStringSubmatch(p.Text); m != nil {
		b, _ := readBounded(f.files, m[1], largestCopy)
		return string(b)
	}
	if j := f.journal(); p.Text == tornSays && j.torn >= 0 {
		b, _ := f.bytesOf(JournalFile)
		return string(b[min(j.torn, len(b)):])
	}
	return ""
}
