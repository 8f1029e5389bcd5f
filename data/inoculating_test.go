package data

import (
	"strings"
	"testing"
)

// What cannot be right in inoculating.toml is caught, and says where.
func TestInoculatingFaultsAreCaught(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", `along_cm =`, `along_in =`, `unknown key along_in`},
		{"no distance", `along_cm = { value = 15`, `along_cm = { value = 0`, `along_cm 0 and rows_cm 7.5 are not both above 0`},
		{"steps do not add up", `drilling = { value = 0.20`, `drilling = { value = 0.30`, `the five shares sum to 1.1`},
		{"labour does not add up", `tending      = { value = 0.32`, `tending      = { value = 0.3`, `inoculating, tending and selling sum to 0.98`},
		{"form missing", `name        = "thimble"`, `name        = "thimbles"`, `form: thimble is wanted`},
		{"pack of nothing", `holds = [600]`, `holds = [0]`, `a pack of 0 holds nothing`},
		{"packs without a source", `holds = [600], quality = "read", source = "plug_pages"`, `holds = [600]`, `packs: no source`},
		{"spare", `spare = { value = 0.08`, `spare = { value = 8`, `spare 8 is no share`},
		{"price of nothing", `hour     = { value = 10`, `hour     = { value = 0`, `0 dollars of 2015`},
		{"price of no year", `year = 2016,`, `year = 16,`, `dollars of 16`},
		{"budget", `per_log = 4.74`, `per_log = -4.74`, `budget "15 beginning farms"`},
		{"rest descends", `from_weeks = 2
to_weeks   = 6`, `from_weeks = 7
to_weeks   = 6`, `7 to 6 weeks do not ascend`},
		{"warmth descends", `opens_c  = { value = 6`, `opens_c  = { value = 19`, `opens_c below closes_c`},
		{"spring", `catch_c     =`, `#`, `catch_c and frost_weeks are wanted`},
		{"not above 0", `bit_holes   = { value = 2000`, `bit_holes   = { value = 0`, `carry and shop`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := load(planted(t, inoculatingFile, c.old, c.new))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("the error does not say %q:\n%v", c.want, err)
			}
		})
	}
}

// Every source on resting and every price is listed with where it comes from.
func TestInoculatingIsListed(t *testing.T) {
	want := map[string]bool{
		"inoculating, rest": false, "inoculating, price, hour": false, "inoculating, form plug, keeps_weeks": false,
		"inoculating, warmth for reishi, opens_c": false, "inoculating, budget of 15 beginning farms": false,
	}
	for _, p := range loaded(t).Provenance() {
		if _, ok := want[p.Where]; ok {
			want[p.Where] = true
		}
	}
	for where, found := range want {
		if !found {
			t.Errorf("nothing listed at %q", where)
		}
	}
}
