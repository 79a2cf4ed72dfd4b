package work

import (
	_ "embed" // the other names
	"strings"

	"oidium/host"
	"oidium/remedy"
)

// namesVersion names the shape of [Names].
const namesVersion = "oidium-names-1"

// Names is what crops and materials are called here.
type Names struct {
	Version   string  `json:"version" enum:"oidium-names-1" doc:"shape of this document"`
	Crops     []Named `json:"crops,omitempty"`
	Materials []Named `json:"materials,omitempty"`
}

// Named is a crop or a material: its id, as entries have it, and its names.
type Named struct {
	ID    string   `json:"id"`
	Name  string   `json:"name"`
	Other []string `json:"other,omitempty" doc:"other names it goes by; one may be that of several"`
}

//go:embed othernames.tsv
var otherNamesTSV string

// otherNames returns the other names of crops or materials, each with the ids it
// may mean, in the order of the table.
func otherNames(what string) (names []string, ids map[string][]string) {
	ids = map[string][]string{}
	for _, line := range strings.Split(otherNamesTSV, "\n")[1:] {
		c := strings.Split(line, "\t")
		if len(c) == 3 && c[0] == what {
			names = append(names, c[1])
			ids[c[1]] = strings.Fields(c[2])
		}
	}
	return names, ids
}

// AllNames returns every crop and material with its names.
func AllNames() *Names {
	n := &Names{Version: namesVersion}
	for _, c := range host.All() {
		n.Crops = append(n.Crops, Named{ID: string(c.ID), Name: c.Name})
	}
	for _, m := range remedy.Materials() {
		n.Materials = append(n.Materials, Named{ID: string(m.ID), Name: m.Name})
	}
	also("crop", n.Crops)
	also("material", n.Materials)
	return n
}

// also puts the other names to the things.
func also(what string, list []Named) {
	names, ids := otherNames(what)
	for _, name := range names {
		for _, id := range ids[name] {
			for i := range list {
				if list[i].ID == id {
					list[i].Other = append(list[i].Other, name)
				}
			}
		}
	}
}
