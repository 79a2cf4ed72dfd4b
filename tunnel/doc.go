// Package tunnel tells the climate inside a plastic tunnel from the weather
// outside: a steady balance of heat and vapour for each hour, with vents, shade,
// a crop and water that condenses on the film.
//
// Units are those of package weather. Fluxes are W for a square metre of floor.
// The model is steady (a tunnel of this kind follows the weather within minutes)
// and knows one air temperature: it says nothing of the gradient of some degrees
// between floor and ridge, nor of the cooler edge. A logger in the bed is always
// better.
//
// Start at [Inside].
package tunnel
