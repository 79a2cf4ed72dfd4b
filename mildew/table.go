package mildew

// table holds a response at even steps, so that no exponential stands in a loop
// over hours.
type table struct {
	low, perStep float64
	y            []float64
}

func tabulate(low, step float64, n int, f func(x float64) float64) table {
	t := table{low: low, perStep: 1 / step, y: make([]float64, n)}
	for i := range t.y {
		t.y[i] = f(low + step*float64(i))
	}
	return t
}

// byTemperature tabulates from -20 to 60 °C at quarter degrees (numerical).
func byTemperature(f func(t float64) float64) table { return tabulate(-20, 0.25, 321, f) }

// at reads the table by straight lines; beyond the ends the end value holds.
func (t *table) at(x float64) float64 {
	x = (x - t.low) * t.perStep
	if !(x > 0) {
		return t.y[0]
	}
	i := int(x)
	if i >= len(t.y)-1 {
		return t.y[len(t.y)-1]
	}
	f := x - float64(i)
	return t.y[i] + f*(t.y[i+1]-t.y[i])
}
