package yard

import (
	"strings"
	"testing"
)

// A memory of the end that was cut short, written over, or written by an older
// program is not believed: no identifier is given twice.
func TestMemoryThatIsNotWhole(t *testing.T) {
	for name, change := range map[string]func(text string) string{
		"cut at its numbers": func(s string) string { return s[:strings.Index(s, "[numbers]")] },
		"a number too low":   func(s string) string { return strings.Replace(s, `"kitchen" = 3`, `"kitchen" = 2`, 1) },
		"without its sum": func(s string) string {
			_, behind, _ := strings.Cut(s, "\nsize")
			return "size" + strings.Replace(behind, `"kitchen" = 3`, `"kitchen" = 2`, 1)
		},
		"a name of a pile gone": func(s string) string { return strings.Replace(s, `"oak-north"`, "", 1) },
	} {
		f, m := yardOf(t, oak)
		record(t, f, walk(t, f))
		record(t, f, walk(t, f))
		is := change(m.Text(lastFile))
		if is == m.Text(lastFile) {
			t.Fatalf("%s: nothing was changed in\n%s", name, is)
		}
		m.files[lastFile] = []byte(is)
		f = mergeReopen(t, m)
		if id, problems := record(t, f, walk(t, f)); id != "kitchen-4" || len(problems) > 0 {
			t.Errorf("%s: %s %s", name, id, lines(problems))
		}
	}
}

// A daily copy that somebody put another in the place of is made anew before
// an entry is recorded, and keeps what only it has.
func TestCopyPutInThePlace(t *testing.T) {
	for name, is := range map[string]string{"an older one": "before", "nothing": "", "other bytes": "other"} {
		for _, by := range []string{"record", "mend"} {
			f, m := yardOf(t, oak)
			record(t, f, walk(t, f))
			before := m.Text(copyName(may))
			record(t, f, walk(t, f))
			record(t, f, walk(t, f))
			switch is {
			case "before":
				m.files[copyName(may)] = []byte(before)
			case "other":
				m.files[copyName(may)] = []byte(strings.Repeat("#", len(m.Text(copyName(may)))))
			default:
				m.files[copyName(may)] = nil
			}
			f = mergeReopen(t, m)
			if !has(f.Check(), 0, "the daily copy is not as the program left it") {
				t.Errorf("%s: verify says\n%s", name, lines(f.Check()))
			}
			if by == "record" {
				record(t, f, walk(t, f))
			} else if said := mended(t, f); !strings.Contains(said, "made the daily copy .hodaba/journal-friday.toml anew") {
				t.Errorf("%s: mended\n%s", name, said)
			}
			if m.Text(copyName(may)) != m.Text(JournalFile) || len(f.Check()) > 0 {
				t.Errorf("%s, %s: the copy is\n%s", name, by, m.Text(copyName(may)))
			}
			m.files[JournalFile] = []byte(oak)
			if got := lackSaid(t, mergeReopen(t, m)); !strings.HasPrefix(got, "kitchen-2, kitchen-3, kitchen-4") {
				t.Errorf("%s, %s: missing is %s", name, by, got)
			}
		}
	}
}

// What only the copy has that was put there stays in it.
func TestCopyPutInThePlaceKeepsWhatItHas(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	m.files[copyName(may)] = append([]byte(m.Text(copyName(may))), lackTable("barn-7", "30", `"1 kg"`)...)
	record(t, f, walk(t, f))
	if !strings.Contains(m.Text(copyName(may)), `"barn-7"`) || !strings.Contains(m.Text(copyName(may)), `"kitchen-3"`) {
		t.Error(m.Text(copyName(may)))
	}
}

// Recording reads neither the journal nor a copy through, however long they are.
func TestRecordReadsOnlyTheEnds(t *testing.T) {
	f, m := yardOf(t, oak+strings.Repeat(pick, 2000))
	record(t, f, walk(t, f))
	opened := map[string]int{}
	m.Fault = func(op, name string) error {
		opened[op+" "+name]++
		return nil
	}
	f = mergeReopen(t, m)
	clear(opened)
	record(t, f, walk(t, f))
	// Each is looked at, then opened for its end; the copy once more to append.
	if opened["open "+JournalFile] > 2 || opened["open "+copyName(may)] > 3 || opened["replace "+copyName(may)] != 0 {
		t.Error(opened)
	}
}
