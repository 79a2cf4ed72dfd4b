package work

import (
	"fmt"
	"strings"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/mildew"
)

// hostsVersion names the shape of [Hosts].
const hostsVersion = "oidium-hosts-1"

// Hosts says which mildews threaten a crop, or which crops a mildew threatens,
// and where in the garden it could cross over.
type Hosts struct {
	Version  string   `json:"version" enum:"oidium-hosts-1" doc:"shape of this document"`
	Date     string   `json:"date" format:"date" doc:"the morning it is for"`
	Crop     string   `json:"crop,omitempty" doc:"the crop asked about; absent where a mildew was"`
	CropName string   `json:"crop_name,omitempty"`
	Rows     []OnHost `json:"mildews" doc:"in the order of the table of hosts"`
	Says     []string `json:"says" doc:"what to read from it"`
}

// OnHost is one row of the table: a mildew and its hosts.
type OnHost struct {
	Mildew garden.MildewID `json:"mildew"`
	Name   string          `json:"name" doc:"scientific name"`
	Common string          `json:"common"`
	Code   string          `json:"eppo_code,omitempty" doc:"absent where it was not confirmed"`
	Unsure bool            `json:"unsure" doc:"that it threatens the crop asked about is disputed or rare"`
	Comes  string          `json:"comes_from" doc:"where the first of it is thought to come from"`
	Crops  []HostCrop      `json:"crops" doc:"the other crops of the row, which carry it over"`
	Beds   []HostBed       `json:"beds" doc:"beds in which a crop of the row stands on that morning"`
}

// HostCrop is a crop of a row.
type HostCrop struct {
	Crop   string `json:"crop"`
	Name   string `json:"name"`
	Unsure bool   `json:"unsure"`
}

// HostBed is a bed in which a crop of a row stands.
type HostBed struct {
	Bed      garden.BedID `json:"bed"`
	Name     string       `json:"name"`
	Crop     string       `json:"crop"`
	CropName string       `json:"crop_name"`
	Unsure   bool         `json:"unsure"`
}

// HostsOf answers for the crop or the mildew called name, on the morning of day.
// The error is that there is neither.
func HostsOf(entries []ledger.Entry, day garden.Day, name string) (*Hosts, error) {
	_, asOf, err := instant(entries, day)
	if err != nil {
		return nil, err
	}
	g, err := ledger.Fold(entries, asOf)
	if err != nil {
		return nil, err
	}
	out := &Hosts{Version: hostsVersion, Date: day.String()}
	id := strings.ToLower(strings.TrimSpace(name))
	if m, ok := mildew.Get(garden.MildewID(id)); ok {
		out.Rows = append(out.Rows, rowOf(g, day, m, ""))
		out.Says = append(out.Says, speak("hosts.rule"), speak("hosts.bridge"))
	} else {
		c, ok := host.Get(garden.CropID(id))
		if !ok {
			return nil, fmt.Errorf("%s", speak("hosts.unknown", "name", name, "mildews", allMildews()))
		}
		out.Crop, out.CropName = string(c.ID), c.Name
		for _, m := range mildew.All() {
			if yes, _ := m.Threatens(c.ID); yes {
				out.Rows = append(out.Rows, rowOf(g, day, m, c.ID))
			}
		}
		if len(mildew.Of(c.ID)) == 0 {
			out.Says = append(out.Says, speak("hosts.none", "crop", c.Name))
		}
		out.Says = append(out.Says, speak("hosts.rule"), speak("hosts.bridge"))
		if len(mildew.Of(c.ID)) > 1 {
			out.Says = append(out.Says, speak("hosts.eye"))
		}
	}
	if out.unsure() {
		out.Says = append(out.Says, speak("hosts.low"))
	}
	out.Says = append(out.Says, speak("hosts.code"))
	full(&out.Rows)
	return out, nil
}

// rowOf is the row of a mildew, without the crop asked about.
func rowOf(g *garden.Garden, day garden.Day, m *mildew.Pathosystem, asked garden.CropID) OnHost {
	row := OnHost{Mildew: m.ID, Name: m.Name, Common: m.Common, Code: m.Code, Comes: m.Source}
	_, row.Unsure = m.Threatens(asked)
	crops := make(map[garden.CropID]HostCrop)
	for _, c := range host.All() {
		yes, low := m.Threatens(c.ID)
		if !yes {
			continue
		}
		crops[c.ID] = HostCrop{Crop: string(c.ID), Name: c.Name, Unsure: low}
		if c.ID != asked {
			row.Crops = append(row.Crops, crops[c.ID])
		}
	}
	plots, _ := plotsOf(g, day)
	for _, p := range plots {
		if c, ok := crops[p.crop.ID]; ok {
			row.Beds = append(row.Beds, HostBed{Bed: p.bed.ID, Name: nameOf(p.bed), Crop: c.Crop, CropName: c.Name, Unsure: c.Unsure})
		}
	}
	full(&row.Crops)
	full(&row.Beds)
	return row
}

// unsure tells whether anything in the answer is disputed.
func (h *Hosts) unsure() bool {
	for _, r := range h.Rows {
		if r.Unsure {
			return true
		}
		for _, c := range r.Crops {
			if c.Unsure {
				return true
			}
		}
	}
	return false
}

func allMildews() string {
	var ids []string
	for _, m := range mildew.All() {
		ids = append(ids, string(m.ID))
	}
	return strings.Join(ids, ", ")
}
