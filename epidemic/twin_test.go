package epidemic

import (
	"encoding/binary"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"oidium/garden"
	"oidium/mildew"
)

// The twin in bench/epidemic runs the same model over all members at once with
// NumPy. This file hands it the days, the members' parameters and chances, and
// what came out here, so that the two can be compared in result and in time.

// twinCase is a season of measured weather with actions; early makes colonies come
// to all members at once, so that no work can be saved on members without mildew.
func twinCase(t testing.TB, early bool) (st *Stand, z []Position) {
	p := newark(t)
	air, start := p.from(t, "2013-06-01", 104)
	st = stand("cucumber", "podosphaera-xanthii", air)
	st.Start, st.Planted = start, start
	if early {
		st.Mildew = certain(st.Mildew)
	}
	for d := range 14 {
		left := 1 - float64(d)/20
		for _, at := range []int{48, 62, 76} {
			st.Effects = append(st.Effects, garden.Effect{
				Day: start + garden.Day(at+d), Since: start + garden.Day(at), Stop: [faces]float64{0.7 * left, 0.4 * left},
			})
		}
	}
	st.Effects = append(st.Effects,
		garden.Effect{Day: start + 62, Since: start + 62, Kill: [faces]float64{0.5, 0.3}},
		garden.Effect{Day: start + 70, Remove: [garden.LeafAges]float64{0, 0.05, 0.25}},
	)
	return st, drawn(st, 500)
}

// twinDay is a day in numbers only, in the order the twin reads.
func twinDay(d *day) []float64 {
	flag := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	out := []float64{
		flag(d.opens), d.planted, flag(d.alive), d.since, d.fruit, d.inflow, flag(d.acts), flag(d.hurt), d.freeFall,
		d.Latent, d.Ageing, d.Emit, d.Infect[0], d.Infect[1], d.InfectAny[0], d.InfectAny[1], d.Outside, d.Primary,
		d.Heat[0][0], d.Heat[0][1], d.Heat[1][0], d.Heat[1][1],
		d.HeatLatent[0][0], d.HeatLatent[0][1], d.HeatLatent[1][0], d.HeatLatent[1][1],
		d.Wash[0], d.Wash[1], d.Rays[0], d.Rays[1], d.Warmth,
	}
	for c := range cohorts {
		out = append(out, d.susceptible[c], float64(d.age[c]), d.sun[c], d.fall[c], d.remove[c], d.stop[c][0], d.stop[c][1], d.kill[c][0], d.kill[c][1])
	}
	return out
}

// TestTwin writes the case to the directory named by OIDIUM_TWIN; without it the
// test only checks that the case is worth comparing.
func TestTwin(t *testing.T) {
	for _, early := range []bool{false, true} {
		st, z := twinCase(t, early)
		e := run(t, st, len(z), 2)
		if y := mean(e); y < 0.001 {
			t.Errorf("early %v: mean severity %.5f; the case shows nothing", early, y)
		}
		dir := os.Getenv("OIDIUM_TWIN")
		if dir == "" {
			continue
		}
		name := "usual"
		if early {
			name = "early"
		}
		c := st.before()
		rows := st.lay(&c, 0, st.Drivers.Known, st.Effects)
		var days, members, luck []float64
		for i := range rows {
			days = append(days, twinDay(&rows[i])...)
		}
		for m := range z {
			r := st.rates(st.Params(z[m]))
			members = append(members, r.rate, r.latent, r.ageing, r.humid, r.heat, r.efficacy, r.vigour, r.arrival, r.onset, r.carried, r.cultivar, r.ground, r.perColony)
			for i := range rows {
				l := luckOf(st, m, st.Start+garden.Day(i))
				luck = append(luck, l.outside, l.carried)
			}
		}
		write := func(what string, data any) {
			f, err := os.Create(filepath.Join(dir, name+"-"+what+".bin"))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := binary.Write(f, binary.LittleEndian, data); err != nil {
				t.Fatal(err)
			}
		}
		write("days", days)
		write("members", members)
		write("luck", luck)
		write("records", flat(e.records))
		crop := st.Crop
		about, err := json.Marshal(map[string]float64{
			"days": float64(len(rows)), "members": float64(len(z)),
			"growth": crop.Growth.V, "leaf_set": crop.LeafSet.V, "leaf_max": crop.LeafMax.V, "load": crop.Load.V,
			"hasten": hasten.V, "capture": capture.V, "onset_before": onsetBefore.V, "bare_leaf": bareLeaf.V, "visible_latent": visibleLatent.V,
			"negligible": negligible,
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".json"), about, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// flat lays records out as 13 numbers each.
func flat(rs []record) []float32 {
	var out []float32
	for _, r := range rs {
		for a := range r.mildewed {
			out = append(out, r.mildewed[a][0], r.mildewed[a][1])
		}
		out = append(out, r.area[:]...)
		out = append(out, r.infectious, r.severity, r.removed, r.free)
	}
	return out
}

func benchmarkTwin(b *testing.B, early bool, workers int) {
	st, z := twinCase(b, early)
	st.Drivers.Known = append([]mildew.Daily(nil), st.Drivers.Known...)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := RunAt(b.Context(), st, z, workers); err != nil {
			b.Fatal(err)
		}
	}
}

// The twin's work: 500 members, 104 days, one stand; days, chances and records
// included.
func BenchmarkTwinUsual1(b *testing.B) { benchmarkTwin(b, false, 1) }
func BenchmarkTwinUsual2(b *testing.B) { benchmarkTwin(b, false, 2) }
func BenchmarkTwinEarly1(b *testing.B) { benchmarkTwin(b, true, 1) }
func BenchmarkTwinEarly2(b *testing.B) { benchmarkTwin(b, true, 2) }
