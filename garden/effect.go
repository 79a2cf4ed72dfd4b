package garden

// Effect is what an action does to an epidemic, day by day. It is the one seam
// for every kind of action: rooms that know materials, tunnels or heat make
// effects, the epidemic only eats them.
type Effect struct {
	Bed BedID
	Day Day // on which it acts
	// Stop is the share of new infections prevented on each face, 0 to 1, on
	// leaf that had unfolded by Since. Leaf that unfolded later is unprotected.
	Stop  [Faces]float64
	Since Day // date of the deposit; 0 when all leaf is protected
	// Kill is the share of standing colonies (latent and infectious) killed on
	// each face on that day, on leaf that had unfolded by Since.
	Kill [Faces]float64
	// Remove is the share of the leaf area of each age taken away on that day,
	// mildewed and healthy alike.
	Remove [LeafAges]float64
	// Pick is the share of the fruit load that is picked on that day.
	Pick float64
	// Warmer and Wetter change the climate at the leaf on that day, K and
	// points of relative humidity.
	Warmer, Wetter float64
}
