package yard

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// printedAgain prints an entry from what was read of it and reads that: it
// must say the same, and be printed the same from then on.
func printedAgain(t *testing.T, e *Entry, terms *Terms) {
	t.Helper()
	text, problems := Compose(e.Kind, e.Values(), *terms)
	if text == "" {
		t.Fatalf("%s\nread as %v cannot be printed: %s", e.Text, e.Values(), lines(problems))
	}
	printed := "\n" + signed(text, atSix, "kitchen-7")
	j := readJournal([]byte(printed), terms)
	if len(j.entries) != 1 || j.torn >= 0 || len(j.problems) > 0 {
		t.Fatalf("%s\nprinted as\n%s\nis read as %d entries\n%s", e.Text, printed, len(j.entries), lines(j.all()))
	}
	again := j.entries[0]
	if again.ID != "kitchen-7" || again.Written != atSix || again.Text != strings.TrimSpace(printed) {
		t.Fatalf("%s\nis read as %s of %s\n%s", printed, again.ID, again.Written, again.Text)
	}
	was, is := *e, *again
	if !saysTheSame(was.Event, is.Event) || was.By != is.By || was.Note != is.Note || was.Place != is.Place || was.Hours != is.Hours || was.People != is.People || was.On.String() != is.On.String() {
		t.Fatalf("%s\nprinted as\n%s\nsays something else: %#v, not %#v", e.Text, printed, is.Event, was.Event)
	}
	if twice, _ := Compose(again.Kind, again.Values(), *terms); twice != text {
		t.Fatalf("%s\nis then printed as\n%s", text, twice)
	}
}

// saysTheSame compares what two entries say. A changed setting may stand as a
// number or as text that holds it: both are read alike.
func saysTheSame(a, b Event) bool {
	x, ok := a.(*Changed)
	y, same := b.(*Changed)
	if ok && same {
		return x.Key == y.Key && typed(x.Value) == typed(y.Value)
	}
	return reflect.DeepEqual(a, b)
}

// Every entry of the frozen yard is printed and read as what it is.
func TestPrintedIsRead(t *testing.T) {
	f, _, err := Open("../testdata/yards/frozen-1", loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	entries, _ := f.Entries()
	terms := f.Terms()
	for _, e := range entries {
		printedAgain(t, e, &terms)
	}
	if len(entries) < 40 {
		t.Errorf("only %d entries", len(entries))
	}
}

// Whatever words a person types into an entry of any kind, it is read as what
// was printed.
func TestPrintedWords(t *testing.T) {
	terms := &Terms{Data: loaded(t), Today: may, Measures: baskets}
	rapid.Check(t, func(rt *rapid.T) {
		k := rapid.SampledFrom(Kinds()).Draw(rt, "kind")
		v := examples(k)
		for _, key := range k.Keys {
			switch key.Kind {
			case TextKey, LotKey, BatchKey:
				if v[key.Name] != "" {
					v[key.Name] = rapid.StringMatching(`[^ ](.|\n|\t|\pL|[\x00-\x1f"'\\#=\[\]])*[^ ]`).Draw(rt, key.Name)
				}
			}
		}
		text, _ := Compose(k.Name, v, *terms)
		if text == "" {
			rt.Skip("it is refused")
		}
		entries, problems := readText(text, terms)
		if len(entries) != 1 || !validText(text) {
			rt.Fatalf("%q is read as %d entries: %s", text, len(entries), lines(problems))
		}
		if len(problems) == 0 {
			printedAgain(t, entries[0], terms)
		}
	})
}

// FuzzPrinted: whatever stands in a journal, an entry that is read without a
// complaint is printed and read as what it is.
func FuzzPrinted(f *testing.F) {
	set := loaded(f)
	terms := &Terms{Data: set, Today: may}
	for _, k := range Kinds() {
		for _, v := range []map[string]string{examples(k), otherExamples(k)} {
			if text, _ := Compose(k.Name, v, *terms); text != "" {
				f.Add(text)
			}
		}
	}
	f.Add("[[walked]]\non = \"2024-W09\"\nnote = '''two\n\\lines\t\u0085'''\nhours = 1e-3\n")
	f.Add("[[bottled]]\non = 2025-01-01\nbatch = 26\nbottles = [{size = \"1/2 l\", count = 3}]\n")
	f.Fuzz(func(t *testing.T, s string) {
		for _, e := range readJournal([]byte(s), terms).entries {
			if e.Event != nil && len(e.problems) == 0 {
				printedAgain(t, e, terms)
			}
		}
	})
}
