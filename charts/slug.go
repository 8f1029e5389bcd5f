package charts

import (
	"strconv"
	"strings"
	"unicode"

	"hodaba/yard"
)

// slugLetters is the length to which a name is cut in a file name.
const slugLetters = 40

// slugs gives every pile the name of its page. Names that come out alike get
// a number, in the order of the yard.
func slugs(piles []*yard.Pile) map[string]string {
	names, taken := map[string]string{}, map[string]bool{}
	for _, p := range piles {
		if _, again := names[p.Name]; again {
			continue
		}
		base := "pile-" + slug(p.Name)
		file := base
		for n := 2; taken[file]; n++ {
			file = base + "-" + strconv.Itoa(n)
		}
		taken[file] = true
		names[p.Name] = file + ".html"
	}
	return names
}

// slug keeps the letters and digits of a name, in lower case; whatever stands
// between them becomes a hyphen.
func slug(name string) string {
	var b strings.Builder
	gap, n := false, 0
	for _, r := range strings.ToLower(name) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = n > 0
			continue
		}
		if n++; n > slugLetters {
			break
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
	}
	if n == 0 {
		return "unnamed"
	}
	return b.String()
}
