package charts

// grid is a table as it stands under a chart or alone. The first column
// heads its rows.
type grid struct {
	Caption string
	Head    []string
	Words   int // leading columns that hold words, not numbers; the first always does
	Rows    [][]string
	Mends   []mend // of each row, the way to its entry; empty where rows are of no entry
}

// add puts a row at the end.
func (g *grid) add(texts ...string) { g.Rows = append(g.Rows, texts) }

// addOf puts a row at the end that was written down as an entry.
func (g *grid) addOf(m mend, texts ...string) {
	g.add(texts...)
	g.Mends = append(g.Mends, m)
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
