package yard

import (
	"strings"
	"unicode"
)

// CommandWord is a word as it must be typed on a command line, in quotes where
// it needs them.
func CommandWord(s string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r == '.' || r == '/' || unicode.IsLetter(r) || unicode.IsDigit(r)
	}
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool { return !plain(r) }) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
