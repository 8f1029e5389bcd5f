package yard

import (
	"fmt"
	"strings"
	"testing"
)

// Thousands of problems of one kind are told up to a number, and hide none of
// another kind.
func TestProblemsOfOneKind(t *testing.T) {
	more := 7
	var b strings.Builder
	for i := range mostAlike + more {
		fmt.Fprintf(&b, "[[walked]]\nwritten = 2025-04-30T08:00:00\non = 2026-05-02\nentry = \"kitchen-%d\"\n", i+2)
	}
	f, _ := yardOf(t, oak+b.String()+"[[walkd]]\non = 2025-04-30\n")
	problems := f.Check()
	if len(problems) != mostAlike+1 || !has(problems, 0, "did you mean [[walked]]?") {
		t.Fatalf("%d problems, the last: %s", len(problems), problems[len(problems)-1])
	}
	if last := problems[mostAlike-1]; !strings.HasSuffix(last.Text, fmt.Sprintf(" (and %d more of this kind from here on)", more)) || last.Line == 0 {
		t.Error(last)
	}
	if n := strings.Count(lines(problems), "more of this kind"); n != 1 {
		t.Errorf("it is said %d times", n)
	}
	f, _ = yardOf(t, strings.Repeat("[[walked]]\non = 2026-05-02\n\n", mostAlike/4))
	for _, p := range f.Check() {
		if strings.Contains(p.Text, "more of this kind") {
			t.Error(p)
		}
	}
}
