package yard

import "testing"

func TestStringState(t *testing.T) {
	for line, want := range map[string]string{
		`a = "x"`: "", `a = """x`: `"""`, `a = """x"""`: "", `a = ["""x"""", """y`: `"""`, `a = ["""x""""", '''y`: "'''",
		`# """`: "", `a = 1 # """`: "", `a = '"""'`: "", `a = "'''"`: "", `a = "\"" # '''`: "", `a = """\"""`: `"""`, `a = '''\'''`: "",
	} {
		if got := stringState([]byte(line), ""); got != want {
			t.Errorf("%s leaves %q open, want %q", line, got, want)
		}
	}
}

func TestKeyLine(t *testing.T) {
	text := "[[x]]\nonward = 1\nnote = \"on = 3\"\n  \"on\" = 2\n"
	for key, want := range map[string]int{"on": 4, "onward": 2, "note": 3, "x": 0} {
		if got := keyLine(text, key); got != want {
			t.Errorf("%s stands in line %d, want %d", key, got, want)
		}
	}
}

func TestIsHeader(t *testing.T) {
	for line, want := range map[string]bool{
		"[[walked]]": true, "  [site]": true, "[[ walked ]]": true, "[[walked": true, "[site.normals]": true, "[": true, "[[": true,
		`["a", "b"]`: false, "[1, 2]": false, "[true, false]": false, "[[inf]]": false, "a = [b]": false, "# [x]": false, "": false, "[\"x\"": false,
	} {
		if got := isHeader([]byte(line)); got != want {
			t.Errorf("%q is a header: %v", line, got)
		}
	}
}
