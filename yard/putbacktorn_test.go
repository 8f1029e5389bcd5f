package yard

import (
	"strings"
	"testing"
)

// Of a torn entry that put-back brings back in the same go, nobody is told to
// record it again.
func TestPutBackOfATornEntry(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	record(t, f, walk(t, f))
	whole := m.Text(JournalFile)
	m.files[JournalFile] = []byte(whole[:len(whole)-8])
	f.read = nil
	ids, problems, err := f.PutBack(t.Context(), atSix)
	if err != nil || strings.Join(ids, " ") != "kitchen-3" || !has(problems, 0, "cut short") || !has(problems, 0, "it is put back whole; record nothing again") {
		t.Errorf("%v %v\n%s", ids, err, lines(problems))
	}
	if strings.Count(m.Text(JournalFile), "\"kitchen-3\"\n") != 1 {
		t.Error(m.Text(JournalFile))
	}
}
