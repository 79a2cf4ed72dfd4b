package plan

import (
	"math"
	"slices"

	"oidium/scout"
)

// LookValue is what a look is worth today: the better choice after it, against
// the best choice without it.
type LookValue struct {
	Leaves, Plants, PerPlant int     // the size of look that is worth most
	Minutes                  float64 // it takes
	Cost                     float64 // minutes x wage x burden
	Gain                     float64 // expected, of the better choice, cost not taken off
	Net                      float64 // expected net benefit of looking first and then choosing, over leaving alone
	Perfect                  float64 // gain if the truth were known: no look is worth more
	WrongAfter               float64 // chance of a wrong choice that is left after the look
}

// Flip is the find that would turn the choice over.
type Flip struct {
	Leaves  int       // looked at, five a plant
	Found   int       // mildewed among them
	AtLeast bool      // Found or more turn it over; else Found or fewer
	To      Candidate // what would then be chosen
	Chance  float64   // of such a find
	None    bool      // no find on Leaves leaves would change the choice
}

// lookPlants are the sizes of look that are weighed, in plants.
var lookPlants = []int{4, 10, 20, 30}

// binned are members put together by incidence, so that a look is worked out
// once for members that it cannot tell apart.
type binned struct {
	p      []float64   // incidence
	weight []float64   // sum of weights
	net    [][]float64 // by choice: sum of weight x net
	wrong  [][]float64 // by choice: weight of members in which it is the wrong way round
}

// lookBins is the number of incidences told apart; numerical.
const lookBins = 40

// bin puts members together on a scale on which small incidences are told apart.
func bin(b *Bed, choices []Scored) binned {
	const least = 1e-4
	at := make([]int, lookBins)
	for i := range at {
		at[i] = -1
	}
	out := binned{net: make([][]float64, len(choices)), wrong: make([][]float64, len(choices))}
	for m, w := range b.Weights {
		if w <= 0 {
			continue
		}
		x := math.Log(math.Max(b.Incidence[m], least)/least) / math.Log(1/least)
		i := min(lookBins-1, max(0, int(x*lookBins)))
		if at[i] < 0 {
			at[i] = len(out.p)
			out.p = append(out.p, 0)
			out.weight = append(out.weight, 0)
			for c := range out.net {
				out.net[c] = append(out.net[c], 0)
				out.wrong[c] = append(out.wrong[c], 0)
			}
		}
		j := at[i]
		out.p[j] += w * b.Incidence[m]
		out.weight[j] += w
		for c := range choices {
			out.net[c][j] += w * choices[c].net[m]
			if isWrong(choices, c, m) {
				out.wrong[c][j] += w
			}
		}
	}
	for j := range out.p {
		out.p[j] /= out.weight[j]
	}
	return out
}

// afterLook is, for each count that a look can find, its chance, the best choice,
// and what that choice is worth times the chance.
type afterLook struct {
	chance []float64
	choice []int
	worth  []float64
	wrong  float64 // chance that the choice after the look is the wrong way round
}

func look(g binned, plants, per int, eye scout.Look) afterLook {
	n := plants * per
	out := afterLook{chance: make([]float64, n+1), choice: make([]int, n+1), worth: make([]float64, n+1)}
	finds := make([][]float64, len(g.p))
	worth := make([][]float64, len(g.net))
	for c := range worth {
		worth[c] = make([]float64, n+1)
	}
	for j, p := range g.p {
		finds[j] = scout.CountChances(plants, per, p, eye)
		for k, q := range finds[j] {
			out.chance[k] += q * g.weight[j]
			for c := range worth {
				worth[c][k] += q * g.net[c][j]
			}
		}
	}
	for k := range out.chance {
		for c := range worth {
			if c == 0 || worth[c][k] > out.worth[k] {
				out.worth[k], out.choice[k] = worth[c][k], c
			}
		}
		for j := range g.p {
			out.wrong += finds[j][k] * g.wrong[out.choice[k]][j]
		}
	}
	return out
}

func (b *Bed) eye() scout.Look {
	if b.Eye == (scout.Look{}) {
		return scout.LookOf("eye", "sure")
	}
	return b.Eye
}

// sizes of look that the bed allows.
func (b *Bed) sizes() []int {
	if b.Plants <= 0 {
		return lookPlants
	}
	var out []int
	for _, p := range lookPlants {
		out = append(out, min(p, b.Plants))
	}
	return slices.Compact(out)
}

// valueOfLook finds the look that is worth most. choices are ranked, best first.
func valueOfLook(b *Bed, choices []Scored) (LookValue, binned) {
	g := bin(b, choices)
	now := choices[0].Net.Mean
	best := LookValue{Net: math.Inf(-1)}
	perfect := 0.0
	for m, w := range b.Weights {
		top := math.Inf(-1)
		for c := range choices {
			top = math.Max(top, choices[c].net[m])
		}
		perfect += w * top
	}
	for _, plants := range b.sizes() {
		per := int(perPlant.V)
		a := look(g, plants, per, b.eye())
		then := 0.0
		for _, x := range a.worth {
			then += x
		}
		v := LookValue{
			Leaves: plants * per, Plants: plants, PerPlant: per,
			Minutes: scout.WalkMinutes(plants, per), Gain: math.Max(0, then-now),
			Perfect: math.Max(0, perfect-now), WrongAfter: a.wrong,
		}
		v.Cost = labour(b, v.Minutes)
		v.Net = now + v.Gain - v.Cost
		if v.Net > best.Net {
			best = v
		}
	}
	return best, g
}

// isWrong tells whether in member m choice c is the wrong way round about acting
// or leaving alone; what it is measured by is the best action.
func isWrong(choices []Scored, c, m int) bool {
	if choices[c].Kind != Nothing {
		return choices[c].net[m] < 0
	}
	i := bestAction(choices)
	return i >= 0 && choices[i].net[m] > 0
}

// bestAction is the place of the best that is not leaving alone, -1 when there is
// none.
func bestAction(choices []Scored) int {
	return slices.IndexFunc(choices, func(s Scored) bool { return s.Kind != Nothing })
}

// flipOf looks for the find nearest to what is expected that changes the choice.
func flipOf(b *Bed, choices []Scored, g binned, v LookValue) Flip {
	a := look(g, v.Plants, v.PerPlant, b.eye())
	f := Flip{Leaves: v.Leaves, None: true}
	// Counts that hardly any member makes are left out: what would then be best
	// rests on nothing.
	turned := func(k int) bool { return a.choice[k] != 0 && a.chance[k] >= flipLeast }
	mid, sum := 0, 0.0
	for mid < v.Leaves && sum+a.chance[mid] < 0.5 {
		sum += a.chance[mid]
		mid++
	}
	up, down := mid, mid
	for up <= v.Leaves && !turned(up) {
		up++
	}
	for down >= 0 && !turned(down) {
		down--
	}
	hi, lo := 0.0, 0.0
	for k := up; k <= v.Leaves; k++ {
		if a.choice[k] != 0 {
			hi += a.chance[k]
		}
	}
	for k := down; k >= 0; k-- {
		if a.choice[k] != 0 {
			lo += a.chance[k]
		}
	}
	switch {
	case hi == 0 && lo == 0:
		return f
	case hi >= lo:
		f.Found, f.AtLeast, f.Chance = up, true, hi
	default:
		f.Found, f.Chance = down, lo
	}
	f.To, f.None = choices[a.choice[f.Found]].Candidate, false
	return f
}

// flipLeast is the chance of a count below which it is not spoken of; numerical.
const flipLeast = 1e-4
