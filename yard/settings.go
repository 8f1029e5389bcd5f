package yard

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/data"
)

// A setting is a key of yard.toml or recipes.toml and where its value goes.
type setting struct {
	Key
	to any
}

// read reads the settings of a table, and points at keys that are none and
// at required ones that are missing.
func (t *table) read(settings ...setting) {
	names := make([]string, len(settings))
	for i := range settings {
		s := &settings[i]
		names[i] = s.Name
		v, ok := t.vals[s.Name]
		switch {
		case !ok && s.Required:
			t.say(Aside, "", s.Name+" is missing", "add a line such as "+s.Name+" = "+example(s.Key))
		case ok && s.to != nil:
			if err := t.put(&s.Key, v, s.to); err != nil {
				t.fail(s.Name, err)
			}
		}
	}
	t.unknown(names)
}

// sectioned reads a file of tables that each have a reader.
type sectioned struct {
	file     string
	terms    *Terms
	readers  map[string]func(*table) // by name of the table; "" is what stands before the first
	many     map[string]bool         // tables that may stand several times, in double brackets
	seen     map[string]int          // line on which a table first stood
	problems []Problem
}

// read reads everything in a file that can be read.
func (r *sectioned) read(b []byte) {
	if err := notLines(b); err != nil {
		text, remedy := parts(err)
		r.problems = append(r.problems, Problem{File: r.file, Line: 1, Grade: Broken, Text: text, Remedy: remedy})
		return
	}
	if s := sidesOf(b); s != nil {
		b = s.settings(b)
		r.problems = append(r.problems, s.problems(r.file, "of each such place keep what is right, and take the three lines of signs out; until then the first counts where both say something")...)
	}
	r.seen = map[string]int{}
	c := &cutter{b: b, line: 1}
	if bytes.HasPrefix(b, byteOrderMark) {
		c.at = len(byteOrderMark)
	}
	for n := 0; ; n++ {
		p, ok := c.next()
		if !ok {
			return
		}
		if n > mostTables {
			r.problems = append(r.problems, Problem{File: r.file, Line: p.line, Grade: Aside,
				Text:   fmt.Sprintf("there are more than %d tables: this one and all below it are left out", mostTables),
				Remedy: "look whether something else was pasted into the file, and delete it"})
			return
		}
		t, problems, err := newTable(r.file, p, r.terms)
		if err != nil && c.shorten(&p) {
			t, problems, err = newTable(r.file, p, r.terms)
		}
		if err != nil {
			r.problems = append(r.problems, problems...)
			continue
		}
		r.table(t, p.header)
		r.problems = append(r.problems, t.problems...)
	}
}

// table hands a table to its reader.
func (r *sectioned) table(t *table, header bool) {
	if !header {
		r.top(t)
		return
	}
	name, double := t.descend(r.readers)
	read := r.readers[name]
	switch line, again := r.seen[name]; {
	case read == nil:
		t.say(Aside, "", fmt.Sprintf("[%s] is no table of %s", clippedName(name), r.file), r.remedy(name))
		return
	case r.many[name] && !double:
		t.say(Odd, "", fmt.Sprintf("[%s] stands in single brackets", clippedName(name)), fmt.Sprintf("write [[%s]]", clippedName(name)))
	case !r.many[name] && double:
		t.say(Odd, "", fmt.Sprintf("[[%s]] stands in double brackets", name), fmt.Sprintf("write [%s]", name))
	case again && !r.many[name]:
		t.say(Aside, "", fmt.Sprintf("[%s] stands twice, first in line %d; this one is left out", clippedName(name), line), "make one of the two")
		return
	}
	r.seen[name] = t.line
	t.name = name
	read(t)
}

// top reads what stands before the first table: plain keys, and whole tables
// written in dots or braces.
func (r *sectioned) top(t *table) {
	inner := map[string]any{}
	for _, k := range slices.Sorted(maps.Keys(t.vals)) {
		v := t.vals[k]
		if _, isTable := v.(map[string]any); isTable && r.readers[k] != nil {
			inner[k] = v
			delete(t.vals, k)
		}
	}
	if read := r.readers[""]; read != nil {
		t.name = r.file
		read(t)
	}
	for _, k := range slices.Sorted(maps.Keys(inner)) {
		sub := &table{file: t.file, name: k, text: t.text, line: t.line, vals: inner[k].(map[string]any), terms: t.terms}
		r.seen[k] = t.line
		r.readers[k](sub)
		t.problems = append(t.problems, sub.problems...)
	}
}

// descend takes the values out of their header and returns its name; double
// tells of its brackets.
func (t *table) descend(readers map[string]func(*table)) (name string, double bool) {
	for {
		if len(t.vals) != 1 || (name != "" && readers[name] != nil && !t.headerGoesOn(name)) {
			return name, double
		}
		for k, v := range t.vals {
			inner, isTable := v.(map[string]any)
			list, isList := v.([]map[string]any)
			if !isTable && (!isList || len(list) == 0) {
				return name, double
			}
			if isList {
				inner = list[len(list)-1]
			}
			t.vals, double = inner, isList
			name = strings.TrimPrefix(name+"."+k, ".")
		}
	}
}

// headerGoesOn reports whether the header names more than name.
func (t *table) headerGoesOn(name string) bool {
	head := strings.Trim(lineOf(t.text, 1), "[] \t")
	head, _, _ = strings.Cut(head, "]")
	return strings.HasPrefix(strings.ReplaceAll(head, " ", ""), name+".")
}

func (r *sectioned) remedy(name string) string {
	var known []string
	for k := range r.readers {
		if k != "" {
			known = append(known, k)
		}
	}
	slices.Sort(known)
	if near, ok := data.Nearest(name, known); ok {
		if r.many[near] {
			return fmt.Sprintf("did you mean [[%s]]?", near)
		}
		return fmt.Sprintf("did you mean [%s]?", near)
	}
	return "write one of " + strings.Join(known, ", ")
}

// listOf is a value as a list; a single value is a list of one.
func listOf(v any) []any {
	switch v := v.(type) {
	case []any:
		return v
	case []map[string]any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = v[i]
		}
		return out
	}
	return []any{v}
}
