package work

import (
	"fmt"
	"reflect"
	"strings"
)

// results are the documents that a --json prints, by the name of their schema.
var results = []struct {
	name, id, title string
	of              reflect.Type
}{
	{"round", roundVersion, "The round of one morning", reflect.TypeFor[Round]()},
	{"said", saidVersion, "An entry as it is listed, one a line", reflect.TypeFor[Said]()},
	{"shown", "oidium-shown-1", "An entry with its history", reflect.TypeFor[Shown]()},
	{"kept", "oidium-kept-1", "An entry that was just written", reflect.TypeFor[Kept]()},
	{"copied", CopiedVersion, "A copy of the book", reflect.TypeFor[Copied]()},
	{"blanked", BlankedVersion, "What was taken out of entries", reflect.TypeFor[Blanked]()},
	{"checked", "oidium-checked-1", "What a look through the book found", reflect.TypeFor[Checked]()},
	{"shed", "oidium-shed-1", "What stands in the shed on a morning", reflect.TypeFor[Shed]()},
	{"records", "oidium-records-report-1", "Treatments as the rules on records see them", reflect.TypeFor[Records]()},
	{"names", namesVersion, "What crops and materials are called", reflect.TypeFor[Names]()},
	{"hosts", hostsVersion, "Which mildew threatens which crop", reflect.TypeFor[Hosts]()},
	{"grape", grapeVersion, "The published index of grape mildew over the weather of a bed", reflect.TypeFor[Grape]()},
	{"weather-import", weatherImportVersion, "How a file of weather was understood", reflect.TypeFor[WeatherImport]()},
	{"weather-check", weatherCheckVersion, "What quality control finds in the weather of a book", reflect.TypeFor[WeatherCheck]()},
	{"weather-show", weatherShowVersion, "The weather of a garden or a bed by day", reflect.TypeFor[WeatherShow]()},
	{"weather-setpoints", weatherSetpointsVersion, "Pairs of temperature and humidity: mildew beside the cost to the plant", reflect.TypeFor[WeatherSetpoints]()},
	{"weather-fetch", weatherFetchVersion, "A forecast that was fetched", reflect.TypeFor[WeatherFetch]()},
	{"weather-place", weatherPlaceVersion, "The climate of a place by month", reflect.TypeFor[WeatherPlace]()},
	{"weather-score", weatherScoreVersion, "Kept forecasts held against what was measured", reflect.TypeFor[WeatherScore]()},
	{"walk", walkVersion, "How to look at the beds", reflect.TypeFor[Walk]()},
	{"seen", seenVersion, "What the looks at a bed say", reflect.TypeFor[Seen]()},
	{"key", keyVersion, "How far the key of diagnosis has come", reflect.TypeFor[Key]()},
	{"drawn", drawnVersion, "Leaves with a known share of mildew", reflect.TypeFor[Drawn]()},
	{"practice", practiceVersion, "How somebody reads leaves of known severity", reflect.TypeFor[Practice]()},
	{"materials", materialsVersion, "The table of materials for a recipient", reflect.TypeFor[Materials]()},
	{"rules", rulesVersion, "Every rule for a material on a bed", reflect.TypeFor[Rules]()},
	{"mix", mixedVersion, "How much to make up for a bed", reflect.TypeFor[Mixed]()},
	{"hours", hoursVersion, "The coming hours for a treatment", reflect.TypeFor[Hours]()},
	{"clock", clocksVersion, "From when beds may be entered and picked", reflect.TypeFor[Clocks]()},
	{"leaves", leavesVersion, "How much leaf a bed can spare", reflect.TypeFor[Leaves]()},
	{"actions", actionsVersion, "Water, light, heat and air on a bed", reflect.TypeFor[Acts]()},
	{"measured", measuredVersion, "Something worked out for shed or tally sheet", reflect.TypeFor[Measured]()},
}

// Results returns the names of the schemas of what commands print with --json,
// the round's first.
func Results() []string {
	var out []string
	for _, r := range results {
		out = append(out, r.name)
	}
	return out
}

// Schema returns the JSON Schema (draft 2020-12) of a result, generated from the Go
// types so that the two cannot part. The error names the results there are.
func Schema(name string) ([]byte, error) {
	for _, r := range results {
		if r.name == name {
			return schemaOf(r.of, r.id, r.title)
		}
	}
	return nil, fmt.Errorf("there is no result called %q; there are %s", name, strings.Join(Results(), ", "))
}
