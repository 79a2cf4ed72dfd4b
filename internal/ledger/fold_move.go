package ledger

import "oidium/garden"

// move ends the planting here, or makes it smaller, and begins it there.
func (f *folder) move(e Entry, m *Move) {
	p := f.plantings[garden.PlantingID(m.Planting)]
	as := garden.PlantingID(m.As)
	switch {
	case p == nil || p.Bed != e.Bed:
		f.warn("move-of-nothing", e.Bed, "%s moves planting %q out of bed %q, but it does not stand there: not used", e.ID, m.Planting, e.Bed)
		return
	case f.beds[garden.BedID(m.To)] == nil:
		f.warn("unknown-bed", garden.BedID(m.To), "%s moves planting %q to bed %q, which no entry describes by then: not used", e.ID, m.Planting, m.To)
		return
	case f.plantings[as] != nil:
		f.warn("move-onto", e.Bed, "%s moves planting %q as %q, but there is one of that name: not used", e.ID, m.Planting, m.As)
		return
	}
	there := *p
	there.ID, there.Bed, there.From, there.Since = as, garden.BedID(m.To), p.ID, garden.DayOf(e.Time)
	if m.Plants != nil && (p.Plants == 0 || *m.Plants < p.Plants) {
		there.Plants = *m.Plants
		p.Plants = max(0, p.Plants-*m.Plants)
	} else {
		p.Cleared = garden.DayOf(e.Time)
	}
	f.plantings[as] = &there
}

func (f *folder) host(e Entry, b *Host) {
	h := f.hosts[b.Host]
	if h == nil {
		h = &garden.Host{ID: b.Host}
		f.hosts[b.Host] = h
	}
	h.Seen = e.Time
	say(&h.Plant, b.Plant)
	say(&h.Crop, b.Crop)
	say(&h.As, b.As)
	say(&h.Near, b.Near)
	set(&h.Distance, b.Distance)
	say(&h.Mildewed, b.Mildewed)
	sayDay(&h.Gone, b.Gone)
}
