package chance

import (
	"math"
	"math/rand/v2"
)

// Process names one use of randomness. Two processes never share a stream.
type Process uint64

// The processes in use. The numbers are part of every result: a new process
// takes a new number, and no number is ever given to another use.
const (
	Parameters Process = 1 // the parameters of a member (latency, transmission, ...)
	Arrival    Process = 2 // arrival of conidia from outside, day by day
	Weather    Process = 3 // generated weather and forecast error
	Observe    Process = 4 // simulated looks (what a future tally would find)
	Demo       Process = 5 // building of invented scenarios
	Drawing    Process = 6 // placing of dots in a picture
	Around     Process = 7 // members drawn around those that agree with the looks
)

// Key says whose randomness is wanted. Every part is a name of something the
// user knows or a number of the simulation; nothing of the ledger's content and
// nothing about workers is in it, so that a new entry reshuffles nothing.
type Key struct {
	Garden      uint64  // seed of the garden
	Season      int     // year in which the planting was set out
	Pathosystem string  // id of the pathosystem, "" where none is concerned
	Bed         string  // id of the bed, "" for the whole garden
	Member      int     // member of the ensemble
	Process     Process // which use
	Day         int     // day number, 0 where the draw is not tied to a day
}

// Stream is a random stream of a Key. The zero value is not usable; see New.
type Stream struct {
	rand.PCG
}

// New returns the stream of k: always the same numbers for the same key, on
// every machine and with any number of workers.
func New(k Key) *Stream {
	s := new(Stream)
	s.Reset(k)
	return s
}

// Reset makes s the stream of k without allocating.
func (s *Stream) Reset(k Key) {
	a := mix(k.Garden ^ 0x9e3779b97f4a7c15)
	a = mix(a ^ uint64(int64(k.Season)))
	a = mix(a ^ hash(k.Pathosystem))
	a = mix(a ^ hash(k.Bed))
	b := mix(a ^ uint64(k.Process)<<48 ^ uint64(int64(k.Member)))
	b = mix(b ^ uint64(int64(k.Day)))
	s.Seed(a, b)
}

// Uniform returns a number in (0, 1), never an end of the interval.
func (s *Stream) Uniform() float64 {
	return (float64(s.Uint64()>>11) + 0.5) / (1 << 53)
}

// Normal returns a standard normal number by the polar form of Box and Muller;
// one number per call so that the count of draws is easy to reason about.
func (s *Stream) Normal() float64 {
	u, v := s.Uniform(), s.Uniform()
	return math.Sqrt(-2*math.Log(u)) * math.Cos(2*math.Pi*v)
}

// Gamma returns a gamma number with the given shape and scale, both above 0,
// by the method of Marsaglia and Tsang (2000, ACM TOMS 26:363-372).
func (s *Stream) Gamma(shape, scale float64) float64 {
	if shape < 1 {
		return s.Gamma(shape+1, scale) * math.Pow(s.Uniform(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := s.Normal()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		u := s.Uniform()
		if math.Log(u) < 0.5*x*x+d-d*v+d*math.Log(v) {
			return d * v * scale
		}
	}
}

// mix is the finaliser of SplitMix64 (Steele, Lea and Flood 2014).
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// hash is FNV-1a, 64 bit.
func hash(s string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(s) {
		h = (h ^ uint64(s[i])) * 1099511628211
	}
	return h
}
