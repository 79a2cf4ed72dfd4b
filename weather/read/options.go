package read

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Options answers what a file does not say. The zero value asks nothing: a
// reader that cannot do without an answer returns an [*Ambiguous] error that
// names the option.
type Options struct {
	// Zone is the clock of the file where its times carry no zone. nil means
	// that the file must say, or the reader asks.
	Zone *time.Location
	// DateOrder is "day" (31/12/2000) or "month" (12/31/2000) first; "" finds
	// out.
	DateOrder string
	// Stamp is "end" or "start": which end of its step a row's time names. ""
	// means the end, as most stations write a row when its time is over.
	Stamp string
	// Year is the year of files that give only the day of the year.
	Year int
	// Names names the columns of a file without a head, in order.
	Names []string
	// Columns says which column holds a quantity, by name or number from 1:
	// "temperature", "dew point", "wet bulb", "humidity", "wind", "rain",
	// "radiation", "sunshine", "cloud", "lowest", "highest", "station"; "none"
	// leaves the quantity out.
	Columns map[string]string
	// Units gives the unit of a quantity, such as "temperature": "F"; it beats
	// the head of the file.
	Units map[string]string
	// WindHeight is the height of the anemometer in m; 0 means what the head of
	// the file says, else 2.
	WindHeight float64
	// Station picks one station of a file of several.
	Station string
	// Place is where the station stands; nil where that is not known. It is
	// needed to make hours of days, and lets quality control use the sun.
	Place *Place
}

// Place is where a station stands.
type Place struct {
	Latitude, Longitude float64 // degrees north and east
	Altitude            float64 // m
	Maritime            bool    // near a sea
}

// at returns latitude and longitude, NaN where the place is not known.
func (p *Place) at() (lat, lon float64) {
	if p == nil {
		return math.NaN(), math.NaN()
	}
	return p.Latitude, p.Longitude
}

// Ambiguous is the error of a file that can be read in more than one way.
type Ambiguous struct {
	Option  string   // field of Options that settles it, in words: "date-order"
	Choices []string // what it may be
	Text    string   // what is not clear, in one sentence
}

func (a *Ambiguous) Error() string {
	if len(a.Choices) == 0 {
		return fmt.Sprintf("%s; say which with the option %s", a.Text, a.Option)
	}
	return fmt.Sprintf("%s; say which with the option %s (%s)", a.Text, a.Option, strings.Join(a.Choices, ", "))
}
