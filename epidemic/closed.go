package epidemic

import (
	"math"
	"sync"
)

// seized returns 1-e^(-x) for x ≥ 0: by its series up to one half (relative error
// below 4e-6), from there by a table (error below 2e-6). It is monotone but for
// that error and stays within 0 and 1.
func seized(x float64) float64 {
	// Hazards of a day are mostly small: three terms, short enough to be put in line,
	// are right to 2e-7 here.
	if x < 1./64 { // numerical
		return x * (1 - x*(1./2-x*(1./6)))
	}
	return seizedFar(x)
}

func seizedFar(x float64) float64 {
	if x < 0.5 {
		return x * (1 - x*(1./2)*(1-x*(1./3)*(1-x*(1./4)*(1-x*(1./5)*(1-x*(1./6))))))
	}
	i := int(x * seizedStep)
	if i >= seizedLen-1 {
		return 1
	}
	t := seizedTable()
	f := x*seizedStep - float64(i)
	return t[i] + f*(t[i+1]-t[i])
}

const (
	seizedStep = 256
	seizedLen  = 24*seizedStep + 1
)

var seizedTable = sync.OnceValue(func() *[seizedLen]float64 {
	var t [seizedLen]float64
	for i := range t {
		t[i] = -math.Expm1(-float64(i) / seizedStep)
	}
	return &t
})

// count returns the Poisson number of the given mean whose place in the
// distribution is u, so that a larger mean never gives fewer. Above a mean of 16
// it is the mean with a uniform spread of the same variance.
func count(u, mean float64) float64 {
	const many, last = 16, 80 // numerical
	if mean <= 0 {
		return 0
	}
	if mean > many {
		return max(0, math.Round(mean+(u-0.5)*math.Sqrt(12*mean)))
	}
	p := 1 - seized(mean)
	sum, n := p, 0.0
	for u > sum && n < last {
		n++
		p *= mean / n
		sum += p
	}
	return n
}
