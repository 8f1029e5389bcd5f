package main

import (
	"path/filepath"
	"strings"

	"hodaba/yard"
)

// writer is the short word for this computer, and for the person at it where
// one is named, that begins the identifiers of new entries: "kitchen-118" or
// "jk-kitchen-118". Two computers must never share one, so that two copies of
// a folder can be laid together.
func (a *app) writer(dir string) string {
	w := short(a.host)
	if !a.later { // else nothing will be recorded, and nothing is written
		w = hostWord(dir, a.host)
	}
	if by := short(a.person()); by != "" {
		return by + "-" + w
	}
	return w
}

// person is who writes: --by, else HODABA_BY, else nobody in particular.
func (a *app) person() string {
	if a.flags.by != "" {
		return a.flags.by
	}
	return a.env("HODABA_BY")
}

// hostsFile keeps, in the part of the folder that may be thrown away, the
// word of each computer that ever wrote here: "HOST WORD" a line. So the word
// stays the same, and a second computer whose name shortens to the same word
// gets another one.
const hostsFile = ".hodaba/writers"

func hostWord(dir, host string) string {
	host = strings.Join(strings.Fields(host), " ")
	w, known, kept := lookedUp(dir, host)
	if known || host == "" {
		return w
	}
	if kept != "" && !strings.HasSuffix(kept, "\n") {
		kept += "\n"
	}
	if err := yard.OnDisk(dir).Replace(hostsFile, []byte(kept+host+" "+w+"\n")); err != nil {
		return w // a folder that cannot be written to fails where it matters: at the entry
	}
	return w
}

// computerWord is the word of this computer, or the one that it would get: it
// writes nothing.
func computerWord(dir, host string) string {
	w, _, _ := lookedUp(dir, strings.Join(strings.Fields(host), " "))
	return w
}

// lookedUp finds the word of a computer among those that wrote here, or a free
// one, and returns the list, too.
func lookedUp(dir, host string) (word string, known bool, list string) {
	text, err := readPlain(filepath.Join(dir, filepath.FromSlash(hostsFile)))
	if err != nil {
		text = nil // thrown away, or not there yet
	}
	taken := map[string]bool{}
	for l := range strings.Lines(string(text)) {
		if h, w, ok := hostLine(l); ok {
			if h == host {
				return w, true, string(text)
			}
			taken[w] = true
		}
	}
	return freeWord(short(host), taken), false, string(text)
}

// hostLine is one line of hostsFile. An editor may have ended it otherwise or
// set blanks around it, and what is no word that begins an identifier names
// nobody: the computer then gets a word anew.
func hostLine(l string) (host, word string, ok bool) {
	fields := strings.Fields(strings.TrimPrefix(l, "\ufeff"))
	n := len(fields) - 1
	if n < 1 || !yard.IsWriter(fields[n]) {
		return "", "", false
	}
	return strings.Join(fields[:n], " "), fields[n], true
}

func freeWord(word string, taken map[string]bool) string {
	if word == "" {
		word = "yard"
	}
	free := word
	for c := 'b'; taken[free] && c <= 'z'; c++ {
		free = word + string(c)
	}
	return free
}

// shortest is the length to which a host name is cut: identifiers are typed
// by hand.
const shortest = 8

// short keeps the letters and digits of a name up to its first dot.
func short(name string) string {
	name, _, _ = strings.Cut(strings.ToLower(name), ".")
	word := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, name)
	return word[:min(len(word), shortest)]
}

// writerOf is the writer in the yard that is open.
func (a *app) writerOf() string { return a.writer(a.dir) }
