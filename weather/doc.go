// Package weather turns whatever weather a place has into an honest hourly
// series: values with a flag that says where each came from, moisture of the
// air, wetness, water loss, gaps filled, a climate where there is no station,
// and drawn weather for days that have not happened yet.
//
// Units: °C, percent of relative humidity, m/s of wind at 2 m, mm of rain in
// the hour, W/m² of global radiation as the mean of the hour, kPa of vapour
// pressure. Times are UTC; value i of a [Series] covers one hour from
// Start + i h.
//
// Reading files is in weather/read, one file per format. Fetching forecasts,
// the climate inside a tunnel and what mildew makes of the weather are
// elsewhere. Start at [Series]; without data start at [Coarse].
//
// This room is larger than 2 500 lines because checking, filling, climate and
// generator all work on the hour and its flags and would otherwise reach into each
// other; the readers of formats stand apart in weather/read.
package weather
