package data

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// NamedRequirement is the requirement of one strain class of one species.
type NamedRequirement struct {
	Species string `toml:"species"`
	Strain  string `toml:"strain"`
	Requirement
}

// RequirementFile returns the name, inside the directory of this package, of
// the file that holds the solved requirements.
func RequirementFile() string { return "requirement.toml" }

// requirementHead stands at the top of that file.
const requirementHead = `# Solved by code from the windows in species/*.toml; do not edit.
# mu and sigma are the mean and the standard deviation of ln(growing days) that
# a reference log needs, the other ones those for the other curves of
# practice.toml. A test writes this file with -update and compares it.
`

// EncodeRequirements writes the text of requirement.toml, in the order given.
// Numbers are rounded to six decimals, so that platforms whose last bit
// differs write the same bytes.
func EncodeRequirements(all []NamedRequirement) []byte {
	var b bytes.Buffer
	b.WriteString(requirementHead)
	for _, r := range all {
		fmt.Fprintf(&b, "\n[[requirement]]\nspecies = %s\nstrain  = %s\nmu      = %s\nsigma   = %s\nsolved  = %t\n",
			quoted(r.Species), quoted(r.Strain), sixth(r.Mu), sixth(r.Sigma), r.Solved)
		if r.Year > 0 {
			fmt.Fprintf(&b, "year_growing_days = %s\n", strconv.FormatFloat(r.Year, 'f', 1, 64))
		}
		if r.OtherSigma != [OtherCurves]float64{} {
			fmt.Fprintf(&b, "other_mu    = %s\nother_sigma = %s\n", sixths(r.OtherMu), sixths(r.OtherSigma))
		}
		if r.Note != "" {
			fmt.Fprintf(&b, "note    = %s\n", quoted(r.Note))
		}
	}
	return b.Bytes()
}

// Requirements lists what every strain class needs, in the order of the
// species and strains; unsolved ones are in it with Solved false.
func (s *Set) Requirements() []NamedRequirement {
	var all []NamedRequirement
	for i := range s.Species {
		for _, st := range s.Species[i].Strains {
			all = append(all, NamedRequirement{s.Species[i].Name, st.Name, st.Need})
		}
	}
	return all
}

func sixths(all [OtherCurves]float64) string {
	var words []string
	for _, x := range all {
		words = append(words, sixth(x))
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func sixth(x float64) string { return strconv.FormatFloat(x, 'f', 6, 64) }

// quoted writes a TOML basic string.
func quoted(s string) string {
	var b bytes.Buffer
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
