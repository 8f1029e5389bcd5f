package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"hodaba/charts"
)

// lineReader reads answers line by line.
type lineReader struct {
	s *bufio.Scanner
}

// longestAnswer bounds a typed line; nobody types a book into a question.
const longestAnswer = 1 << 16

func newLineReader(r io.Reader) *lineReader {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, 4096), longestAnswer)
	return &lineReader{s}
}

// errNoAnswer is the end of the input in the middle of a question.
var errNoAnswer = errors.New("no more answers")

// ask puts a question and returns the answer; Enter alone is "".
func (a *app) ask(question string) (string, error) {
	fmt.Fprint(a.err, charts.Clean(question)+" ")
	if !a.lines.s.Scan() {
		fmt.Fprintln(a.err)
		if err := a.lines.s.Err(); err != nil {
			return "", lineWrong("type a shorter answer", "the answer cannot be read: %s", err)
		}
		return "", errNoAnswer
	}
	return strings.TrimSpace(a.lines.s.Text()), nil
}

// askUntil asks again until check is content; it gives up where the input
// ends.
func (a *app) askUntil(question string, check func(string) error) (string, error) {
	for {
		answer, err := a.ask(question)
		if err != nil {
			return "", err
		}
		if err = check(answer); err == nil {
			return answer, nil
		}
		a.note("  %s", err)
	}
}
