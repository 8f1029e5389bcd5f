package yard

import (
	"strings"
	"testing"
)

// Every example that may be offered is read without a word, and together they
// show every method, form and way of naming an ingredient.
func TestExampleRecipesAreRead(t *testing.T) {
	set := loaded(t)
	methods, forms := map[string]bool{}, map[string]bool{}
	or, optional, ratio, strength := false, false, false, false
	for _, example := range set.Recipes {
		m := InMemory(map[string]string{YardFile: smallYard, RecipesFile: strings.TrimSpace(example.Text), JournalFile: ""})
		f, problems, err := OpenFiles(m, set, may)
		if err != nil || len(problems) > 0 {
			t.Fatalf("%s: %v %v", example.Name, err, problems)
		}
		for _, r := range f.Recipes() {
			if r.Name != example.Name {
				t.Errorf("%q is offered as %q", r.Name, example.Name)
			}
			methods[r.Method] = true
			ratio, strength = ratio || r.ToABV == 0, strength || r.ToABV > 0
			for _, in := range r.Ingredients {
				forms[in.Form] = true
				or, optional = or || len(in.Or) > 0, optional || in.Optional
			}
		}
	}
	if len(methods) != len(Methods) || len(forms) != 3 || !or || !optional || !ratio || !strength {
		t.Errorf("methods %v, forms %v, alternatives %t, optional %t, by ratio %t, to a strength %t", methods, forms, or, optional, ratio, strength)
	}
}
