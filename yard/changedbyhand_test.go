package yard

import (
	"fmt"
	"strings"
	"testing"
)

// What a recorded entry said before it was changed by hand can be found again,
// also when the copies of that week are gone; nothing nags about it.
func TestChangedByHandIsKept(t *testing.T) {
	f, m := yardOf(t, oak+lackTable("kitchen-2", "01", `"2.4 kg"`))
	f.OnComputer("kitchen")
	record(t, f, walk(t, f))
	for day, change := range [][2]string{{"2.4 kg", "24 kg"}, {"24 kg", "25 kg"}} {
		m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), change[0], change[1], 1))
		f = onComputer(t, m, "kitchen")
		if got := f.ChangedByHand(); len(got) != day+1 || got[day].ID != "kitchen-2" || !strings.Contains(got[day].Text, change[0]) {
			t.Errorf("%v: %+v", change, got)
		}
		if _, problems := record(t, f, walk(t, f)); len(problems) > 0 {
			t.Error(lines(problems))
		}
	}
	for day := range Date(9) {
		if _, problems, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil || len(problems) > 0 {
			t.Fatal(err, lines(problems))
		}
	}
	f = onComputer(t, m, "kitchen")
	got := f.ChangedByHand()
	if len(got) != 2 || !strings.Contains(got[0].Text, "2.4 kg") || !strings.Contains(got[1].Text, "24 kg") || lackSaid(t, f) != "" {
		t.Errorf("after a week: %+v, missing %s", got, lackSaid(t, f))
	}
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), "25 kg", "2.4 kg", 1)) // set right again
	if got := onComputer(t, m, "kitchen").ChangedByHand(); len(got) != 2 || strings.Contains(got[0].Text+got[1].Text, "2.4 kg") {
		t.Errorf("set right: %+v", got)
	}
}

// What is kept of it is bounded, and the oldest makes room.
func TestChangedByHandIsBounded(t *testing.T) {
	f, m := yardOf(t, oak)
	a := &appender{f: f, now: atSix}
	for n := range 40 {
		a.keepChanged([]Missed{{Text: strings.TrimSpace(lackTable(fmt.Sprintf("kitchen-%d", n), "01", `"2.4 kg"`+strings.Repeat("#", mostChanged/20)))}})
		if len(m.Text(changedFile)) > mostChanged+len(changedHead) {
			t.Fatalf("%d bytes", len(m.Text(changedFile)))
		}
	}
	if text := m.Text(changedFile); !strings.Contains(text, `"kitchen-39"`) || strings.Contains(text, `"kitchen-1"`) {
		t.Errorf("%d bytes, %.200s", len(text), text)
	}
}
