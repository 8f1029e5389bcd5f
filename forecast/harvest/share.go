package harvest

import "gonum.org/v1/gonum/mathext"

// Beta is what is believed of a share.
//
// Purpose: the share of logs that never take, learned from losses. Equations:
// Beta(A, B) with f of n counted becomes Beta(A+f, B+n−f), the conjugate prior
// of a binomial (Gelman et al. 2013, Bayesian Data Analysis, section 2.4; from
// memory). Parameters: A and B, above zero. State: none. Needs nothing from
// others. Errors: none.
type Beta struct{ A, B float64 }

// BetaOf has a mean, above 0 and under 1, and a variance, under that of a
// coin of that mean: A+B = mean·(1−mean)/variance − 1.
func BetaOf(mean, variance float64) Beta {
	sum := max(mean*(1-mean)/variance-1, 1e-3)
	return Beta{mean * sum, (1 - mean) * sum}
}

// Counted adds so many that were of the share, and so many that were not;
// they need not be whole.
func (b Beta) Counted(of, not float64) Beta { return Beta{b.A + max(of, 0), b.B + max(not, 0)} }

// Mean of the share.
func (b Beta) Mean() float64 { return b.A / (b.A + b.B) }

// At is the value that the share does not exceed with chance p.
func (b Beta) At(p float64) float64 { return mathext.InvRegIncBeta(b.A, b.B, p) }
