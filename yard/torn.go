package yard

import (
	"slices"
	"strings"
)

// tornRemedy says how to record a torn entry again with what can be read of it.
func tornRemedy(text string) string {
	lines := strings.Split(strings.TrimRight(strings.ReplaceAll(strings.ToValidUTF8(text, "�"), "\r", ""), "\x00\n"), "\n")
	for n := len(lines); n > 0; n-- {
		e := &Entry{Text: strings.Join(lines[:n], "\n")}
		values := e.Values()
		if values == nil {
			continue
		}
		vals, _, err := decode(e.Text)
		if err != nil {
			continue
		}
		(&table{vals: vals}).open(e)
		command := againCommand(e.Kind, values)
		if command == "" {
			break
		}
		cut := ""
		if n < len(lines) {
			cut = "; it was cut short in the line " + shown(strings.TrimSpace(lines[n])) + ", look what is still missing"
		}
		return "if it is missed, record it again: " + command + cut
	}
	return "if it is missed, record it again; nothing of it can be read"
}

// againCommand is the command that records an entry of some values.
func againCommand(kindName string, values map[string]string) string {
	if kindOf(kindName) == nil {
		return ""
	}
	words := []string{"hodaba record", kindName}
	skip := []string{}
	if kindName == correctedKind.Name {
		if values["replaces"] == "" {
			return ""
		}
		words = []string{"hodaba correct", CommandWord(values["replaces"])}
		skip = []string{"replaces", "kind", "mended_by"}
	}
	for _, k := range sortedKeys(values) {
		if !slices.Contains(skip, k) {
			words = append(words, k+"="+CommandWord(values[k]))
		}
	}
	return strings.Join(words, " ")
}
