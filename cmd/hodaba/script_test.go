package main

import (
	"encoding/json"
	"os/exec"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"hodaba/charts"
)

// status runs a command and wants an exit status: status 2 hodaba forcast.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command …")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if err != nil {
		var ok bool
		if exit, ok = err.(*exec.ExitError); !ok {
			ts.Check(err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, not %d", got, want)
	}
}

// jsonHas reads a file (or stdout, stderr) as JSON and wants a field to be
// there, and to have a value where one is given: jsonhas stdout piles.0.kind
// pile. The
// step "len" counts the elements of a list; "null" is null.
func jsonHas(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: jsonhas FILE path [value]")
	}
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &v); err != nil {
		ts.Fatalf("%s is no JSON: %s", args[0], err)
	}
	got, ok := walk(v, strings.Split(args[1], "."))
	want := strings.Join(args[2:], " ")
	fine := ok && (len(args) == 2 || got == want)
	if fine == neg {
		ts.Fatalf("%s: %q (there: %t)", args[1], got, ok)
	}
}

func walk(v any, path []string) (string, bool) {
	if len(path) == 0 {
		if s, ok := v.(string); ok {
			return s, true
		}
		b, err := json.Marshal(v)
		return string(b), err == nil
	}
	switch x := v.(type) {
	case map[string]any:
		inner, ok := x[path[0]]
		if !ok {
			return "", false
		}
		return walk(inner, path[1:])
	case []any:
		if path[0] == "len" {
			return strconv.Itoa(len(x)), true
		}
		i, err := strconv.Atoi(path[0])
		if err != nil || i >= len(x) {
			return "", false
		}
		return walk(x[i], path[1:])
	}
	return "", false
}

// narrow wants every line of a file to fit the terminal and to hold nothing
// that steers it; "narrow FILE ascii" allows only plain signs.
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: narrow FILE [ascii]")
	}
	for _, line := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if n := utf8.RuneCountInString(line); n > charts.TerminalWidth {
			ts.Fatalf("%d columns: %q", n, line)
		}
		for _, r := range line {
			if r < ' ' || r == 0x7f || len(args) > 1 && r > 0x7e {
				ts.Fatalf("sign %U in %q", r, line)
			}
		}
	}
}
