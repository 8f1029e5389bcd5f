package yard

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/data"
)

// Compose writes an entry as it will stand in the journal, without `written`
// and `entry`. The values are as a person types them: "2.4kg", "a, b",
// "10 x 100 ml", "shiitake 50 g, reishi 50 g"; the day may be "today" or
// "yesterday", and is today where left out. What was composed is read back:
// text is "" where anything in it would be set aside, and the problems say
// what and how to write it.
func Compose(kindName string, values map[string]string, terms Terms) (text string, problems []Problem) {
	k := kindOf(kindName)
	if k == nil {
		t := &table{terms: &terms}
		t.unknownKind(kindName)
		return "", t.problems
	}
	if problems := tooLong(values); len(problems) > 0 {
		return "", problems
	}
	lines, problems := compose(k, values, terms.Today)
	if len(problems) > 0 {
		return "", problems
	}
	text = layout(kindName, lines)
	if err := fitsEntry(text); err != nil {
		text, remedy := parts(err)
		return "", []Problem{{Grade: Aside, Text: text, Remedy: remedy}}
	}
	entries, problems := readText(text, &terms)
	if worst, any := Worst(problems); any && worst > Odd || len(entries) != 1 || entries[0].Event == nil {
		return "", problems
	}
	return text, problems
}

// line is a key and its value as TOML.
type line struct{ key, value string }

// compose turns typed values into lines, in the order of the kind's keys.
func compose(k *kind, values map[string]string, today Date) ([]line, []Problem) {
	keys := k.Keys
	if right := kindOf(values["kind"]); k == &correctedKind && right != nil {
		keys = slices.Concat(k.Keys[:len((&Corrected{}).fields())], right.Keys)
	}
	var lines []line
	var problems []Problem
	var names []string
	for _, key := range keys {
		names = append(names, key.Name)
		s, given := values[key.Name]
		if key.Name == "on" && !given && values["void"] == "" {
			s = today.String()
		}
		if strings.TrimSpace(s) == "" {
			continue
		}
		value, err := literal(key, s, today)
		if err != nil {
			problems = append(problems, problemOf(key.Name, err))
			continue
		}
		lines = append(lines, line{key.Name, value})
	}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		if !slices.Contains(names, name) {
			problems = append(problems, Problem{Grade: Aside, Text: fmt.Sprintf("%s is no key of %s", shown(name), k.Name), Remedy: nearestKey(name, names)})
		}
	}
	return onFirst(lines), problems
}

func nearestKey(name string, names []string) string {
	if near, ok := data.Nearest(name, names); ok {
		return "did you mean " + near + "?"
	}
	return "write one of " + strings.Join(names, ", ")
}

func problemOf(key string, err error) Problem {
	text, remedy := parts(err)
	return Problem{Grade: Aside, Text: key + ": " + text, Remedy: remedy}
}

// onFirst puts the day before everything else.
func onFirst(lines []line) []line {
	i := slices.IndexFunc(lines, func(l line) bool { return l.key == "on" })
	if i <= 0 {
		return lines
	}
	on := lines[i]
	return slices.Insert(slices.Delete(lines, i, i+1), 0, on)
}

// layout writes a table with its equals signs in one column.
func layout(kindName string, lines []line) string {
	width := len("written")
	for _, l := range lines {
		width = max(width, len(l.key))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "[[%s]]\n", kindName)
	for _, l := range lines {
		fmt.Fprintf(&b, "%-*s = %s\n", width, l.key, l.value)
	}
	return b.String()
}

// readText reads entries that are not in a file.
func readText(text string, terms *Terms) ([]*Entry, []Problem) {
	j := readJournal([]byte(text), terms)
	problems := j.all()
	for i := range problems {
		problems[i].File, problems[i].Line, problems[i].Entry = "", 0, ""
	}
	return j.entries, problems
}

// literal turns what a person typed for a key into TOML. What cannot be
// turned is put in quotes, so that reading it says what is wrong.
func literal(k Key, s string, today Date) (string, error) {
	s = strings.TrimSpace(s)
	switch k.Kind {
	case DayKey:
		return dayLiteral(s, today)
	case CountKey:
		if n, err := strconv.ParseInt(s, 10, 64); err == nil {
			return strconv.FormatInt(n, 10), nil
		}
		return "", mistake{shown(s) + " is not a whole number", "write it in digits, such as " + k.Example}
	case NumberKey:
		f, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil || f-f != 0 {
			return "", mistake{shown(s) + " is not a number", "write it in digits, such as " + k.Example}
		}
		return decimal(f), nil
	case YesNoKey:
		switch strings.ToLower(s) {
		case "true", "yes", "y":
			return "true", nil
		case "false", "no", "n":
			return "false", nil
		}
		return "", mistake{shown(s) + " says neither yes nor no", "write yes or no"}
	case NewPileKey:
		if strings.Contains(s, ",") {
			return "", mistake{shown(s) + " has a comma in it", "leave it out: commas stand between names"}
		}
	case PilesKey:
		if strings.HasPrefix(s, "[") && strings.HasSuffix(s, "]") {
			return filled(s)
		}
		list := listLiteral(s)
		if list == "[]" {
			return "", mistake{shown(s) + " names no pile", "write their names with commas between, such as " + k.Example}
		}
		return list, nil
	case IngredientsKey:
		return ingredientsLiteral(s)
	case PartsKey:
		list, err := partsLiteral(s)
		if err == nil && list == "[]" {
			return "", mistake{shown(s) + " names no batch", "write, for example, " + k.Example}
		}
		return list, err
	case BottlesKey:
		return bottlesLiteral(s)
	}
	return quote(s), nil
}

func dayLiteral(s string, today Date) (string, error) {
	switch strings.ToLower(s) {
	case "today":
		return today.String(), nil
	case "yesterday":
		return (today - 1).String(), nil
	}
	w, err := ParseWhen(s)
	if err != nil {
		return "", err
	}
	return w.TOML(), nil
}

// listLiteral is a list of names with commas between.
func listLiteral(s string) string {
	var names []string
	for _, n := range strings.Split(s, ",") {
		if n = strings.TrimSpace(n); n != "" {
			names = append(names, quote(n))
		}
	}
	return "[" + strings.Join(names, ", ") + "]"
}

var (
	ingredientForm = regexp.MustCompile(`^(.*?\S)\s+(about\s+|~)?(\d[^;]*?)(?:\s+from\s+(\S.*))?$`)
	bottleForm     = regexp.MustCompile(`^(\d+)\s*(?:x|×|\*|of)\s*(\d.*)$`)
	splitForm      = regexp.MustCompile(`;\s*|,\s+`)
)

// ingredientsLiteral reads "shiitake 50 g, reishi powder 50 g from D-12".
func ingredientsLiteral(s string) (string, error) {
	if strings.HasPrefix(s, "[") {
		return oneLine(s)
	}
	var rows []string
	for _, part := range splitForm.Split(s, -1) {
		m := ingredientForm.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			return "", mistake{shown(part) + " is no ingredient", "write name, weight and, if known, the lot: shiitake 50 g from D-26-03"}
		}
		species, form := m[1], ""
		for _, f := range formKey.OneOf {
			if rest, ok := strings.CutSuffix(species, " "+f); ok {
				species, form = rest, f
			}
		}
		row := "{species = " + quote(species)
		if form != "" {
			row += ", form = " + quote(form)
		}
		row += ", dry = " + quote(strings.TrimSpace(m[2]+m[3]))
		if m[4] != "" {
			row += ", lot = " + quote(m[4])
		}
		rows = append(rows, row+"}")
	}
	return "[" + strings.Join(rows, ", ") + "]", nil
}

// bottlesLiteral reads "10 x 100 ml, 3 x 50 ml", or a bare number.
func bottlesLiteral(s string) (string, error) {
	if strings.HasPrefix(s, "[") {
		return filled(s)
	}
	if n, err := strconv.ParseInt(s, 10, 64); err == nil {
		return strconv.FormatInt(n, 10), nil
	}
	var rows []string
	for _, part := range splitForm.Split(s, -1) {
		m := bottleForm.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			return "", mistake{shown(part) + " is no number of bottles", "write 10 x 100 ml, or just 10"}
		}
		rows = append(rows, fmt.Sprintf("{count = %s, size = %s}", strings.TrimLeft(m[1], "0")+zero(m[1]), quote(m[2])))
	}
	return "[" + strings.Join(rows, ", ") + "]", nil
}

// zero is the nought that is left of noughts.
func zero(digits string) string {
	if strings.Trim(digits, "0") == "" {
		return "0"
	}
	return ""
}

// filled is oneLine for a list that says nothing where nothing is in it.
func filled(s string) (string, error) {
	if strings.Trim(s, "[], \t") == "" {
		return "", mistake{shown(s) + " is a list of nothing", "leave the key out, or write what belongs in it"}
	}
	return oneLine(s)
}

// oneLine lets TOML through that a person typed, as long as it stays on its
// line.
func oneLine(s string) (string, error) {
	if strings.ContainsAny(s, "\r\n") {
		return "", mistake{"the list runs over several lines", "write it on one line"}
	}
	if strings.ContainsFunc(s, func(r rune) bool { return r < ' ' && r != '\t' }) {
		return "", mistake{"the list holds a sign that cannot be seen", "type it anew"}
	}
	return s, nil
}

// Values are the keys of an entry as a person would type them: what Compose
// reads. `written` and `entry` are left out.
func (e *Entry) Values() map[string]string {
	vals, _, err := decode(e.Text)
	if err != nil {
		return nil
	}
	t := table{vals: vals}
	t.open(&Entry{})
	out := map[string]string{}
	for k, v := range t.vals {
		if k != "written" && k != "entry" {
			out[k] = typed(v)
		}
	}
	return out
}

// typed is a value as a person would type it.
func typed(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case []any:
		return typedList(v)
	case []map[string]any:
		list := make([]any, len(v))
		for i := range v {
			list[i] = v[i]
		}
		return typedList(list)
	case map[string]any:
		return typedRow(v)
	case float64:
		return decimal(v)
	case time.Time:
		if c, err := clockOf(v); err == nil {
			return c.String()
		}
	}
	if w, err := whenOf(v); err == nil && !isInt(v) {
		return w.String()
	}
	return fmt.Sprint(v)
}

func isInt(v any) bool { _, ok := v.(int64); return ok }

// typedList is a list: names with commas between, or rows in TOML.
func typedList(list []any) string {
	parts := make([]string, len(list))
	rows := false
	for i, x := range list {
		parts[i] = typed(x)
		if _, ok := x.(map[string]any); ok {
			rows = true
		}
	}
	s := strings.Join(parts, ", ")
	if rows {
		return "[" + s + "]"
	}
	return s
}

// rowKeys is the order in which the keys of a row are written.
var rowKeys = []string{"species", "form", "dry", "lot", "count", "size", "batch", "volume"}

func typedRow(row map[string]any) string {
	var parts []string
	keys := slices.Sorted(maps.Keys(row))
	slices.SortStableFunc(keys, func(a, b string) int { return slices.Index(rowKeys, a) - slices.Index(rowKeys, b) })
	for _, k := range keys {
		v := typed(row[k])
		if _, ok := row[k].(string); ok {
			v = quote(v)
		}
		parts = append(parts, k+" = "+v)
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
