package linear

// weighted is a value and its weight.
type weighted struct{ v, w float64 }

// least is the smallest value up to which the weights come to want, and false
// where all of them do not. It changes the order.
func least(list []weighted, want float64) (float64, bool) {
	total := 0.0
	for _, e := range list {
		total += e.w
	}
	if len(list) == 0 || total < want {
		return 0, false
	}
	lo, hi := 0, len(list)-1
	for lo < hi {
		i, j := split(list, lo, hi)
		low := 0.0
		for _, e := range list[lo : j+1] {
			low += e.w
		}
		if low >= want {
			hi = j
			continue
		}
		same := low
		for _, e := range list[j+1 : i] {
			same += e.w
		}
		if same >= want || i > hi {
			return list[j+1].v, true
		}
		want, lo = want-same, i
	}
	return list[lo].v, true
}

// top is the sum of the largest values that make up a weight, each times the
// part of its weight that is taken. It changes the order.
func top(list []weighted, weight float64) float64 {
	sum := 0.0
	lo, hi := 0, len(list)-1
	for lo <= hi && weight > 0 {
		i, j := lo, hi
		if lo < hi {
			i, j = split(list, lo, hi)
		} else {
			i, j = hi+1, lo-1
		}
		high, worth := 0.0, 0.0
		for _, e := range list[i : hi+1] {
			high += e.w
			worth += e.w * e.v
		}
		if high > weight {
			lo = i
			continue
		}
		sum, weight = sum+worth, weight-high
		same := 0.0
		for _, e := range list[j+1 : i] {
			same += e.w
		}
		if same >= weight {
			return sum + weight*list[j+1].v
		}
		sum, weight = sum+same*list[j+1].v, weight-same
		hi = j
	}
	return sum
}

// split orders list[lo:hi+1] by a value in its middle: up to j are less, from i
// on more, and between them the same.
func split(list []weighted, lo, hi int) (i, j int) {
	a, b, c := list[lo].v, list[(lo+hi)/2].v, list[hi].v
	pivot := max(min(a, b), min(max(a, b), c))
	at, k, end := lo, lo, hi
	for k <= end {
		switch v := list[k].v; {
		case v < pivot:
			list[at], list[k] = list[k], list[at]
			at++
			k++
		case v > pivot:
			list[k], list[end] = list[end], list[k]
			end--
		default:
			k++
		}
	}
	return k, at - 1
}
