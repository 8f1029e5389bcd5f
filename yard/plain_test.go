package yard

import (
	"reflect"
	"slices"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// alike brings the values of both readers to one form.
func alike(vals map[string]any) map[string]any {
	out := map[string]any{}
	for k, v := range vals {
		switch x := v.(type) {
		case []map[string]any:
			rows := make([]any, len(x))
			for i := range x {
				rows[i] = alike(x[i])
			}
			out[k] = rows
		case Date, Moment:
			out[k] = x
		case time.Time:
			out[k], _ = momentOf(x)
			if x.Location().String() == "date-local" {
				out[k] = out[k].(Moment).Day()
			}
		default:
			out[k] = v
		}
	}
	return out
}

// Whatever the quick reader reads, the library reads alike; and what the
// library refuses, the quick reader does not read.
func FuzzPlain(f *testing.F) {
	for _, s := range []string{
		"[[harvested]]\non = 2026-04-12\nfresh = \"2.4 kg\"\n", "[[a]]\nb = 1.50 # x\nc = true\nd=2025-04-12T18:02:00\n# r\n",
		"[[a]]\nb = 007\n", "[[a]]\nb = \"\"\"x\"\"\"\n", "[[a]]\nb = 1\nb = 2\n", "[[a]]\nb = 2026-02-30\n", "[[a]]\nb = 1_000\n",
		"[[a]]\nb = \"x\\n\"\n", "[[a]]  \n1 = 0.5\n", "[[a]]\nb = 24:00:00\n", "[[a]]\nb = 2026-04-12T24:00:00\n", "[[a]]\nb = 0000-01-01\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		quick, ok := plainTable(s)
		if !ok || !utf8.ValidString(s) { // cleaned has mended that before
			return
		}
		var slow map[string]any
		if _, err := toml.Decode(s, &slow); err != nil {
			t.Fatalf("%q: quick read %v, the library says %v", s, quick, err)
		}
		if a, b := alike(quick), alike(slow); !reflect.DeepEqual(a, b) {
			t.Fatalf("%q:\nquick   %#v\nlibrary %#v", s, a, b)
		}
	})
}

func TestPlainReadsWhatRecordWrites(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for _, k := range Kinds() {
		text, problems := Compose(k.Name, examples(k), terms)
		if text == "" {
			t.Fatal(k.Name, problems)
		}
		_, ok := plainTable(signed(text, "2026-05-01T18:02:00", "kitchen-1"))
		lists := []string{"walked", "watered", "harvested", "macerated", "blended", "bottled", "sold", "given", "eaten", "joined"}
		if want := !slices.Contains(lists, k.Name); ok != want {
			t.Errorf("%s: quick reader reads it: %v, want %v", k.Name, ok, want)
		}
	}
}
