package epidemic

import (
	"errors"
	"fmt"

	"oidium/chance"
	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
)

// Stand is what does not vary between members.
type Stand struct {
	Key        chance.Key // Garden, Season, Pathosystem and Bed filled in
	Crop       *host.Crop
	Mildew     *mildew.Pathosystem
	Resistance garden.Resistance
	Ground     float64    // m² of bed
	Planted    garden.Day // before it no leaf stands; perennials start from wood on Start
	Start      garden.Day // first day simulated
	Drivers    Drivers
	Effects    []garden.Effect // of this bed; those of other beds are passed over
	// Inflow is the pressure of conidia from neighbouring beds on each day since
	// Start, as made by [Inflow]; days beyond its end have none.
	Inflow []float64
}

// Drivers is the weather, folded for this mildew on this crop.
type Drivers struct {
	Known []mildew.Daily   // day i is Start+i, the same for all members
	Ahead [][]mildew.Daily // scenarios that follow Known, all of one length; member m sees scenario m % len(Ahead)
	// KnownAir and AheadAir are the hours the days were folded from. They are
	// needed only if an effect changes the climate at the leaf.
	KnownAir []mildew.Hours
	AheadAir [][]mildew.Hours
}

// days returns the number of days simulated.
func (d Drivers) days() int {
	if len(d.Ahead) == 0 {
		return len(d.Known)
	}
	return len(d.Known) + len(d.Ahead[0])
}

// scenario returns which of the scenarios ahead the member sees.
func (d Drivers) scenario(member int) int {
	if len(d.Ahead) == 0 {
		return 0
	}
	return member % len(d.Ahead)
}

func (st *Stand) check() error {
	fail := func(err error) error {
		return fmt.Errorf("epidemic of %q in bed %q: %w", st.Key.Pathosystem, st.Key.Bed, err)
	}
	switch {
	case st.Crop == nil || st.Mildew == nil:
		return fail(errors.New("crop or mildew is missing"))
	case !(st.Ground > 0):
		return fail(fmt.Errorf("ground area is %g m²; give the bed a length and a width", st.Ground))
	case st.Drivers.days() == 0:
		return fail(errors.New("there is no day of weather"))
	}
	for i, s := range st.Drivers.Ahead {
		if len(s) != len(st.Drivers.Ahead[0]) {
			return fail(fmt.Errorf("weather ahead has %d days in scenario %d and %d in the first", len(s), i, len(st.Drivers.Ahead[0])))
		}
	}
	return nil
}
