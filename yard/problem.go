package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// String is the problem in one line: where, what, and the way out.
func (p Problem) String() string {
	var b strings.Builder
	switch {
	case p.Line > 0:
		fmt.Fprintf(&b, "%s:%d: ", p.File, p.Line)
	case p.File != "":
		fmt.Fprintf(&b, "%s: ", p.File)
	}
	b.WriteString(p.Text)
	if p.Remedy != "" {
		b.WriteString(": ")
		b.WriteString(p.Remedy)
	}
	return b.String()
}

// Worst returns the worst grade among problems; ok is false where there are
// none.
func Worst(problems []Problem) (worst Grade, ok bool) {
	for _, p := range problems {
		worst = max(worst, p.Grade)
	}
	return worst, len(problems) > 0
}

// sorted brings problems into the order of the files they stand in, none of
// them longer than anybody reads.
func sorted(problems []Problem) []Problem {
	for i := range problems {
		problems[i].Text, problems[i].Remedy = cutMessage(problems[i].Text), cutMessage(problems[i].Remedy)
	}
	slices.SortStableFunc(problems, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
	return problems
}

// longestMessage is the number of letters of a message that anybody reads:
// what is longer repeats a name or a line that is.
const longestMessage = 800

// cutMessage is a message cut to what is read of it.
func cutMessage(s string) string {
	if len(s) <= longestMessage {
		return s
	}
	if r := []rune(s); len(r) > longestMessage {
		return string(r[:longestMessage]) + "…"
	}
	return s
}

// A mistake is an error in two parts, so that a Problem can show what is
// wrong and the way out apart.
type mistake struct{ text, remedy string }

func (m mistake) Error() string {
	if m.remedy == "" {
		return m.text
	}
	return m.text + ": " + m.remedy
}

// parts splits an error into what is wrong and the way out.
func parts(err error) (text, remedy string) {
	if m, ok := err.(mistake); ok {
		return m.text, m.remedy
	}
	return err.Error(), ""
}

// shown quotes what a grower typed, shortened so that a message stays a line.
func shown(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
