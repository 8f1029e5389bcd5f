package yard

import "testing"

// A yard made of an archive gives no identifier that the old disk may have given
// after the archive was written.
func TestRenumber(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	for range 3 {
		record(t, f, "[[walked]]\non = 2026-04-21\n")
	}
	for _, memory := range []bool{true, false} {
		a, _, err := f.Pack(t.Context(), may)
		if err != nil {
			t.Fatal(err)
		}
		if !memory {
			delete(a.files, lastFile)
		}
		a.Renumber()
		to := InMemory(nil)
		if err := a.RestoreIn(to, "there"); err != nil {
			t.Fatal(err)
		}
		again, _, err := OpenFiles(to, loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		if to.Text(JournalFile) != m.Text(JournalFile) {
			t.Error(to.Text(JournalFile))
		}
		if id, problems := record(t, again, "[[walked]]\non = 2026-04-22\n"); id != "kitchen-601" || len(problems) > 0 {
			t.Error(memory, id, lines(problems))
		}
	}
}
