// Package sun tells where the sun stands, how long the day is and how much
// radiation falls outside the atmosphere and under a clear sky, anywhere on
// earth, polar days and nights included.
//
// Units: degrees for angles (latitude north and longitude east positive,
// azimuth clockwise from north), hours, W/m² for means over an hour, MJ/m² for
// sums over a day. Positions are good to 0.02°, times of rising and setting to
// about 20 s away from the polar circles.
//
// Out of scope: shadows of trees and hills, cloud. Start at [RiseSet] and
// [ExtraterrestrialHours].
package sun
