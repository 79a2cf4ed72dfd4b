// Package fetch gets forecasts from two open public weather services: the
// Locationforecast of the Norwegian Meteorological Institute for the whole world
// and the grid forecast of the US National Weather Service.
//
// It asks no more often than the service allows: an answer is kept in a
// directory until it expires, asked for again only if it changed, and after a
// refusal or a failure the service is left alone for a growing time while the
// last answer goes on serving. Every request names the program and who runs it.
// Places are rounded to a hundredth of a degree (about a kilometre), which
// matches the grids and does not tell the service which garden it is.
//
// It was written from the services' descriptions and tried against a local
// server with constructed answers, not on the live services. Reading the answers
// is in weather/read, units are those of package weather. Start at [Client].
package fetch
