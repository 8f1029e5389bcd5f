package yard

import (
	"runtime"
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

// CommandPath is the path of a file as it must be typed on a command line, in
// quotes where it needs them: on Windows in those of its own shells.
func CommandPath(path string) string { return commandPath(path, runtime.GOOS == "windows") }

func commandPath(path string, windows bool) string {
	if strings.HasPrefix(path, "-") { // it would be taken for an option
		path = "./" + path
	}
	if !windows {
		return CommandWord(path)
	}
	plain := strings.NewReplacer(`\`, "", ":", "").Replace(path)
	if plain == "" || CommandWord(plain) != plain {
		return `"` + path + `"`
	}
	return path
}
