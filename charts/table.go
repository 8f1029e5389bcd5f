package charts

import "slices"

// grid is a table as it stands under a chart or alone. The first column
// heads its rows.
type grid struct {
	Caption string
	Head    []string
	Words   int // leading columns that hold words, not numbers; the first always does
	Rows    [][]string
	mends   map[int][]mend   // of a row, the ways to its entries
	struck  map[int][]struck // what stands struck through under a row
}

// add puts a row at the end.
func (g *grid) add(texts ...string) { g.Rows = append(g.Rows, texts) }

// addOf puts a row at the end that was written down as an entry.
func (g *grid) addOf(m mend, texts ...string) { g.addOfAll([]mend{m}, texts...) }

// addOfAll puts a row at the end that several entries make up.
func (g *grid) addOfAll(all []mend, texts ...string) {
	if g.mends == nil {
		g.mends = map[int][]mend{}
	}
	for _, m := range all {
		if m.Href != "" {
			g.mends[len(g.Rows)] = append(g.mends[len(g.Rows)], m)
			g.strike(len(g.Rows), m.Was...)
		}
	}
	g.add(texts...)
}

// addStruck puts what no longer counts at the end, in a row of its own.
func (g *grid) addStruck(s struck) {
	g.strike(len(g.Rows), s)
	g.add()
}

func (g *grid) strike(row int, list ...struck) {
	if g.struck == nil {
		g.struck = map[int][]struck{}
	}
	g.struck[row] = append(g.struck[row], list...)
}

// has reports whether a row leads to an entry.
func (g *grid) has(id string) bool {
	for _, list := range g.mends {
		if slices.ContainsFunc(list, func(m mend) bool { return m.ID == id }) {
			return true
		}
	}
	return false
}

// HasMends reports whether any row leads to an entry.
func (g grid) HasMends() bool { return len(g.mends) > 0 }

// MendsOf are the ways to the entries of a row.
func (g grid) MendsOf(row int) []mend { return g.mends[row] }

// StruckUnder is what stands struck through under a row.
func (g grid) StruckUnder(row int) []struck { return g.struck[row] }

// Columns is how many columns there are, that of the ways to entries included.
func (g grid) Columns() int {
	if g.HasMends() {
		return len(g.Head) + 1
	}
	return len(g.Head)
}

// IsWord reports whether column i holds words.
func (g grid) IsWord(i int) bool { return i < max(g.Words, 1) }

// drawing is a chart with the sentence above it and the table under it.
type drawing struct {
	ID     string
	Said   string         // the sentence
	Option map[string]any // the chart; nil where there is no charting library
	Table  grid
}
