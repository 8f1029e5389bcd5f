package yard

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"hodaba/data"
)

// Terms is what words and measures are read against.
type Terms struct {
	Data     *data.Set
	Own      []OwnSpecies
	Measures map[string]Quantity
	Today    Date // the real today; what lies after it has not happened
}

// table is one TOML table while it is read: its values, where it stands, and
// what was found wrong with it.
type table struct {
	file     string
	name     string // of the header, "site.normals"
	text     string // without carriage returns and what trails after the last key
	line     int
	vals     map[string]any
	terms    *Terms
	problems []Problem
	unusable bool
}

// decode reads one piece of a file. The error is nil or a mistake with its
// line in the piece.
func decode(text string) (vals map[string]any, line int, err error) {
	defer func() {
		if r := recover(); r != nil { // a fault of the library must not stop the reading
			err, line = mistake{"this table cannot be read", "write it anew"}, 1
		}
	}()
	if len(text) > longestTable {
		return nil, 1, mistake{"this table is too long to be one entry", "look for a quote that is not closed"}
	}
	if vals, ok := plainTable(text); ok {
		return vals, 0, nil
	}
	if deepest, line := nesting(text); deepest > deepestNesting {
		return nil, line, mistake{"more brackets, braces or dots stand in one another here than anything needs, and the table is not read",
			"look for brackets that are not closed, or delete the line"}
	}
	_, err = toml.Decode(text, &vals)
	if err == nil {
		return vals, 0, nil
	}
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return nil, 1, mistake{"this table cannot be read", err.Error()}
	}
	line = pe.Position.Line
	if strings.Contains(pe.Message, "table name") || strings.Contains(pe.Message, "table array") {
		line = 1 // an open bracket is noticed on the line after it
	}
	if (strings.Contains(pe.Message, "EOF") || lineOf(text, line) == "") && pe.LastKey != "" {
		if n := keyLine(text, lastPart(pe.LastKey)); n > 0 {
			line = n
		}
	}
	return nil, max(1, line), plainly(pe, lineOf(text, line))
}

// shownLine is a line of a file as it stands there, shortened so that a message
// stays a line.
func shownLine(line string) string {
	const most = 60
	if r := []rune(line); len(r) > most {
		line = string(r[:most]) + "…"
	}
	return "`" + line + "`"
}

func lastPart(key string) string { return key[strings.LastIndexByte(key, '.')+1:] }

// lineOf is the n-th line of a text, counted from 1.
func lineOf(text string, n int) string {
	for ; n > 1; n-- {
		_, text, _ = strings.Cut(text, "\n")
	}
	text, _, _ = strings.Cut(text, "\n")
	return strings.TrimSpace(text)
}

var dayInText = regexp.MustCompile(`\d{4}-\d{1,2}-\d{1,2}`)

// plainly puts the library's message into a grower's words.
func plainly(pe toml.ParseError, line string) error {
	msg := pe.Message
	has := func(parts ...string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(msg, p) })
	}
	switch {
	case has("datetime"):
		if err := otherDay(line); err != nil {
			return err
		}
		return wrongDay(msg, line)
	case has("already been defined", "already created"):
		return mistake{shownLine(line) + ": this key stands twice in the table", "keep one of the two lines; or, if two entries run together here, write the header that is missing between them"}
	case has("newlines", "expected '\"'", `expected '"""'`, `expected "'"`, `expected "'''"`):
		return mistake{"a quote is opened and not closed", `close it on the same line, as in note = "like this"`}
	case has("leading zeroes"):
		return mistake{shownLine(line) + ": a number begins with a zero", "leave the zero out, or put quotes around it"}
	case has("table name", "table array"):
		if err := halfHeader(line); err != nil {
			return err
		}
		return mistake{shownLine(line) + " is not a table header", "write the word in two brackets, such as [[harvested]]"}
	case has("escape", `after '\`):
		return mistake{"a backslash stands in a text in double quotes", `write two backslashes, or use 'single quotes'`}
	case slipIn(line) != nil:
		return slipIn(line)
	case has("key separator", "expected '.' or '='", "key name appears blank", "unexpected '='"):
		return mistake{shownLine(line) + " is not of the form key = value", `write it like logs = 40, or put # before a remark`}
	case strings.HasSuffix(line, "="):
		return mistake{shownLine(line) + ": nothing stands behind the equals sign", "write the value there, or delete the line"}
	case has("expected value", "expected a digit", "Invalid float", "Invalid integer", "invalid float", "top-level item"):
		return mistake{shownLine(line) + " holds a value that cannot be read", inQuotes(line)}
	case has("control characters"):
		return mistake{"an invisible control character stands in the table", "delete it: retype the line"}
	case has("comma", "array", "inline table"):
		return mistake{shownLine(line) + ": a list is not closed or a comma is missing", `write a list as ["a", "b"]`}
	}
	if has("range") {
		return mistake{shownLine(line) + ": a number has too many digits", "look at its digits"}
	}
	return mistake{shownLine(line) + " cannot be read", shortly(msg)}
}

// shortly is a message of the library, cut where it repeats what was typed.
func shortly(msg string) string {
	const most = 120
	if r := []rune(msg); len(r) > most {
		return string(r[:most]) + "…"
	}
	return msg
}

// newTable reads a piece. The table is nil if it cannot be read at all; the
// problem then says why.
func newTable(file string, p piece, terms *Terms) (*table, []Problem, error) {
	text, problems := cleaned(file, p)
	vals, line, err := decode(text)
	if err != nil {
		what, remedy := parts(err)
		return nil, append(problems, Problem{File: file, Line: p.line + line - 1, Grade: Aside, Text: what, Remedy: remedy}), err
	}
	t := &table{file: file, text: trimTail(text), line: p.line, vals: vals, terms: terms, problems: problems}
	return t, nil, nil
}

// cleaned is the text of a piece without carriage returns, and with bytes
// that cannot stand in a text replaced and pointed at.
func cleaned(file string, p piece) (string, []Problem) {
	text := string(p.text)
	if strings.IndexByte(text, '\r') >= 0 {
		text = strings.ReplaceAll(text, "\r\n", "\n")
	}
	var problems []Problem
	if !utf8.ValidString(text) {
		bad := strings.IndexFunc(text, func(r rune) bool { return r == utf8.RuneError })
		problems = append(problems, Problem{File: file, Line: p.line + strings.Count(text[:max(0, bad)], "\n"), Grade: Odd,
			Text: "some letters are not saved as UTF-8 and show as �", Remedy: "retype them and save the file as UTF-8"})
		text = strings.ToValidUTF8(text, "�")
	}
	if bad := strings.IndexByte(text, 0); bad >= 0 {
		problems = append(problems, Problem{File: file, Line: p.line + strings.Count(text[:bad], "\n"), Grade: Odd,
			Text: "zero bytes stand in the text, as after a power cut", Remedy: "look whether something is missing there, and delete them"})
		text = strings.ReplaceAll(text, "\x00", "")
	}
	return text, problems
}

// trimTail drops blank lines and remarks after the last key: they stand
// before the next table.
func trimTail(text string) string {
	for {
		text = strings.TrimRight(text, " \t\n")
		i := strings.LastIndexByte(text, '\n')
		if i < 0 || !strings.HasPrefix(strings.TrimSpace(text[i+1:]), "#") {
			return text
		}
		text = text[:i]
	}
}

// digestName names an entry by the first six signs of the digest of what it
// says, or of its text.
func digestName(text string) string {
	sum := sha256.Sum256([]byte(text))
	return fmt.Sprintf("%x", sum[:3])
}

// keyLine is the line on which a key stands, counted from 1; 0 if it stands
// nowhere.
func keyLine(text, key string) int {
	n := 0
	for rest := text; rest != ""; {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		n++
		line = strings.TrimLeft(line, " \t\"'")
		if tail, ok := strings.CutPrefix(line, key); ok {
			tail = strings.TrimLeft(tail, " \t\"'")
			if strings.HasPrefix(tail, "=") || strings.HasPrefix(tail, ".") {
				return n
			}
		}
	}
	return 0
}

func (t *table) lineOf(key string) int {
	if n := keyLine(t.text, key); n > 0 {
		return t.line + n - 1
	}
	return t.line
}

// say notes a problem with a key; key "" is the table as a whole.
func (t *table) say(g Grade, key, text, remedy string) {
	t.problems = append(t.problems, Problem{File: t.file, Line: t.lineOf(key), Grade: g, Text: text, Remedy: remedy})
}

// fail notes that the value of a key cannot be read.
func (t *table) fail(key string, err error) {
	text, remedy := parts(err)
	t.say(Aside, key, key+": "+text, remedy)
}

// unknown points at every key that no one asked for.
func (t *table) unknown(known []string) {
	var left []string
	for k := range t.vals {
		if !slices.Contains(known, k) {
			left = append(left, k)
		}
	}
	slices.Sort(left)
	for i, k := range left {
		if i == mostUnknown {
			t.say(Aside, "", fmt.Sprintf("%d more keys are none of [%s]", len(left)-i, clippedName(t.name)), "look whether this is meant to be another table")
			break
		}
		remedy := "write one of " + strings.Join(known, ", ")
		if near, ok := data.Nearest(k, known); ok {
			remedy = "did you mean " + near + "?"
		}
		t.say(Aside, k, t.noKey(k), remedy)
	}
}

// noKey says that a key is none of its table. In the journal only the key is
// set aside, not its entry.
func (t *table) noKey(key string) string {
	switch name := clippedName(t.name); {
	case t.file != JournalFile:
		return fmt.Sprintf("%s is no key of [%s]", clippedName(key), name)
	case t.unusable:
		return fmt.Sprintf("%s is no key of [[%s]]", clippedName(key), name)
	default:
		return fmt.Sprintf("%s is no key of [[%s]]; the rest of the entry counts", clippedName(key), name)
	}
}

// put reads a value by what its key holds into the variable that waits for
// it.
func (t *table) put(k *Key, v any, to any) error {
	switch to := to.(type) {
	case *string:
		s, err := textOf(k, v)
		*to = s
		return err
	case *[]string:
		return textsOf(k, v, to)
	case *int:
		n, err := countOf(v)
		if err == nil {
			*to = n
		}
		return err
	case *float64:
		n, err := numberOf(k, v)
		if err == nil {
			*to = n
		}
		return err
	case *bool:
		b, ok := v.(bool)
		if !ok {
			return yesOrNo(v)
		}
		*to = b
	case *When:
		return to.UnmarshalTOML(v)
	case *Moment:
		m, err := momentOf(v)
		*to = m
		return err
	case *Clock:
		c, err := clockOf(v)
		*to = c
		return err
	case *Temperature:
		c, err := temperatureOf(v)
		*to = c
		return err
	case *Cooling:
		c, err := coolingOf(v)
		*to = c
		return err
	case *Quantity:
		q, err := t.quantityOf(k, v)
		*to = q
		return err
	case *any:
		if s, ok := v.(string); ok && k.Required && strings.TrimSpace(s) == "" {
			return mistake{"it is empty", fmt.Sprintf("write, for example, %s = %s", k.Name, quote(k.Example))}
		}
		if s, ok := v.(string); ok {
			v = strings.TrimSpace(s) // as all that is typed
		}
		*to = v
	case *[]Taking:
		return t.takingsOf(v, to)
	case *[]Part:
		return t.partsOf(v, to)
	case *[]BottleCount:
		return t.bottlesOf(v, to)
	default:
		panic(fmt.Sprintf("yard: no reading into %T", to))
	}
	return nil
}

// shownValue is a TOML value as it may stand in a message.
func shownValue(v any) string {
	switch v := v.(type) {
	case string:
		return shown(v)
	case map[string]any:
		return "a table in braces"
	case []any, []map[string]any:
		return "a list"
	}
	if w, err := whenOf(v); err == nil {
		return w.String()
	}
	return fmt.Sprint(v)
}

func textOf(k *Key, v any) (string, error) {
	s, ok := v.(string)
	if !ok {
		if n, isNumber := v.(int64); isNumber && (k.Kind == TextKey || k.Kind == LotKey || k.Kind == EntryKey || k.Kind.names()) {
			return strconv.FormatInt(n, 10), nil
		}
		if f, isNumber := v.(float64); isNumber && k.Kind == TextKey {
			return decimal(f), nil
		}
		if w, err := whenOf(v); err == nil && k.Kind == TextKey {
			return w.String(), nil
		}
		return "", mistake{shownValue(v) + " is not text", fmt.Sprintf("put it in quotes: %s = %s", k.Name, quote(k.Example))}
	}
	s = strings.TrimSpace(s)
	switch k.Kind {
	case ChoiceKey:
		return choiceOf(k, s)
	case CodeKey:
		return CheckCode(s)
	}
	if s == "" && k.Required {
		return "", mistake{"it is empty", fmt.Sprintf("write, for example, %s = %s", k.Name, quote(k.Example))}
	}
	return s, nil
}

// yesOrNo explains how yes and no are written.
func yesOrNo(v any) error {
	word, _ := v.(string)
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "yes", "y", "true":
		return mistake{shownValue(v) + " is a text, and yes is written otherwise", "write true, without quotes"}
	case "no", "n", "false":
		return mistake{shownValue(v) + " is a text, and no is written otherwise", "write false, without quotes"}
	}
	return mistake{shownValue(v) + " says neither yes nor no", "write true for yes or false for no, without quotes"}
}

func choiceOf(k *Key, s string) (string, error) {
	word := strings.ToLower(s)
	if word == "" || slices.Contains(k.OneOf, word) {
		return word, nil
	}
	remedy := "write one of " + strings.Join(quoted(k.OneOf), ", ")
	if near, ok := data.Nearest(word, k.OneOf); ok {
		remedy = fmt.Sprintf("did you mean %q? Otherwise %s", near, remedy)
	}
	return "", mistake{shown(s) + " is none of the words that can stand here", remedy}
}

func quoted(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = strconv.Quote(w)
	}
	return out
}

// CheckCode brings a pile's code to capital letters and refuses one that is
// too long for a tag or can be misread on it.
func CheckCode(s string) (string, error) {
	code := strings.ToUpper(strings.TrimSpace(s))
	for _, r := range code {
		if !strings.ContainsRune("ABCDEFGHJKLMNPQRSTUVWXYZ23456789", r) {
			return "", mistake{shown(s) + " cannot be a code", codeRemedy}
		}
	}
	if len(code) > 4 {
		return "", mistake{shown(s) + " is too long for a code", codeRemedy}
	}
	return code, nil
}

const codeRemedy = `write at most four letters and digits without O, 0, I and 1, such as "AN2"`

func textsOf(k *Key, v any, to *[]string) error {
	list, ok := v.([]any)
	if !ok {
		list = []any{v}
	}
	for _, x := range list {
		s, err := textOf(k, x)
		if err != nil {
			return err
		}
		names := []string{s}
		if k.Kind == PilesKey {
			names = strings.Split(s, ",") // commas stand between names, within the quotes too
		}
		for _, n := range names {
			if n = strings.TrimSpace(n); n != "" {
				*to = append(*to, n)
			}
		}
	}
	return nil
}

// mostCount is the largest number of logs, people or bottles that is believed.
const mostCount = 1_000_000

func countOf(v any) (int, error) {
	n, ok := v.(int64)
	if f, isFloat := v.(float64); isFloat && f == float64(int64(f)) {
		n, ok = int64(f), true
	}
	switch {
	case !ok:
		return 0, noNumber(v, "a whole number", "40")
	case n < 0:
		return 0, mistake{fmt.Sprintf("%d is less than nothing", n), "write it without the minus"}
	case n > mostCount:
		return 0, mistake{fmt.Sprintf("%d is more than anyone has", n), "look at its digits"}
	}
	return int(n), nil
}

// noNumber explains a value that is none: a number in quotes, or none at all.
func noNumber(v any, wanted, example string) error {
	if s, ok := v.(string); ok {
		s = strings.TrimSpace(s)
		if f, err := strconv.ParseFloat(s, 64); err == nil && !math.IsInf(f, 0) && !math.IsNaN(f) && len(s) < 20 {
			return mistake{shown(s) + " stands in quotes, and is a number", "take the quotes away"}
		}
	}
	return mistake{shownValue(v) + " is not " + wanted, "write it in digits and without quotes, such as " + example}
}

func numberOf(k *Key, v any) (float64, error) {
	var f float64
	switch v := v.(type) {
	case int64:
		f = float64(v)
	case float64:
		f = v
	default:
		return 0, noNumber(v, "a number", k.Name+" = "+k.Example)
	}
	low, high := k.least, k.most
	if low == 0 && high == 0 {
		high = 1e9
	}
	if !(f >= low && f <= high) {
		remedy := "look at the number"
		if strings.HasSuffix(k.Name, "abv_percent") {
			remedy += "; it is percent by volume, and US proof is twice as much"
		}
		return 0, mistake{fmt.Sprintf("%v is outside %v to %v", v, decimal(low), decimal(high)), remedy}
	}
	return f, nil
}

func (t *table) quantityOf(k *Key, v any) (Quantity, error) {
	s, ok := v.(string)
	if !ok {
		if n, isInt := v.(int64); isInt && k.Kind == AmountKey && n >= 0 {
			return ParseAmount(strconv.FormatInt(n, 10), t.terms.Measures)
		}
		unit := k.Example[strings.LastIndexByte(k.Example, ' ')+1:]
		switch v.(type) {
		case int64, float64:
			return Quantity{}, mistake{fmt.Sprintf("%v has no unit", v), fmt.Sprintf("write %s = \"%v %s\"", k.Name, v, unit)}
		}
		return Quantity{}, mistake{shownValue(v) + " is not an amount", fmt.Sprintf("write %s = %q", k.Name, k.Example)}
	}
	if k.Kind == AmountKey {
		return ParseAmount(s, t.terms.Measures)
	}
	w := wants[k.Kind.unit()]
	w.example = k.Example
	q, err := measurer{s, w, k.Kind.unit(), t.terms.Measures, false}.read()
	if err == nil && k.most > 0 && (q.High > k.most || q.High < k.least) {
		return Quantity{}, mistake{fmt.Sprintf("%s is outside %s to %s %s", shown(s), decimal(k.least), decimal(k.most), k.Kind.unit()),
			"look at the number and its unit"}
	}
	return q, err
}

// quote is s as a TOML basic string on one line.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "�") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\r':
			b.WriteString(`\r`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
