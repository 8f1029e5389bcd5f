package yard

import (
	"bytes"
	"context"
	"io/fs"
	"testing"
	"time"
)

// busyFolder is a folder in memory in which another program tries to record
// whenever a file is looked at.
type busyFolder struct {
	*Memory
	record func()
}

func (b busyFolder) Open(name string) (fs.File, error) {
	b.record()
	return b.Memory.Open(name)
}

// An archive that is made while another program records holds one moment: its
// journal, the daily copy and the memory of the end fit one another.
func TestPackedFolderIsOfOneMoment(t *testing.T) {
	other, m := yardOf(t, oak)
	record(t, other, walk(t, other))
	text, tries := walk(t, other), 0
	files := busyFolder{m, func() {}}
	f, _, err := OpenFiles(&files, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	files.record = func() {
		ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
		defer cancel()
		tries++
		_, _, _ = other.RecordAll(ctx, []string{text}, "barn", atSix) // it may wait in vain
	}
	b, _ := packed(t, f)
	a, err := ReadArchive(bytes.NewReader(b))
	if err != nil || tries == 0 {
		t.Fatal(tries, err)
	}
	to := InMemory(nil)
	if err := a.RestoreIn(to, "there"); err != nil {
		t.Fatal(err)
	}
	r := mergeReopen(t, to)
	if same, _, err := r.endsAs(r.last()); err != nil || !same {
		t.Error("the memory of the end is of another moment than the journal", err)
	}
	if to.Text(copyName(may)) != to.Text(JournalFile) {
		t.Error("the daily copy is of another moment than the journal")
	}
}
