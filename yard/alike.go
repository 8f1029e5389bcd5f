package yard

import (
	"fmt"
	"strings"
)

// mostAlike is how many problems of one kind are told one by one: who has more
// mends the first of them, or the one cause of all.
const mostAlike = 1000

// fewAlike cuts sorted problems to the first of each kind; the last of them
// that is told says how many more there are.
func fewAlike(problems []Problem) []Problem {
	if len(problems) <= mostAlike {
		return problems
	}
	all := map[string]int{}
	for i := range problems {
		all[problems[i].ofKind()]++
	}
	told, out := map[string]int{}, problems[:0]
	for _, p := range problems {
		kind := p.ofKind()
		if told[kind]++; told[kind] > mostAlike {
			continue
		}
		if more := all[kind] - mostAlike; told[kind] == mostAlike && more > 0 {
			p.More = more
			p.Text += fmt.Sprintf(" (and %d more of this kind from here on)", more)
		}
		out = append(out, p)
	}
	return out
}

// ofKind is what makes a problem one of its kind: the way out, without what is of
// one entry alone.
func (p *Problem) ofKind() string {
	words := p.Remedy
	if words == "" {
		words = p.Text
	}
	kind := fmt.Appendf(nil, "%s %d", p.File, p.Grade)
	for word := range strings.FieldsSeq(words) {
		if !strings.ContainsAny(word, "0123456789\"") {
			kind = append(append(kind, ' '), word...)
		}
	}
	return string(kind)
}
