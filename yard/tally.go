package yard

import "fmt"

// shownAlike is how many problems of one sort are told one by one.
const shownAlike = 3

// tally collects the problems of a long table and tells many of one sort as
// one.
type tally struct {
	file     string
	shown    map[string]*sort
	problems []Problem
}

// sort counts the problems that are alike.
type sort struct {
	count    int
	last     int // index of the last one that is told
	lastLine int
}

// say notes a problem of some sort in a line.
func (t *tally) say(name string, g Grade, line int, text, remedy string) {
	a := t.shown[name]
	if a == nil {
		a = &sort{}
		t.shown[name] = a
	}
	a.lastLine = line
	if a.count++; a.count > shownAlike {
		return
	}
	a.last = len(t.problems)
	t.problems = append(t.problems, Problem{File: t.file, Line: line, Grade: g, Text: text, Remedy: remedy})
}

// close says of how many more the last one of each sort stands for.
func (t *tally) close() {
	for _, a := range t.shown {
		if n := a.count - shownAlike; n > 0 {
			t.problems[a.last].Text += fmt.Sprintf(" (and %d more like it, the last in line %d)", n, a.lastLine)
		}
	}
}
