package yard

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"hodaba/data"
)

// The files of a yard folder.
const (
	YardFile    = "yard.toml"
	RecipesFile = "recipes.toml"
	JournalFile = "journal.toml"
	ownFolder   = ".hodaba"
)

// journal is a journal that was read: every entry that could be told apart,
// in the order of the file. Those that cannot be used have no Event.
type journal struct {
	entries  []*Entry
	problems []Problem // of no entry
	torn     int       // offset of a torn last table, or -1
	tornText string    // that table
	size     int
	recorded string // the entry that was recorded last, where that is known

	nameless map[string]*Entry // those that stand in it without their identifier, where that was looked for
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// readJournal reads everything that can be read, table by table.
func readJournal(b []byte, terms *Terms) *journal { return readJournalAfter(b, terms, "") }

// readJournalAfter reads a journal of which it is known which entry was
// recorded last: that one was whole, and is not torn where an editor has taken
// the last newline away.
func readJournalAfter(b []byte, terms *Terms, recorded string) *journal {
	if s := sidesOf(b); s != nil {
		return readMarked(s, len(b), terms, recorded)
	}
	return readSide(b, terms, recorded)
}

// readSide reads a journal without marks of version control.
func readSide(b []byte, terms *Terms, recorded string) *journal {
	j := &journal{torn: -1, size: len(b), recorded: recorded}
	if err := notLines(b); err != nil {
		text, remedy := parts(err)
		j.problems = append(j.problems, Problem{File: JournalFile, Line: 1, Grade: Broken, Text: text, Remedy: remedy})
		return j
	}
	c := &cutter{b: b, line: 1}
	if bytes.HasPrefix(b, byteOrderMark) {
		c.at = len(byteOrderMark)
	}
	for {
		p, ok := c.next()
		if !ok {
			break
		}
		j.read(c, p, terms)
	}
	j.tellApart()
	return j
}

// notText recognises a file that is no UTF-8 text at all.
func notText(b []byte) error {
	if bytes.HasPrefix(b, []byte("\xff\xfe")) || bytes.HasPrefix(b, []byte("\xfe\xff")) {
		return mistake{"the file is saved as UTF-16", "open it in an editor and save it as UTF-8"}
	}
	return nil
}

// notLines recognises a file that is no UTF-8 text, or none of lines as TOML
// has them: a carriage return alone ends none, and a remark in the first would
// hide all that follows.
func notLines(b []byte) error {
	if err := notText(b); err != nil {
		return err
	}
	if i := bytes.IndexAny(b, "\r\n"); i >= 0 && b[i] == '\r' && bytes.IndexByte(b[i:], '\n') < 0 {
		return mistake{"the lines of the file end in a carriage return alone", "open it in an editor and save it with line ends of Unix or Windows (LF or CRLF)"}
	}
	return nil
}

// read reads one piece.
func (j *journal) read(c *cutter, p piece, terms *Terms) {
	if len(bytes.TrimSpace(p.text)) == 0 {
		return
	}
	t, problems, err := newTable(JournalFile, p, terms)
	if err != nil && c.shorten(&p) {
		t, problems, err = newTable(JournalFile, p, terms)
	}
	if err != nil && c.divide(&p) {
		t, problems, err = newTable(JournalFile, p, terms)
	}
	if c.at >= len(c.b) && p.header && isTorn(p.text) && !j.wasWhole(p.text) {
		j.torn, j.tornText = p.start, string(p.text)
		j.problems = append(j.problems, Problem{File: JournalFile, Line: p.line, Grade: Aside,
			Text: tornSays,
			Remedy: "record it again; the next `record` moves what there is of it to " + tornName("…") +
				"; if it was typed by hand, delete its line `written`, and it counts"})
		return
	}
	switch {
	case c.isHeaderless(p):
		j.add(c.headerless(p))
	case err != nil && !p.header:
		j.problems = append(j.problems, problems...)
	case err != nil:
		j.add(brokenEntry(p, problems))
	case !p.header:
		j.problems = append(j.problems, t.problems...)
		for k := range t.vals {
			j.problems = append(j.problems, Problem{File: JournalFile, Line: t.lineOf(k), Grade: Aside,
				Text: k + " stands before the first entry", Remedy: "put it under a header such as [[harvested]]"})
		}
	default:
		j.add(t.entry())
	}
}

func (j *journal) add(e *Entry) {
	e.order = len(j.entries)
	j.entries = append(j.entries, e)
}

// What is said of an entry that was cut short, and of one that may be.
const (
	tornSays     = "the last entry was cut short while it was written, and is left out"
	namelessSays = "the entry has `written` but not its `entry`: it may have been cut short"
)

func tornName(day string) string { return "journal-torn-" + day + ".toml" }

var (
	tornStart  = regexp.MustCompile(`^\s*\[\[?[a-z_]*\]?\]?\s*(w|wr|wri|writ|writt|writte|written\s*(=\s*[0-9T:-]*)?)?$`)
	hasWritten = regexp.MustCompile(`(?m)^written\s*=`)
	hasEntry   = regexp.MustCompile(`(?m)^[ \t]*entry[ \t]*=[ \t]*["']([^"'\n]*)["']`)
	wholeEntry = regexp.MustCompile(`(?m)^[ \t]*entry[ \t]*=[ \t]*["'][^"'\n]*["'][ \t]*(#.*)?$`)
)

// wasWhole reports whether a table is the entry that was recorded last.
func (j *journal) wasWhole(text []byte) bool {
	m := hasEntry.FindSubmatch(text)
	return m != nil && j.recorded != "" && string(m[1]) == j.recorded
}

// isTorn reports whether the last table of a journal was cut short while the
// program wrote it: the program writes `written` first and `entry` last
// (FORMAT.md, Torn entries). Where only the newline behind the closing quote is
// missing, nothing of the entry is. What has no header is no whole entry either.
func isTorn(text []byte) bool {
	text = bytes.ReplaceAll(text, []byte("\r"), nil)
	if !bytes.HasPrefix(bytes.TrimLeft(text, " \t\n"), []byte("[")) {
		return true
	}
	body := bytes.TrimRight(text, "\x00")
	if len(body) < len(text) && !wholeEntry.Match(body) {
		return hasWritten.Match(body) || tornStart.Match(body)
	}
	if hasWritten.Match(body) {
		return !wholeEntry.Match(body) && !(hasEntry.Match(body) && bytes.HasSuffix(body, []byte("\n")))
	}
	return tornStart.Match(body)
}

// brokenEntry stands for a table that cannot be read, so that a correction
// can replace it.
func brokenEntry(p piece, problems []Problem) *Entry {
	text := trimTail(strings.ToValidUTF8(strings.ReplaceAll(string(p.text), "\r\n", "\n"), "�"))
	e := &Entry{ID: digestName(text), Line: p.line, Text: text}
	if m := hasEntry.FindStringSubmatch(text); m != nil {
		e.ID = m[1]
	}
	e.keep(problems)
	return e
}

// keep takes over problems found while the entry was read.
func (e *Entry) keep(problems []Problem) {
	for i := range problems {
		problems[i].Entry = e.ID
	}
	e.problems = append(e.problems, problems...)
}

// entry reads a table of the journal. An entry that cannot be used has no
// Event, and its problems say why.
func (t *table) entry() *Entry {
	e := &Entry{Line: t.line, Text: t.text}
	t.open(e)
	e.ID = t.identifier()
	k := kindOf(e.Kind)
	if k == nil {
		t.unknownKind(e.Kind)
	} else {
		t.common(e)
		ev := t.event(k, e)
		if !t.unusable {
			e.Event = ev
		}
	}
	e.keep(t.problems)
	return e
}

// open takes the values out of their header.
func (t *table) open(e *Entry) {
	for name, v := range t.vals {
		e.Kind, t.name = name, name
		switch v := v.(type) {
		case []map[string]any:
			t.vals = v[len(v)-1]
		case map[string]any:
			t.vals = v
			t.say(Odd, "", fmt.Sprintf("[%s] stands in single brackets", clippedName(name)), fmt.Sprintf("write [[%s]]", clippedName(name)))
		}
		return
	}
}

func (t *table) identifier() string {
	v, ok := t.vals["entry"]
	if !ok {
		if _, written := t.vals["written"]; written {
			t.say(Odd, "written", namelessSays,
				"look whether anything is missing, then delete the line `written`")
		}
		return digestName(t.meaning())
	}
	id, ok := v.(string)
	if id = strings.TrimSpace(id); !ok || id == "" {
		t.say(Odd, "entry", "entry: "+shownValue(v)+" is no identifier", `leave the line out, or write one such as "kitchen-118"`)
		return digestName(t.meaning())
	}
	return id
}

func (t *table) unknownKind(name string) {
	t.unusable = true
	remedy := "look the word up: hodaba record --help lists all kinds"
	if near, ok := data.Nearest(name, kindNames()); ok {
		remedy = fmt.Sprintf("did you mean [[%s]]?", near)
	}
	t.say(Aside, "", fmt.Sprintf("[[%s]] is no kind of event", clippedName(name)), remedy)
}

// common reads the keys that every entry may carry.
func (t *table) common(e *Entry) {
	for i, to := range []any{nil, &e.By, &e.Hours, &e.People, &e.Note, &e.Place} { // in the order of commonKeys
		k := &commonKeys[i]
		if v, ok := t.vals[k.Name]; ok && to != nil && !t.owns(e.Kind, k.Name) {
			if err := t.put(k, v, to); err != nil {
				t.fail(k.Name, err)
			}
		}
	}
	if v, ok := t.vals["written"]; ok {
		m, err := momentOf(v)
		if err != nil {
			t.fail("written", err)
		}
		e.Written = m
	}
	t.day(e)
}

// owns reports whether a kind, or the one that a correction is of, has a key
// of its own by the name of a common one: the hours that water ran are no
// hours of work.
func (t *table) owns(kindName, key string) bool {
	if right, ok := t.vals["kind"].(string); ok && kindName == correctedKind.Name {
		kindName = right
	}
	for _, k := range KeysOf(kindName) {
		if k.Name == key {
			return !k.Common
		}
	}
	return false
}

// day reads `on`. What happened cannot lie after the day on which it was
// written, nor after today; a whole entry in the future is set aside.
func (t *table) day(e *Entry) {
	v, ok := t.vals["on"]
	if !ok {
		if void, _ := t.vals["void"].(bool); e.Kind == "corrected" && void {
			return
		}
		t.unusable = true
		t.say(Aside, "", "the day is missing", "add a line such as on = 2026-04-12")
		return
	}
	if err := e.On.UnmarshalTOML(v); err != nil {
		t.unusable = true
		t.fail("on", err)
		return
	}
	today := t.terms.Today
	if today == 0 {
		return
	}
	if e.On.From > today {
		t.unusable = true
		t.say(Aside, "on", fmt.Sprintf("%s lies in the future: today is %s", e.On, today), "write the day on which it happened")
		return
	}
	e.On.To = max(e.On.From, min(e.On.To, today))
	if w := e.Written.Day(); w >= e.On.From {
		e.On.To = min(e.On.To, w)
	}
}

// event reads the keys of a kind into its event.
func (t *table) event(k *kind, e *Entry) Event {
	ev := k.make()
	if c, ok := ev.(*Corrected); ok {
		return t.corrected(k, c, e)
	}
	t.values(k, ev)
	t.unknown(k.known)
	return ev
}

// values reads the own keys of a kind, and points at required ones that are
// missing.
func (t *table) values(k *kind, ev readable) {
	before := len(t.problems)
	for i, to := range ev.fields() {
		key := &k.Keys[i]
		v, ok := t.vals[key.Name]
		if !ok && key.Required {
			t.unusable = true
			t.say(Aside, "", key.Name+" is missing", fmt.Sprintf("add a line such as %s = %s", key.Name, example(*key)))
		}
		if !ok {
			continue
		}
		if err := t.put(key, v, to); err != nil {
			t.unusable = t.unusable || key.Required
			t.fail(key.Name, err)
		}
	}
	if c, ok := ev.(checker); ok && !t.unusable && len(t.problems) == before {
		c.check(t)
	}
}

// example is a key's example as TOML.
func example(k Key) string {
	lit, err := literal(k, k.Example, 0)
	if err != nil {
		return quote(k.Example)
	}
	return lit
}

// tellApart gives every entry a name of its own. The same table twice is one
// entry, as when folders were merged; two tables under one name are two.
func (j *journal) tellApart() {
	nameByText(j.entries)
	first := make(map[string]*Entry, len(j.entries))
	twins := map[string][]*Entry{} // of identifiers that name several
	names := map[string]int{}      // by name: the next number to try
	for _, e := range j.entries {
		e.alone()
	}
	twice := map[*Entry]bool{}
	for _, e := range plainFirst(j.entries) {
		other, taken := first[e.ID]
		if !taken {
			first[e.ID] = e
			continue
		}
		for _, t := range twins[e.ID] {
			if t.Text == e.Text {
				other = t
			}
		}
		if e.Text == other.Text && e.Written != "" {
			j.problems = append(j.problems, Problem{File: JournalFile, Line: e.Line, Entry: e.ID, Grade: Aside,
				Text:   fmt.Sprintf("this entry stands twice, word for word (first in line %d), and counts once", other.Line),
				Remedy: "delete one of the two"})
			twice[e] = true
			continue
		}
		switch {
		case other.Event == nil && e.Event != nil && e.Written != "" && twins[e.ID] == nil && wroteAt(other, e.Written):
			first[e.ID] = e
			j.putRight(other, e, first, names)
			continue
		case e.Text == other.Text || !hasEntry.MatchString(e.Text):
			j.rename(e, other, first, names)
			continue
		}
		if twins[e.ID] == nil {
			twins[e.ID] = []*Entry{first[e.ID]}
		}
		twins[e.ID] = append(twins[e.ID], e)
	}
	nameTwins(twins, first)
	j.entries = slices.DeleteFunc(j.entries, func(e *Entry) bool { return twice[e] })
	for i, e := range j.entries {
		e.order = i
	}
	j.keepTurns()
}

// keepTurns notes when each entry was written, for the order among them. Of
// one writer the numbers tell the order, whatever the clock said: an entry
// written while the clock was set back comes right behind the one before it
// (FORMAT.md, Order of entries).
func (j *journal) keepTurns() {
	type turn struct {
		e *Entry
		n int
	}
	byWriter := map[string][]turn{}
	for _, e := range j.entries {
		e.turn = string(e.Written)
		e.writer, e.number, _ = numbered(e.identifier())
		if w, n, ok := numbered(e.ID); ok && e.Written != "" {
			e.writer, e.number = w, n
			byWriter[w] = append(byWriter[w], turn{e, n})
		}
	}
	for _, turns := range byWriter {
		byNumber := func(a, b turn) int { return cmp.Or(cmp.Compare(a.n, b.n), cmp.Compare(a.e.Text, b.e.Text)) }
		if !slices.IsSortedFunc(turns, byNumber) {
			slices.SortStableFunc(turns, byNumber)
		}
		late, behind := "", 0
		for _, t := range turns {
			if string(t.e.Written) >= late {
				late, behind = string(t.e.Written), 0
				continue
			}
			behind++
			t.e.turn = fmt.Sprintf("%s+%09d", late, behind)
		}
	}
}

// rename names an entry by hand that says the same as another, or has its name by
// chance.
func (j *journal) rename(e, other *Entry, first map[string]*Entry, names map[string]int) {
	text, remedy := fmt.Sprintf("this entry says the same as line %d, and both count", other.Line), "delete one of them if it happened once"
	anotherName(e, other, first, names)
	if !hasEntry.MatchString(e.Text) && e.meaning() != other.meaning() { // digests are short
		text = fmt.Sprintf("by chance this entry by hand would have the name of line %d, and is called %s instead; both count", other.Line, e.ID)
		remedy = "nothing need be done; to name it yourself, add a line such as entry = \"hand-1\""
	}
	e.keep([]Problem{{File: JournalFile, Line: e.Line, Grade: Odd, Text: text, Remedy: remedy}})
}

// putRight is for an entry that cannot be read, where the same one stands once
// more and can be: that one counts, under the identifier of both.
func (j *journal) putRight(broken, e *Entry, first map[string]*Entry, names map[string]int) {
	anotherName(broken, e, first, names)
	broken.problems = nil
	broken.keep([]Problem{{File: JournalFile, Line: broken.Line, Grade: Odd,
		Text:   fmt.Sprintf("this cannot be read; entry %s stands in line %d once more, as it was recorded, and counts", e.ID, e.Line),
		Remedy: "delete the table here"}})
}

// anotherName gives an entry a name that no other has.
func anotherName(e, other *Entry, first map[string]*Entry, names map[string]int) {
	for n := max(names[other.ID], 2); ; n++ {
		name := digestName(fmt.Sprintf("%s#%d", other.ID, n))
		if _, taken := first[name]; !taken {
			e.ID, names[other.ID] = name, n+1
			break
		}
	}
	first[e.ID] = e
}

// all returns every problem of reading, leaving out those of entries that
// were replaced since.
func (j *journal) all() []Problem {
	out := append([]Problem(nil), j.problems...)
	for _, e := range j.entries {
		if e.Replaced == nil {
			out = append(out, e.problems...)
			out = append(out, e.sayTwin()...)
		}
	}
	return out
}

// validText reports whether b is text that can go into a journal.
func validText(b string) bool { return utf8.ValidString(b) && !strings.Contains(b, "\x00") }
