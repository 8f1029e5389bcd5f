package yard

import (
	"strings"
	"testing"
)

// A number of a later format is found wherever it stands, and nothing is
// written then; what is no number is said with a way out that works.
func TestFormatWhereverItStands(t *testing.T) {
	site := "name = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n"
	marks := func(here, there string) string {
		return "<<<<<<< HEAD\n" + here + "=======\n" + there + ">>>>>>> stick\n" + site
	}
	for text, says := range map[string]string{
		site:                               "",
		"format = 1\n" + site:              "",
		"\"format\" = 01 # one\r\n" + site: "",
		"format = \"1\"\n" + site:          "",
		marks("format = 1\n", "format = 1\nunits = \"us\"\n"):            "",
		site + "[export]\nformat = \"csv\"\n":                            "", // a table that a later program added
		marks("format = 1\n", "format = 2\n"):                            "yard.toml:4: this yard is of format 2",
		marks("format = 2\n", ""):                                        "yard.toml:2: this yard is of format 2",
		marks("format = 1\n[site]\n", "format = 2\n[site]\n"):            "yard.toml:5: this yard is of format 2",
		"<<<<<<< HEAD\nformat = 1\n[site]\n=======\nformat = 2\n" + site: "yard.toml:5: this yard is of format 2",
		"format = 1\nformat = 2\n" + site:                                "yard.toml:2: this yard is of format 2",
		"format = 2\nformat = 1\n" + site:                                "yard.toml:1: this yard is of format 2",
		"format = \"2\"\n" + site:                                        "yard.toml:1: this yard is of format 2",
		"format = 02\n" + site:                                           "yard.toml:1: this yard is of format 2",
		"\xef\xbb\xbf'format'=0x2\r\n" + site:                            "yard.toml:1: this yard is of format 2",
		"format = 2\nname = \"half\n" + site:                             "yard.toml:1: this yard is of format 2",
		"name = 3\nformat = two\n" + site:                                "yard.toml:2: this yard is of format \"two\", and that is no number",
		"format =\n" + site:                                              "yard.toml:1: this yard is of format \"\", and that is no number",
	} {
		m := InMemory(map[string]string{YardFile: text, JournalFile: twinsPiles})
		f, problems, err := OpenFiles(m, loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, p := range problems {
			if IsLater(p) {
				said = append(said, p.String())
			}
		}
		if len(said) > 1 || !strings.HasPrefix(strings.Join(said, ""), says) || says == "" && len(said) > 0 {
			t.Errorf("%q: %q", text, said)
		}
		entry, _ := Compose("walked", map[string]string{"piles": "oak-n"}, f.Terms())
		_, _, err = f.Record(entry, "kitchen", atSix)
		if later := says != ""; f.Later() != later || (err != nil) != later {
			t.Errorf("%q: later %v, %v", text, f.Later(), err)
		}
	}
}
