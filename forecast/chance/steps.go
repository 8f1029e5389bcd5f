package chance

// Steps returns the tally's distribution function: the values that occurred,
// ascending, and beside each the share of all draws, never included, that is
// at most that value. Amounts stand at the mids of their bins.
func (t *Tally) Steps() (values, upTo []float64) {
	if t.total == 0 {
		return nil, nil
	}
	acc := 0.0
	for i, w := range t.bins {
		if w == 0 {
			continue
		}
		acc += w
		values, upTo = append(values, t.value(i)), append(upTo, min(acc/t.total, 1))
	}
	return values, upTo
}
