package work

import (
	"slices"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
)

// cautionsOf returns what is to be minded with an entry: with treatments, heat,
// light, water on leaves, compost, film. It is empty for what hurts nobody.
func cautionsOf(e ledger.Entry) []string {
	out := []string{}
	switch b := e.Body.(type) {
	case *ledger.Treatment:
		out = append(out, say("caution.treat"), say("caution.pick"))
		out = append(out, ofMaterial(b.Material)...)
	case *ledger.Stock:
		out = append(out, tell("caution.store"))
		out = append(out, ofMaterial(b.Material)...)
	case *ledger.Label:
		out = append(out, tell("caution.label"))
	case *ledger.Climate:
		action := map[string]string{
			"uv-c": "uvc_night", "lamps": "uvb_night", "closed to heat": "heat_close", "heated": "heat_close",
			"misted": "mist_pulse", "watered overhead": "overhead_irrig",
		}[b.Act]
		i := slices.IndexFunc(remedy.Actions(), func(a *remedy.Action) bool { return a.ID == action })
		if i >= 0 {
			out = append(out, remedy.CautionsOf(remedy.Actions()[i])...)
		}
	case *ledger.Removal:
		out = append(out, say("caution.remove"))
	case *ledger.Heap, *ledger.HeapFill, *ledger.HeapTurn:
		out = append(out, tell("caution.compost"), tell("caution.no-dose"))
	case *ledger.Plastic:
		out = append(out, tell("caution.film"), tell("caution.no-dose"))
	case *ledger.Debris:
		out = append(out, say("caution.remove"), tell("caution.no-dose"))
		if b.Act == "burned" {
			out = append(out, tell("caution.burn"))
		}
	}
	return out
}

func ofMaterial(id string) []string {
	m, ok := remedy.Get(garden.MaterialID(id))
	if !ok {
		return nil
	}
	return m.Cautions
}
