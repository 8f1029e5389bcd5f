package yard

import (
	"fmt"
	"io"
	"io/fs"
	"strings"
)

// What a grower's folder can hold is bounded, so that a file that is none of
// it, or was made to do harm, ends in a message and not in a machine that
// stands still. All are our judgement, wide on purpose.
const (
	// mostJournal is the size beyond which a journal is not read: some half a
	// million entries, more than a yard writes in a century.
	mostJournal = 128 << 20
	// mostSettings is the size beyond which yard.toml or recipes.toml is not
	// read: thousands of tables, written by hand.
	mostSettings = 1 << 20
	// longestTable is the size beyond which a table is no entry any more.
	longestTable = 256 << 10
	// longestValue and longestEntry bound what is recorded, in bytes, before any
	// work on it: of what is written there must be room for `written` and `entry`
	// below longestTable, or it could not be read again.
	longestValue = 64 << 10
	longestEntry = longestTable - 1<<10
	// deepestNesting is how deeply lists, braces and dots in keys may stand in
	// one another. Nothing that is read goes deeper than four; the TOML library
	// takes time and memory by the square of it (tens of gigabytes for a file
	// of a hundred kilobytes) and would exhaust the machine.
	deepestNesting = 16
	// mostUnknown is the number of unknown keys of one table that are named:
	// with more, it is no table of ours.
	mostUnknown = 20
	// mostTries is how often the length of a file may be cut in vain, because
	// tables seem to begin strings that end far away or nowhere; then every line
	// that looks like a header is one.
	mostTries = 8
	// mostTables is the number of tables of yard.toml or recipes.toml that are
	// read: each is compared with those before it.
	mostTables = 2000
	// mostRemedies is the number of unknown piles for which the nearest name is
	// looked up: with more, something else is wrong.
	mostRemedies = 200
	// mostLines and mostColumns bound the table of the first evening: more piles
	// than anyone has, and more columns than there is anything to say.
	mostLines   = 10_000
	mostColumns = 200
	// longestWhen is the number of letters of a day, at which reading stops:
	// twice what two days with "to" between take.
	longestWhen = 60
	// mostHeadings is the number of columns from which a line names none of a
	// weather table: the widest that services give have some hundred.
	mostHeadings = 2000
	// mostPlaces is the number of places of one weather table that are told
	// apart: every line is compared with them.
	mostPlaces = 1000
	// mostRoom is the number of lines for which room is made before they are
	// read: empty lines need none.
	mostRoom = 100_000
)

// readBounded reads a file of the folder. The error of one that is too large,
// or no plain file, is a mistake with the way out.
func readBounded(files fs.FS, name string, most int64) (b []byte, err error) {
	info, err := fs.Stat(files, name)
	if err == nil {
		err = plainFile(info)
	}
	if err == nil && info.Size() > most {
		err = tooLarge(name, most)
	}
	if err != nil {
		return nil, err
	}
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() // it was only read
	b, err = io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, err
	}
	if int64(len(b)) > most {
		return nil, tooLarge(name, most)
	}
	return b, nil
}

func tooLarge(name string, most int64) error {
	remedy := "look whether something else was pasted into it or has overwritten it"
	if name == JournalFile {
		remedy += "; a copy of it from before may be in " + ownFolder
	}
	return mistake{fmt.Sprintf("the file is larger than %d MB, and is not read", most>>20), remedy}
}

// plain refuses to open what is no plain file: a pipe would be waited for
// without end, and a device may never end.
func plain(files fs.FS, name string) error {
	info, err := fs.Stat(files, name)
	if err != nil {
		return err
	}
	return plainFile(info)
}

func plainFile(info fs.FileInfo) error {
	what := "a device"
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		what = "a folder"
	case mode&fs.ModeNamedPipe != 0:
		what = "a pipe"
	case mode&fs.ModeSocket != 0:
		what = "a socket"
	}
	return mistake{"it is " + what + " and no file", "move it out of the way, and put a copy of the file in its place"}
}

// nesting is how deeply lists, braces and the dots of keys stand in one another
// in a TOML text. Up to the first mistake in the text it is never less than
// what a reader meets; it stops counting soon after deepestNesting. line is
// where it is deepest, counted from 1.
func nesting(text string) (deepest, line int) {
	var open []int // how much deeper each bracket that is open leads
	depth, dots, headed, header, at := 0, 0, 0, false, 0
	for i := 0; i < len(text) && deepest <= deepestNesting; {
		switch text[i] {
		case '"', '\'':
			i = behindString(text, i)
			continue
		case '#':
			i += len(text[i:]) - len(strings.TrimLeftFunc(text[i:], func(r rune) bool { return r != '\n' }))
			continue
		case '[', '{':
			header = header || len(open) == 0 && dots == 0 && strings.TrimSpace(text[strings.LastIndexByte(text[:i], '\n')+1:i]) == ""
			if header {
				headed = max(headed, 1)
			}
			open = append(open, 1+dots)
			depth, dots = depth+1+dots, 0
		case ']', '}':
			if n := len(open) - 1; n >= 0 {
				depth, open = depth-open[n], open[:n]
			}
			dots = 0
		case '.':
			if dots++; header {
				headed = max(headed, 1+dots)
			}
		case ',':
			dots = 0
		case '\n':
			dots, header = 0, false
		}
		if d := depth + dots + headed; d > deepest {
			deepest, at = d, i
		}
		i++
	}
	return deepest, 1 + strings.Count(text[:at], "\n")
}

// behindString is the offset behind the string that begins at i. One that is
// not closed ends at the end of its line, or of the text if it may run over
// several lines.
func behindString(text string, i int) int {
	quote := text[i : i+1]
	if long := quote + quote + quote; len(text)-i >= 3 && text[i:i+3] == long {
		rest, open := afterClose(text[i+3:], long)
		if open != "" {
			return len(text)
		}
		return len(text) - len(rest)
	}
	for i++; i < len(text) && text[i] != '\n'; i++ {
		switch {
		case text[i] == '\\' && quote == `"`:
			i++
		case text[i] == quote[0]:
			return i + 1
		}
	}
	return min(i, len(text))
}
