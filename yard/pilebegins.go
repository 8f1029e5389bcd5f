package yard

import (
	"fmt"
	"slices"
	"strings"
)

// What is said of an entry that names a pile which no entry began.
const (
	notBegun = "no pile or bed is called "
	inTray   = ": the entry is kept in the tray \"to sort\""
)

// onceBegun says of a pile once, and not with each of its entries, that the
// entry with which it begins cannot be read, and where that stands.
func onceBegun(problems []Problem, entries []*Entry) []Problem {
	var begins map[string]*Entry
	met := map[string]int{} // by name: place among out
	count := map[int]int{}
	var out []Problem
	for _, p := range problems {
		name, ok := strings.CutPrefix(p.Text, notBegun)
		if ok {
			name, ok = strings.CutSuffix(name, inTray)
		}
		if !ok {
			out = append(out, p)
			continue
		}
		if begins == nil {
			begins = unreadBegins(entries)
		}
		e := begins[name]
		if e == nil {
			out = append(out, p)
			continue
		}
		at, again := met[name]
		if !again {
			at = len(out)
			met[name] = at
			p.Remedy = fmt.Sprintf("it begins in line %d, with an entry that cannot be read: mend that first", e.Line)
			out = append(out, p)
		} else if p.Line < out[at].Line {
			p.Remedy = out[at].Remedy
			out[at] = p
		}
		count[at]++
	}
	for at, n := range count {
		if n > 1 {
			out[at].Text += fmt.Sprintf(" (and %d more)", n-1)
		}
	}
	return out
}

// beginKinds are the kinds of events with which a pile or bed begins.
var beginKinds = []string{"inoculated", "arrived", "buried", "counted", "split", "joined", "renamed"}

// unreadBegins are the entries that cannot be read and may begin a pile, by its
// name or code as a message shows it.
func unreadBegins(entries []*Entry) map[string]*Entry {
	begins := map[string]*Entry{}
	for _, e := range entries {
		if e.Event != nil || e.Replaced != nil {
			continue
		}
		kind := strings.Trim(lineOf(e.Text, 1), "[] \t")
		if kindOf(kind) != nil && !slices.Contains(beginKinds, kind) {
			continue
		}
		for _, line := range strings.Split(e.Text, "\n") {
			key, value, _ := strings.Cut(line, "=")
			switch strings.TrimSpace(key) {
			case "pile", "bed", "into", "to", "code":
				value, _, _ = strings.Cut(value, "#")
				if name := shown(strings.Trim(value, " \t\"',")); begins[name] == nil {
					begins[name] = e
				}
			}
		}
	}
	return begins
}
