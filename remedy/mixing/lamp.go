package mixing

import "fmt"

// Lamp is an array of UV-C lamps that passes over a bed.
type Lamp struct {
	Seconds   float64 // that a leaf stands under the array
	DoseJM2   float64 // J/m² of one pass
	PowerWM2  float64 // W/m² at the leaf
	Shift     float64 // share of a worker's limit of 8 hours that one pass would be, unshielded
	Cautions  []string
	Overdosed bool // one pass is above the worker's limit
}

// lampCautions are printed with every dose.
func lampCautions() []string {
	return []string{say("lamp.people"), say("lamp.gadget"), say("lamp.night"), say("lamp.measure")}
}

// Pass returns what a leaf gets when an array of the given length passes at the
// given speed with the given dose (J/m²) or irradiance (W/m²) at the leaf.
//
//	time = length / speed,  dose = irradiance · time
func Pass(length, speed, strength Quantity) (Lamp, error) {
	t, err := length.Per(speed)
	if err != nil || t.dim != dimTime || t.value <= 0 {
		return Lamp{}, fmt.Errorf("dose of a lamp: it needs the length of the array and a speed such as 2.3 km/h")
	}
	l := Lamp{Seconds: t.value, Cautions: lampCautions()}
	switch strength.dim {
	case dimension{energy: 1, area: -1}:
		l.DoseJM2, l.PowerWM2 = strength.value, strength.value/t.value
	case dimension{energy: 1, time: -1, area: -1}:
		l.DoseJM2, l.PowerWM2 = strength.value*t.value, strength.value
	default:
		return Lamp{}, fmt.Errorf("dose of a lamp: a %s is neither J/m2 nor W/m2", strength.dim)
	}
	l.Shift = l.DoseJM2 / workerUV.V
	l.Overdosed = l.Shift > 1
	return l, nil
}
