package yard

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// BottleShare is a size of bottle, and the share of a batch that goes into
// bottles of it.
type BottleShare struct{ ML, Share float64 }

// BottleSizes are the sizes that a recipe fills, as they are written; their
// shares come to one.
func (r *Recipe) BottleSizes() []BottleShare {
	if len(r.Bottles) > 0 {
		return r.Bottles
	}
	return []BottleShare{{r.BottleML, 1}}
}

const sizesRemedy = `write each size with its share of the batch, bottles = ["100 ml 3/4", "50 ml 1/4"]`

// mostSizes is more sizes than anyone fills of one batch, and shareSlack by how
// much written shares may miss one: thirds are written as 33 %.
const (
	mostSizes  = 8
	shareSlack = 0.02
)

var shareForm = regexp.MustCompile(`^(.*\S)\s+(?:(\d{1,6})\s*/\s*(\d{1,6})|(\d{1,3}(?:[.,]\d{1,4})?)\s*%)$`)

// ParseBottleSize reads "100 ml", "100 ml 3/4" or "100 ml 75 %"; the share is
// NaN where it is not said.
func ParseBottleSize(s string, measures map[string]Quantity) (BottleShare, error) {
	size, share := strings.TrimSpace(s), math.NaN()
	if m := shareForm.FindStringSubmatch(size); m != nil {
		size = m[1]
		if m[4] != "" {
			n, _ := strconv.ParseFloat(strings.Replace(m[4], ",", ".", 1), 64)
			share = n / 100
		} else {
			share = float64(digits(m[2])) / float64(digits(m[3])) // nought below the line is refused by its size
		}
		if !(share > 0 && share <= 1+shareSlack) {
			return BottleShare{}, mistake{shown(s) + ": that is no share", sizesRemedy}
		}
	}
	q, err := ParseQuantity(size, Millilitre, measures)
	switch {
	case err != nil:
		return BottleShare{}, err
	case q.Mid() < leastBottleML:
		return BottleShare{}, mistake{shown(s) + " is no bottle", sizesRemedy}
	}
	return BottleShare{q.Mid(), share}, nil
}

// leastBottleML is the smallest bottle, ml: what is less is a slip of the pen.
const leastBottleML = 1

// bottles reads the sizes of a recipe. Sizes without a share have what the
// others leave, in equal parts.
func (t *table) bottles(x *Recipe) {
	v, ok := t.vals["bottles"]
	if !ok {
		return
	}
	say := func(text string) { t.say(Aside, "bottles", text, sizesRemedy) }
	if _, both := t.vals["bottle"]; both {
		say("bottle and bottles are both given")
		return
	}
	var sizes []BottleShare
	for _, one := range listOf(v) {
		s, isText := one.(string)
		if !isText {
			say("bottles: " + shownValue(one) + " is no size of bottle")
			return
		}
		b, err := ParseBottleSize(s, t.terms.Measures)
		if err != nil {
			t.fail("bottles", err)
			return
		}
		if slices.ContainsFunc(sizes, func(o BottleShare) bool { return o.ML == b.ML }) {
			say(fmt.Sprintf("bottles: the size %s stands twice", shown(s)))
			return
		}
		sizes = append(sizes, b)
	}
	if len(sizes) == 0 || len(sizes) > mostSizes {
		say(fmt.Sprintf("bottles has %d sizes", len(sizes)))
		return
	}
	if text := shareOut(sizes); text != "" {
		say("bottles: " + text)
		return
	}
	x.Bottles = sizes
	most := sizes[0]
	for _, b := range sizes {
		if b.Share > most.Share {
			most = b
		}
	}
	x.BottleML = most.ML
}

// shareOut gives sizes without a share theirs, and brings all to one; what is
// wrong comes back in words.
func shareOut(sizes []BottleShare) string {
	sum, unsaid := 0.0, 0
	for _, b := range sizes {
		if math.IsNaN(b.Share) {
			unsaid++
		} else {
			sum += b.Share
		}
	}
	rest := 1 - sum
	switch {
	case sum > 1+shareSlack:
		return fmt.Sprintf("the shares come to %s %%, more than all", decimal(math.Round(sum*1000)/10))
	case unsaid == 0 && rest > shareSlack:
		return fmt.Sprintf("the shares come to %s %%, not to all", decimal(math.Round(sum*1000)/10))
	case unsaid > 0 && rest < shareSlack:
		return "the shares leave nothing for the size without one"
	}
	total := 0.0
	for i := range sizes {
		if math.IsNaN(sizes[i].Share) {
			sizes[i].Share = rest / float64(unsaid)
		}
		total += sizes[i].Share
	}
	for i := range sizes {
		sizes[i].Share /= total
	}
	return ""
}
