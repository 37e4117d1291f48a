package review

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// z95 is the 97.5 % quantile of the standard normal distribution.
const z95 = 1.959963984540054

// Wilson is the share count/n with its 95 % score interval: E. B. Wilson,
// "Probable inference, the law of succession, and statistical inference", JASA
// 22 (1927) 209-212, without continuity correction (formula from memory;
// checked against an outside reference).
func Wilson(count, n int) Rate {
	if n == 0 {
		return Rate{Count: count, High: 1}
	}
	N, p := float64(n), float64(count)/float64(n)
	const zz = z95 * z95
	centre := (p + zz/(2*N)) / (1 + zz/N)
	half := z95 / (1 + zz/N) * math.Sqrt(p*(1-p)/N+zz/(4*N*N))
	r := Rate{Count: count, N: n, Rate: p, Low: max(0, centre-half), High: min(1, centre+half)}
	if count == 0 {
		r.Low = 0
	}
	if count == n {
		r.High = 1
	}
	return r
}

// alpha is Cronbach's coefficient for scores[learner][item], each learner with
// every item: k/(k-1) (1 - sum of item variances / variance of sums), L. J.
// Cronbach, Psychometrika 16 (1951) 297-334. For items scored 0 and 1 it is
// Kuder and Richardson's formula 20. ok is false where the sums do not vary, or
// there are fewer than two items or learners.
func alpha(scores [][]float64) (value float64, ok bool) {
	if len(scores) < 2 || len(scores[0]) < 2 {
		return 0, false
	}
	items := 0.0
	for i := range scores[0] {
		items += stat.Variance(column(scores, i), nil)
	}
	total := stat.Variance(sums(scores), nil)
	if total <= 0 {
		return 0, false
	}
	k := float64(len(scores[0]))
	return k / (k - 1) * (1 - items/total), true
}

// itemRest is the correlation of item i with the sum of the others: the
// corrected item-total correlation, a point-biserial one where the item is
// scored 0 and 1. ok is false where either does not vary.
func itemRest(scores [][]float64, i int) (r float64, ok bool) {
	own := column(scores, i)
	rest := sums(scores)
	for k := range rest {
		rest[k] -= own[k]
	}
	if len(own) < 3 || flat(own) || flat(rest) {
		return 0, false
	}
	return stat.Correlation(own, rest, nil), true
}

// flat reports whether values are all the same but for rounding.
func flat(values []float64) bool {
	return slices.Max(values)-slices.Min(values) <= 1e-12*max(1, math.Abs(values[0]))
}

func column(scores [][]float64, i int) []float64 {
	out := make([]float64, len(scores))
	for k, row := range scores {
		out[k] = row[i]
	}
	return out
}

func sums(scores [][]float64) []float64 {
	out := make([]float64, len(scores))
	for k, row := range scores {
		for _, v := range row {
			out[k] += v
		}
	}
	return out
}

// powerLaw fits errors = n A opportunity^-B by maximum likelihood: a Poisson
// regression of the counts of errors on the logarithm of the opportunity, with
// log n as offset, so that points without an error count as what they are. The
// covariance is the inverse of the information, times the dispersion (Pearson's
// chi-square by its degrees of freedom) where that is above 1. Iteratively
// reweighted least squares: McCullagh and Nelder, Generalized Linear Models,
// 2nd ed. (1989), sections 2.5, 6.2 and 9.2 (from memory; checked against an
// outside reference). ok is false where it does not converge: no errors at all,
// or too few points.
//
// band is the fitted share at an opportunity, with the interval of its mean: on
// the scale of the logarithm, where the fit is linear, z times the square root
// of x' V x, with x = (1, log opportunity) and V the covariance (Wald's; the same
// source, section 2.2, from memory, checked as the rest). Nothing in it is cut
// off at 1.
func powerLaw(opportunity, errors, n []float64) (fit PowerLaw, band func(opportunity float64) Band, ok bool) {
	if len(opportunity) < 3 || sum(errors) <= 0 {
		return fit, nil, false
	}
	b0, b1 := math.Log(sum(errors)/sum(n)), 0.0
	var info mat.SymDense
	for range 100 {
		info = *mat.NewSymDense(2, nil)
		score := mat.NewVecDense(2, nil)
		for k, t := range opportunity {
			x := math.Log(t)
			mu := n[k] * math.Exp(b0+b1*x)
			info.SetSym(0, 0, info.At(0, 0)+mu)
			info.SetSym(0, 1, info.At(0, 1)+mu*x)
			info.SetSym(1, 1, info.At(1, 1)+mu*x*x)
			score.SetVec(0, score.AtVec(0)+errors[k]-mu)
			score.SetVec(1, score.AtVec(1)+(errors[k]-mu)*x)
		}
		var chol mat.Cholesky
		var step mat.VecDense
		if !chol.Factorize(&info) || chol.SolveVecTo(&step, score) != nil {
			return fit, nil, false
		}
		b0, b1 = b0+step.AtVec(0), b1+step.AtVec(1)
		if !(math.Abs(b0) < 50 && math.Abs(b1) < 50) {
			return fit, nil, false
		}
		if math.Abs(step.AtVec(0))+math.Abs(step.AtVec(1)) < 1e-13 {
			ok = true
			break
		}
	}
	if !ok {
		return fit, nil, false
	}
	chi := 0.0
	for k, t := range opportunity {
		mu := n[k] * math.Exp(b0+b1*math.Log(t))
		chi += (errors[k] - mu) * (errors[k] - mu) / mu
	}
	fit.Dispersion = max(1, chi/float64(len(opportunity)-2))
	det := info.At(0, 0)*info.At(1, 1) - info.At(0, 1)*info.At(0, 1)
	s0 := z95 * math.Sqrt(fit.Dispersion*info.At(1, 1)/det)
	s1 := z95 * math.Sqrt(fit.Dispersion*info.At(0, 0)/det)
	fit.A, fit.ALow, fit.AHigh = math.Exp(b0), math.Exp(b0-s0), math.Exp(b0+s0)
	fit.B, fit.BLow, fit.BHigh = -b1, -b1-s1, -b1+s1
	band = func(t float64) Band {
		x := math.Log(t)
		at := b0 + b1*x
		reach := z95 * math.Sqrt(fit.Dispersion*(info.At(1, 1)-2*x*info.At(0, 1)+x*x*info.At(0, 0))/det)
		return Band{math.Exp(at), math.Exp(at - reach), math.Exp(at + reach)}
	}
	return fit, band, true
}

func sum(values []float64) float64 {
	total := 0.0
	for _, v := range values {
		total += v
	}
	return total
}

// median is the middle value, or the mean of the two in the middle; 0 of
// none. It puts the values in order.
func median(values []float64) float64 {
	n := len(values)
	if n == 0 {
		return 0
	}
	slices.Sort(values)
	return (values[(n-1)/2] + values[n/2]) / 2
}
