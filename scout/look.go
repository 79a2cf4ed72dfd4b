package scout

// Look is how well a look sees. The zero value sees nothing; see [LookOf].
type Look struct {
	// Rho is the correlation of two leaves of one plant, 0 <= Rho < 1.
	Rho float64
	// Sees is the share of visibly mildewed faces that are noticed.
	Sees float64
	// False is the share of healthy faces called mildewed.
	False float64
	// Mute is set when the person could not tell whether the spots were powdery
	// mildew: a tally with spots then says nothing.
	Mute bool
}

// LookOf returns the look made with the given check ("eye", "lens", "wet-bag";
// anything else counts as "eye") by a person who was "sure", found it "likely",
// or "cannot tell" (anything else counts as "sure"). Rho is the mean of its
// prior.
func LookOf(check, sure string) Look {
	l := Look{Rho: rhoPrior.V, Sees: seesEye.V, False: falseSure.V}
	switch check {
	case "lens":
		l.Sees = seesLens.V
	case "wet-bag":
		l.Sees = seesWetBag.V
	}
	switch sure {
	case "likely":
		l.False = falseLikely.V
	case "cannot tell":
		l.False, l.Mute = falseLikely.V, true
	}
	return l
}

// seen is the chance that a face is called mildewed when the share p is.
func (l Look) seen(p float64) float64 {
	p = min(max(p, 0), 1)
	return p*l.Sees + (1-p)*l.False
}
