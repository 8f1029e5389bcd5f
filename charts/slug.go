package charts

import (
	"crypto/sha256"
	"fmt"
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
	names := make([]string, len(piles))
	for i, p := range piles {
		names[i] = p.Name
	}
	return filesOf("pile-", names)
}

// batchSlugs gives every batch the name of its page.
func batchSlugs(batches []*yard.Batch) map[string]string {
	lots := make([]string, len(batches))
	for i, t := range batches {
		lots[i] = t.Lot
	}
	return filesOf("batch-", lots)
}

// filesOf gives every name a file of its own.
func filesOf(prefix string, names []string) map[string]string {
	files, taken := map[string]string{}, map[string]bool{}
	for _, name := range names {
		if _, again := files[name]; again {
			continue
		}
		base := prefix + slug(name)
		file := base
		for n := 2; taken[file]; n++ {
			file = base + "-" + strconv.Itoa(n)
		}
		taken[file] = true
		files[name] = file + ".html"
	}
	return files
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

// shortHash stands for a name that is too long to be written out.
func shortHash(name string) string {
	sum := sha256.Sum256([]byte(name))
	return fmt.Sprintf("%x", sum[:8])
}
