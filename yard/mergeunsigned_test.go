package yard

import (
	"bytes"
	"strings"
	"testing"
)

// An entry that stands in one copy without its identifier is that of the other
// copy, in a merge both ways and in an archive.
func TestMergeOfUnsigned(t *testing.T) {
	pick := lackTable("kitchen-2", "01", `"1.4 kg"`)
	same := lackTable("kitchen-3", "01", `"1.4 kg"`) // another, in the same second
	for name, from := range map[string][2]string{
		"without":    {"entry   = \"kitchen-2\"\n", ""},
		"other word": {`"kitchen-2"`, `"Kitchen two"`},
	} {
		whole := oak + pick + same
		changed := strings.Replace(whole, from[0], from[1], 1)
		fa, ma := yardOf(t, changed)
		fb, mb := yardOf(t, whole)
		a, b := mergeInto(t, fa, mb), mergeInto(t, fb, ma)
		if len(a.Taken)+len(b.Taken) > 0 || a.LeftOut() || b.LeftOut() || ma.Text(JournalFile) != changed || mb.Text(JournalFile) != whole {
			t.Errorf("%s: taken over %v and %v", name, a.Taken, b.Taken)
		}
		if !has(a.Problems, 0, "kitchen-2 stands here without its identifier or under another, in line 9") || !has(b.Problems, 0, "kitchen-2, in line 9 here, stands in the other copy") {
			t.Errorf("%s:\n%s%s", name, lines(a.Problems), lines(b.Problems))
		}
		for _, x := range [][2]*Folder{{fa, fb}, {fb, fa}} {
			if lost := x[0].LostIn(unsignedArchive(t, x[0]), unsignedArchive(t, x[1])); !lost.Nothing() {
				t.Errorf("%s: %+v", name, lost)
			}
		}
	}
	fa, _ := yardOf(t, strings.Replace(oak+pick, "entry   = \"kitchen-2\"\n", "", 1)+"\n[[walked]]\non = 2026-04-30\n")
	fb, mb := yardOf(t, oak+pick+same) // two there, and one here
	if lost := fa.LostIn(unsignedArchive(t, fa), unsignedArchive(t, fb)); strings.Join(lost.Entries, " ") != "kitchen-3" {
		t.Errorf("%+v", lost)
	}
	if o := mergeInto(t, fa, mb); len(o.Taken) != 1 || o.Taken[0].ID != "kitchen-3" {
		t.Errorf("%v\n%s", o.Taken, lines(o.Problems))
	}
}

// What the daily copies know to have lost its identifier and its moment is not
// taken over beside itself.
func TestMergeOfUnsignedThatCopiesKnow(t *testing.T) {
	f, m := yardOf(t, oak+lackTable("kitchen-2", "01", `"1.4 kg"`))
	record(t, f, walk(t, f))
	other := InMemory(map[string]string{YardFile: m.Text(YardFile), JournalFile: m.Text(JournalFile)})
	m.files[JournalFile] = []byte(strings.NewReplacer("entry   = \"kitchen-2\"\n", "", "written = 2026-04-30T10:01:00\n", "").Replace(m.Text(JournalFile)))
	f.read = nil
	if o := mergeInto(t, f, other); len(o.Taken) > 0 || !has(o.Problems, 0, "kitchen-2 stands here without") {
		t.Errorf("%v\n%s", o.Taken, lines(o.Problems))
	}
}

func unsignedArchive(t *testing.T, f *Folder) *Archive {
	t.Helper()
	b, _ := packed(t, f)
	a, err := ReadArchive(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return a
}
