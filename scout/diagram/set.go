package diagram

import (
	"fmt"
	"math"

	"oidium/chance"
)

// steps are the shares of a set of diagrams: close together where a reading
// decides most; numerical.
var steps = [...]float64{0.005, 0.01, 0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8, 0.95}

// Set draws the usual twelve steps of a shape.
func Set(shape string, print bool) ([]Drawing, error) {
	var out []Drawing
	for _, s := range steps {
		d, err := Draw(Leaf{Shape: shape, Share: s, Seed: 1, Print: print})
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

// trainingLeaves is the size of a training set.
const trainingLeaves = 20

// Training draws twenty leaves to be read, of shares from a trace to most of the
// leaf, in an order that gives nothing away; the titles do not tell the share.
// The truth is Drawing.Share; readings are scored by scout.Rate.
func Training(shape string, seed uint64, print bool) ([]Drawing, error) {
	r := chance.New(chance.Key{Garden: seed, Pathosystem: "training", Bed: shape, Process: chance.Drawing})
	shares := make([]float64, trainingLeaves)
	const least, most = 0.004, 0.9 // numerical: a trace to nearly all
	for i := range shares {
		// One in each twentieth of the range, on a scale between that of shares
		// and that of their logarithms.
		u := (float64(i) + r.Uniform()) / trainingLeaves
		x := math.Log(least/(1-least)) + u*(math.Log(most/(1-most))-math.Log(least/(1-least)))
		shares[i] = 1 / (1 + math.Exp(-x))
	}
	for i := len(shares) - 1; i > 0; i-- {
		j := int(r.Uniform() * float64(i+1))
		shares[i], shares[j] = shares[j], shares[i]
	}
	out := make([]Drawing, trainingLeaves)
	for i, s := range shares {
		var err error
		title := fmt.Sprintf("leaf %d of %d", i+1, trainingLeaves)
		if out[i], err = Draw(Leaf{Shape: shape, Share: s, Seed: seed + uint64(i), Print: print, Title: title}); err != nil {
			return nil, err
		}
	}
	return out, nil
}
