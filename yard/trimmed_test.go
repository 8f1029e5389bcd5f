package yard

import (
	"strings"
	"testing"
)

// A copy of which an editor trimmed the last newline is taken over whole.
func TestTrimmedCopyIsTakenOver(t *testing.T) {
	for _, ends := range []string{"\n", "\r\n"} {
		f, m := yardOf(t, mendWhole)
		there := strings.ReplaceAll(strings.TrimSuffix(mendWhole+"\n"+mendTheirs, "\n"), "\n", ends)
		other := InMemory(map[string]string{YardFile: smallYard, JournalFile: there})
		o, err := f.TakeOver(t.Context(), mergeCopy(t, other), true, atSix)
		if err != nil || len(o.Taken) != 1 || len(o.Problems) > 0 || !strings.HasSuffix(m.Text(JournalFile), mendTheirs) {
			t.Errorf("%q: %v %+v\n%s", ends, err, o, m.Text(JournalFile))
		}
	}
}
