package weather

import "math"

// leaf is a leaf in the air of an hour.
type leaf struct {
	temp float64 // °C
	vpd  float64 // kPa between the inside of the leaf and the air
}

// atLeaf returns temperature and deficit of a leaf that gets the share lit of
// the radiation rad (W/m²) and sees the same share of the sky, whose long-wave
// radiation is sky (W/m²): the linear energy balance of a transpiring leaf,
//
//	Tl = T + γ*/(s + γ*) [ Rn / (g cp) − D / (P γ*) ],  γ* = γ g / gv
//
// (Campbell & Norman 1998, eq. 14.6, from memory), conductances in mol m⁻² s⁻¹,
// for air at t °C and rh % moving at u m/s. lit 1 is a leaf on top of the canopy,
// 0 one in full shade. Dew that forms by night is counted as vapour moving to
// the leaf at the rate of its boundary layer.
func atLeaf(t, rh, u, rad, sky, lit float64) leaf {
	k := t + kelvin
	fourth := stefan * k * k * k * k
	rn := lit * (leafAbsorbs.V*rad + sky - fourth)
	// campbell-norman-1998: laminar flow over both faces, with its factor for
	// the gusts outdoors; radiation as a conductance 4σT³/cp.
	gh := 2 * 1.4 * 0.135 * math.Sqrt(math.Max(u, 0.1)/(0.72*leafWidth.V))
	g := gh + 2*4*fourth/k/molarHeat.V
	gs := leafNight.V
	if rad > 20 { // assumption: stomata are open in light
		gs = leafOpen.V
	}
	gv := 1 / (1/(1.1*gh) + 1/gs) // campbell-norman-1998
	ea := VapourPressure(t, rh)
	deficit := SaturationVP(t) - ea
	psych := molarGamma.V * g / gv
	s := slope(t) / airSea.V
	dt := psych / (s + psych) * (rn/(g*molarHeat.V) - deficit/(airSea.V*psych))
	out := SaturationVP(t+dt) - ea
	if out < 0 { // dew: solved again with nothing but the boundary layer in the way
		psych = molarGamma.V * g / (1.1 * gh) // campbell-norman-1998
		dt = psych / (s + psych) * (rn/(g*molarHeat.V) - deficit/(airSea.V*psych))
		out = SaturationVP(t+dt) - ea
	}
	return leaf{t + dt, out}
}
