package remedy

import (
	"math"
	"strings"
	"testing"
	"time"

	"oidium/garden"
)

// treat adds a treatment of the bed the given days before now.
func treat(c *Case, id garden.MaterialID, days int) {
	at := c.Now.AddDate(0, 0, -days).Add(time.Hour)
	c.Treatments = append(c.Treatments, garden.Treatment{Bed: c.Bed.ID, Material: id, Start: at, End: at.Add(time.Hour), Litres: 10, Grams: 30})
}

// label edits the label of one material.
func label(c *Case, id garden.MaterialID, edit func(*garden.Label)) {
	for i := range c.Labels {
		if c.Labels[i].Material == id {
			edit(&c.Labels[i])
		}
	}
}

// noLabels takes the labels of one material away.
func noLabel(c *Case, id garden.MaterialID) {
	var out []garden.Label
	for _, l := range c.Labels {
		if l.Material != id {
			out = append(out, l)
		}
	}
	c.Labels = out
}

// later moves the whole case 24 years on, to June 2024.
func later(c *Case) {
	const years = 24
	c.Now = c.Now.AddDate(years, 0, 0)
	c.Today = garden.DayOf(c.Now)
	for i := range c.Hours {
		c.Hours[i].Time = c.Hours[i].Time.AddDate(years, 0, 0)
	}
	for i := range c.Treatments {
		c.Treatments[i].Start, c.Treatments[i].End = c.Treatments[i].Start.AddDate(years, 0, 0), c.Treatments[i].End.AddDate(years, 0, 0)
	}
	move := func(d garden.Day) garden.Day { return garden.DayOf(d.At(12, time.UTC).AddDate(years, 0, 0)) }
	p := &c.Planting
	p.Planted, p.FirstPick, p.LastPick, c.PickNext = move(p.Planted), move(p.FirstPick), move(p.LastPick), move(c.PickNext)
}

func eachHour(c *Case, edit func(i int, h *Hour)) {
	for i := range c.Hours {
		edit(i, &c.Hours[i])
	}
}

// ruleCases has, for each rule, a case in which it refuses, one in which it is
// content and, where something can be unknown, one in which it asks. Each starts
// from the fair case and changes one thing.
var ruleCases = []struct {
	rule     string
	material garden.MaterialID
	what     string
	edit     func(*Case)
	want     string
}{
	{ruleDiagnosis, "khco3", "cannot tell", func(c *Case) { c.Diagnosis = "cannot tell" }, Refused},
	{ruleDiagnosis, "khco3", "sure", func(*Case) {}, OK},
	{ruleDiagnosis, "khco3", "likely", func(c *Case) { c.Diagnosis = "likely" }, Caution},
	{ruleDiagnosis, "khco3", "nobody looked", func(c *Case) { c.Diagnosis = "" }, Ask},
	{ruleDiagnosis, "sulfur_wg", "grape ahead of the disease", func(c *Case) { c.Diagnosis, c.Family, c.Covered = "", "grape", 0 }, OK},

	{ruleVapour, "sulfur_vapor", "never planned", func(*Case) {}, Refused},
	{ruleVapour, "sulfur_wg", "a spray", func(*Case) {}, OK},

	{ruleRole, "milk_10", "adviser", func(c *Case) { c.Site.Role = garden.Adviser }, Refused},
	{ruleRole, "nahco3_oil", "hired hand", func(c *Case) { c.Site.Role = garden.HiredHand }, Refused},
	{ruleRole, "milk_10", "US grower", func(c *Case) { c.Site.Country = "US" }, Refused},
	{ruleRole, "milk_10", "US own use", func(c *Case) { c.Site.Country, c.Site.Role = "US", garden.Private }, Caution},
	{ruleRole, "milk_10", "EU after approval", later, Caution},
	{ruleRole, "milk_10", "EU before approval, nothing entered", func(c *Case) { noLabel(c, "milk_10") }, Ask},
	{ruleRole, "khco3_oil", "EU, active substance", later, Refused},
	{ruleRole, "nahco3_oil", "EU, review report not entered", func(c *Case) { later(c); noLabel(c, "nahco3_oil") }, Ask},
	{ruleRole, "dmi", "own use of what is often licensed", func(c *Case) { c.Site.Role = garden.Private }, Caution},
	{ruleRole, "khco3", "sold for the purpose", func(*Case) {}, OK},
	{ruleRole, "khco3", "adviser and a label", func(c *Case) { c.Site.Role = garden.Adviser }, Caution},
	{ruleRole, "milk_10", "role unknown", func(c *Case) { c.Site.Role = "" }, Ask},
	{ruleRole, "milk_10", "place without rules, nothing entered", func(c *Case) { c.Site.Country = "NZ"; noLabel(c, "milk_10") }, Ask},
	{ruleRole, "milk_10", "place without rules, rules entered", func(c *Case) { c.Site.Country = "NZ" }, Caution},
	{ruleRole, "milk_10", "country unknown", func(c *Case) { c.Site.Country = ""; noLabel(c, "milk_10") }, Ask},

	{ruleCrop, "sulfur_wg", "apricot", func(c *Case) { c.Planting.Crop, c.Family = "apricot", "stone fruit" }, Refused},
	{ruleCrop, "sulfur_wg", "gooseberry", func(c *Case) { c.Planting.Crop, c.Family = "gooseberry", "currant" }, Caution},
	{ruleCrop, "sulfur_wg", "rose", func(c *Case) { c.Planting.Crop, c.Family = "rose", "rose" }, OK},
	{ruleCrop, "khco3", "apricot", func(c *Case) { c.Planting.Crop, c.Family = "apricot", "stone fruit" }, OK},

	{ruleLabelCrop, "khco3", "entered", func(*Case) {}, OK},
	{ruleLabelCrop, "khco3", "not entered", func(c *Case) { noLabel(c, "khco3") }, Ask},
	{ruleLabelCrop, "khco3", "other crop only", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.Crop = "rose" }) }, Ask},
	{ruleLabelCrop, "khco3", "all crops", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.Crop = "" }) }, OK},
	{ruleLabelCrop, "khco3", "read tomorrow", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.Read = c.Now.AddDate(0, 0, 1) })
	}, Ask},
	{ruleLabelCrop, "khco3", "no number", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.Registration = "" }) }, Caution},

	{ruleLabelStage, "khco3", "no stages named", func(*Case) {}, OK},
	{ruleLabelStage, "khco3", "in flower, label up to 59", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.Stages = "BBCH 10-59" })
		c.Stage = "BBCH 63"
	}, Refused},
	{ruleLabelStage, "khco3", "picking, label up to 59, no stage given", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.Stages = "BBCH 10-59" }) }, Refused},
	{ruleLabelStage, "khco3", "inside", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.Stages = "10 to 89" })
		c.Stage = "71"
	}, OK},
	{ruleLabelStage, "khco3", "label names stages, crop's unknown", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.Stages = "BBCH 10-59" })
		c.Planting.FirstPick = 0
	}, Ask},
	{ruleLabelStage, "khco3", "words nobody can read", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.Stages = "before the fruit colours" })
		c.Stage = "71"
	}, Ask},

	{ruleUse, "milk_10", "EU, before the approval", func(*Case) {}, OK},
	{ruleUse, "khco3", "no table", func(*Case) {}, OK},
	{ruleUse, "milk_10", "EU, cucumber in leaf, 91 mL/L", func(c *Case) {
		later(c)
		c.Stage = "21"
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.9) })
	}, OK},
	{ruleUse, "milk_10", "EU, cucumber in leaf, 100 mL/L: right by one reading", func(c *Case) {
		later(c)
		c.Stage = "21"
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(100.0) })
	}, Caution},
	{ruleUse, "milk_40", "EU, cucumber in leaf, 30 %", func(c *Case) {
		later(c)
		c.Stage = "21"
		label(c, "milk_40", func(l *garden.Label) { l.RateLowGL = p(300.0) })
	}, Refused},
	{ruleUse, "milk_10", "EU, cucumber while picked", func(c *Case) {
		later(c)
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.0) })
	}, Refused},
	{ruleUse, "milk_10", "EU, stage unknown", func(c *Case) {
		later(c)
		c.Planting.FirstPick = 0
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.0) })
	}, Ask},
	{ruleUse, "milk_10", "EU, rose", func(c *Case) { later(c); c.Planting.Crop = "rose" }, Refused},
	{ruleUse, "milk_10", "EU, fifth spray", func(c *Case) {
		later(c)
		c.Stage = "21"
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.0) })
		for i := range 4 {
			treat(c, "milk_10", 10*(i+1))
		}
	}, Refused},
	{ruleUse, "milk_10", "EU, six days after the last", func(c *Case) {
		later(c)
		c.Stage = "21"
		label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.0) })
		treat(c, "milk_10", 6)
	}, Refused},

	{ruleDose, "dmi", "unknown", func(c *Case) {
		label(c, "dmi", func(l *garden.Label) { l.RateLowGL, l.RateHighGL = nil, nil })
	}, Ask},
	{ruleDose, "khco3", "trial rate", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.RateLowGL, l.RateHighGL = nil, nil })
	}, Caution},
	{ruleDose, "khco3", "label rate", func(*Case) {}, OK},
	{ruleDose, "khco3", "too strong", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.RateLowGL = p(8.0) }) }, Caution},

	{ruleStanding, "khco3", "cleared", func(c *Case) { c.Planting.Cleared = c.Today }, Refused},
	{ruleStanding, "khco3", "stands", func(*Case) {}, OK},
	{ruleStanding, "khco3", "picked out", func(c *Case) { c.Planting.LastPick = c.Today - 1 }, Caution},

	{ruleCovered, "sulfur_wg", "20 % covered", func(c *Case) { c.Covered = 0.20 }, Refused},
	{ruleCovered, "sulfur_wg", "19 % covered", func(c *Case) { c.Covered = 0.19 }, OK},
	{ruleCovered, "sulfur_wg", "unknown", func(c *Case) { c.CoveredKnown = false }, Ask},
	{ruleCovered, "oil_mineral", "60 % covered", func(c *Case) { c.Covered = 0.6 }, OK},
	{ruleCovered, "h2o2_paa", "peroxide is no cure", func(c *Case) { c.Covered = 0.3 }, Refused},

	{ruleStressed, "oil_mineral", "dry plants", func(c *Case) { c.Stressed = true }, Refused},
	{ruleStressed, "khco3_oil", "dry plants, oil in the mix", func(c *Case) { c.Stressed = true }, Refused},
	{ruleStressed, "sulfur_wg", "dry plants", func(c *Case) { c.Stressed = true }, Caution},
	{ruleStressed, "oil_mineral", "fit", func(*Case) {}, OK},

	{ruleSeparation, "oil_mineral", "sulfur 13 days ago", func(c *Case) { treat(c, "sulfur_wg", 13) }, Refused},
	{ruleSeparation, "sulfur_wg", "oil 13 days ago", func(c *Case) { treat(c, "oil_mineral", 13) }, Refused},
	{ruleSeparation, "sulfur_wg", "neem 13 days ago", func(c *Case) { treat(c, "oil_neem", 13) }, Refused},
	{ruleSeparation, "sulfur_wg", "bicarbonate with oil 5 days ago", func(c *Case) { treat(c, "khco3_oil", 5) }, Refused},
	{ruleSeparation, "sulfur_wg", "oil 14 days ago", func(c *Case) { treat(c, "oil_mineral", 14) }, OK},
	{ruleSeparation, "sulfur_wg", "oil 20 days ago, gooseberry", func(c *Case) { c.Planting.Crop = "gooseberry"; treat(c, "oil_mineral", 20) }, Refused},
	{ruleSeparation, "sulfur_wg", "oil on another bed", func(c *Case) { treat(c, "oil_mineral", 2); c.Treatments[len(c.Treatments)-1].Bed = "a2" }, OK},
	{ruleSeparation, "ampelomyces", "sulfur 5 days ago", func(c *Case) { treat(c, "sulfur_wg", 5) }, Refused},
	{ruleSeparation, "bacillus", "peroxide today", func(c *Case) {
		treat(c, "h2o2_paa", 0)
		c.Treatments[len(c.Treatments)-1].Start = c.Now.Add(-time.Hour)
	}, Refused},
	{ruleSeparation, "bacillus", "copper 3 days ago: the label decides", func(c *Case) { treat(c, "copper", 3) }, Ask},
	{ruleSeparation, "khco3", "a stranger", func(c *Case) { treat(c, "moonshine", 3) }, Ask},
	{ruleSeparation, "khco3", "a stranger of last month", func(c *Case) { treat(c, "moonshine", 31) }, OK},
	{ruleSeparation, "oil_mineral", "sulfur on the crop before this", func(c *Case) { treat(c, "sulfur_wg", 8); c.Planting.Planted = c.Today - 3 }, OK},

	{ruleInterval, "khco3", "6 days ago, label 7", func(c *Case) { treat(c, "khco3", 6) }, Refused},
	{ruleInterval, "khco3", "7 days ago, label 7", func(c *Case) { treat(c, "khco3", 7) }, OK},
	{ruleInterval, "khco3_oil", "the same salt 3 days ago", func(c *Case) { treat(c, "khco3", 3) }, Refused},
	{ruleInterval, "khco3", "never used", func(*Case) {}, OK},
	{ruleInterval, "khco3", "8 days ago, label silent", func(c *Case) {
		treat(c, "khco3", 8)
		label(c, "khco3", func(l *garden.Label) { l.IntervalDays = nil })
	}, Caution},
	{ruleInterval, "cyflufenamid", "8 days ago, label silent, table 14", func(c *Case) {
		treat(c, "cyflufenamid", 8)
		label(c, "cyflufenamid", func(l *garden.Label) { l.IntervalDays = nil })
	}, Refused},

	{ruleCount, "khco3", "full", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.MaxSeason = p(1) })
		treat(c, "khco3", 20)
	}, Refused},
	{ruleCount, "khco3", "one left", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.MaxSeason = p(2) })
		treat(c, "khco3", 20)
	}, OK},
	{ruleCount, "khco3", "label silent, second use", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.MaxSeason = nil })
		treat(c, "khco3", 20)
	}, Ask},
	{ruleCount, "khco3", "label silent, first use", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.MaxSeason = nil }) }, OK},
	{ruleCount, "dmi", "label silent, usual maximum 2 reached", func(c *Case) {
		label(c, "dmi", func(l *garden.Label) { l.MaxSeason = nil })
		treat(c, "dmi", 20)
		treat(c, "dmi", 10)
	}, Refused},
	{ruleCount, "dmi", "label silent, usual maximum 2, one used", func(c *Case) {
		label(c, "dmi", func(l *garden.Label) { l.MaxSeason = nil })
		treat(c, "dmi", 20)
	}, Caution},
	{ruleCount, "khco3", "used on the planting before this", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.MaxSeason = p(1) })
		treat(c, "khco3", 100)
	}, OK},

	{ruleRotation, "sulfur_wg", "multi-site may repeat (R8)", func(c *Case) { treat(c, "sulfur_wg", 7); treat(c, "sulfur_wg", 14) }, OK},
	{ruleRotation, "qoi", "colonies seen (R2)", func(c *Case) { c.Covered = 0.05 }, Refused},
	{ruleRotation, "sdhi", "colonies seen (R2)", func(c *Case) { c.Covered = 0.05 }, Refused},
	{ruleRotation, "sdhi", "nobody counted (R2)", func(c *Case) { c.CoveredKnown = false }, Ask},
	{ruleRotation, "qoi", "before the first sign", func(c *Case) { c.Covered = 0 }, Caution},
	{ruleRotation, "qoi", "one of the last two was (R3)", func(c *Case) { c.Covered = 0; treat(c, "qoi", 20); treat(c, "khco3", 10) }, Refused},
	{ruleRotation, "qoi", "two others since", func(c *Case) { c.Covered = 0; treat(c, "qoi", 30); treat(c, "khco3", 20); treat(c, "khco3", 10) }, Caution},
	{ruleRotation, "cyflufenamid", "twice in a row (R4)", func(c *Case) { treat(c, "cyflufenamid", 15) }, Refused},
	{ruleRotation, "cyflufenamid", "another in between", func(c *Case) { treat(c, "cyflufenamid", 30); treat(c, "khco3", 15) }, Caution},
	{ruleRotation, "cyflufenamid", "twice before (R5)", func(c *Case) {
		treat(c, "cyflufenamid", 40)
		treat(c, "khco3", 30)
		treat(c, "cyflufenamid", 20)
		treat(c, "khco3", 10)
	}, Refused},
	{ruleRotation, "cyflufenamid", "twice on other beds of the garden (R9)", func(c *Case) {
		treat(c, "cyflufenamid", 40)
		treat(c, "cyflufenamid", 20)
		for i := range c.Treatments[len(c.Treatments)-2:] {
			c.Treatments[len(c.Treatments)-1-i].Bed = "a9"
		}
	}, Refused},
	{ruleRotation, "dmi", "nothing but DMI so far (R1)", func(c *Case) { treat(c, "dmi", 20) }, Caution},

	{ruleSoil, "copper", "far below", func(*Case) {}, Caution},
	{ruleSoil, "copper", "content unknown", func(c *Case) { label(c, "copper", func(l *garden.Label) { l.Content = nil }) }, Ask},
	{ruleSoil, "copper", "an earlier spray without weight", func(c *Case) { treat(c, "copper", 30); c.Treatments[len(c.Treatments)-1].Grams = 0 }, Ask},
	{ruleSoil, "copper", "limit reached", func(c *Case) {
		treat(c, "copper", 30)
		// 23.5 g of copper before and 1.782 g with this mix on 9 m² are 28.09 kg/ha.
		c.Treatments[len(c.Treatments)-1].Grams = 47
	}, Refused},
	{ruleSoil, "copper", "just below the limit", func(c *Case) {
		treat(c, "copper", 30)
		c.Treatments[len(c.Treatments)-1].Grams = 46.5 // 27.81 kg/ha
	}, Caution},
	{ruleSoil, "copper", "eight years ago", func(c *Case) {
		treat(c, "copper", 8*366)
		c.Treatments[len(c.Treatments)-1].Grams = 500
	}, Caution},
	{ruleSoil, "nahco3_oil", "sodium is counted", func(*Case) {}, Caution},
	{ruleSoil, "nahco3_oil", "no area", func(c *Case) { c.Bed.Length = 0 }, Ask},
	{ruleSoil, "sulfur_wg", "nothing counted", func(*Case) {}, OK},

	{ruleTestLeaf, "khco3", "new", func(c *Case) { c.Treatments = nil }, Refused},
	{ruleTestLeaf, "khco3", "47 hours ago", func(c *Case) {
		c.Treatments = []garden.Treatment{{Bed: "a1", Material: "khco3", Test: true, Start: c.Now.Add(-48 * time.Hour), End: c.Now.Add(-47 * time.Hour)}}
	}, Refused},
	{ruleTestLeaf, "khco3", "48 hours ago", func(c *Case) {
		c.Treatments = []garden.Treatment{{Bed: "a1", Material: "khco3", Test: true, Start: c.Now.Add(-49 * time.Hour), End: c.Now.Add(-48 * time.Hour)}}
	}, OK},
	{ruleTestLeaf, "khco3", "used at this strength", func(c *Case) { c.Treatments = nil; treat(c, "khco3", 9) }, OK},
	{ruleTestLeaf, "khco3", "used weaker", func(c *Case) { c.Treatments = nil; treat(c, "khco3", 9); c.Treatments[0].Grams = 10 }, Refused},
	{ruleTestLeaf, "khco3", "used at a strength nobody wrote down", func(c *Case) { c.Treatments = nil; treat(c, "khco3", 9); c.Treatments[0].Grams = 0 }, Caution},
	{ruleTestLeaf, "khco3", "used on the same cultivar elsewhere", func(c *Case) {
		c.Treatments = nil
		treat(c, "khco3", 9)
		c.Treatments[0].Bed = "a2"
		c.Plantings = []garden.Planting{{Bed: "a2", Crop: "cucumber", Cultivar: "Invented", Planted: day("2000-05-01")}}
	}, OK},
	{ruleTestLeaf, "khco3", "used on another cultivar", func(c *Case) {
		c.Treatments = nil
		treat(c, "khco3", 9)
		c.Treatments[0].Bed = "a2"
		c.Plantings = []garden.Planting{{Bed: "a2", Crop: "cucumber", Cultivar: "Other", Planted: day("2000-05-01")}}
	}, Refused},

	{ruleHarvest, "khco3", "0 days, next picking in two", func(*Case) {}, OK},
	{ruleHarvest, "khco3", "unknown", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.HarvestDays = nil }) }, Ask},
	{ruleHarvest, "milk_10", "home-made, nothing entered", func(c *Case) { noLabel(c, "milk_10") }, Ask},
	{ruleHarvest, "khco3", "3 days, picking in two", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.HarvestDays = p(3.0) }) }, Refused},
	{ruleHarvest, "khco3", "1 day: the day after tomorrow is clear", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.HarvestDays = p(1.0) }) }, OK},
	{ruleHarvest, "khco3", "1 day, picking tomorrow", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.HarvestDays = p(1.0) })
		c.PickNext = c.Today + 1
	}, Refused},
	{ruleHarvest, "khco3", "0 days, re-entry 48 h, picking tomorrow", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.ReentryHours = p(48.0) })
		c.PickNext = c.Today + 1
	}, Refused},
	{ruleHarvest, "khco3", "picking today, 0 days", func(c *Case) { c.PickNext = c.Today }, Caution},
	{ruleHarvest, "khco3", "3 days in the picking season, day unknown", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.HarvestDays = p(3.0) })
		c.PickNext = 0
	}, Ask},
	{ruleHarvest, "khco3", "3 days, first picking in ten", func(c *Case) {
		label(c, "khco3", func(l *garden.Label) { l.HarvestDays = p(3.0) })
		c.PickNext, c.Planting.FirstPick = 0, c.Today+10
	}, OK},
	{ruleHarvest, "khco3", "rose", func(c *Case) {
		c.Ornamental = true
		label(c, "khco3", func(l *garden.Label) { l.HarvestDays = nil })
	}, OK},

	{ruleReentry, "khco3", "known", func(*Case) {}, OK},
	{ruleReentry, "khco3", "unknown", func(c *Case) { label(c, "khco3", func(l *garden.Label) { l.ReentryHours = nil }) }, Ask},
	{ruleReentry, "khco3", "closed by yesterday's copper", func(c *Case) {
		treat(c, "copper", 1)
		label(c, "copper", func(l *garden.Label) { l.ReentryHours = p(72.0) })
	}, Refused},
	{ruleReentry, "khco3", "yesterday's copper, hours unknown", func(c *Case) {
		treat(c, "copper", 1)
		label(c, "copper", func(l *garden.Label) { l.ReentryHours = nil })
	}, Ask},

	{ruleAllergen, "milk_10", "lettuce picked in two days", func(c *Case) { c.LeafEaten = true }, Refused},
	{ruleAllergen, "milk_10", "lettuce picked in three weeks", func(c *Case) { c.LeafEaten, c.PickNext = true, c.Today+21 }, Caution},
	{ruleAllergen, "milk_10", "lettuce, day unknown", func(c *Case) { c.LeafEaten, c.PickNext, c.Planting.FirstPick = true, 0, 0 }, Ask},
	{ruleAllergen, "khco3", "no milk", func(c *Case) { c.LeafEaten = true }, OK},

	{ruleBloom, "oil_neem", "in flower", func(c *Case) { c.InFlower = true }, Refused},
	{ruleBloom, "khco3", "in flower", func(c *Case) { c.InFlower = true }, Caution},
	{ruleBloom, "oil_neem", "not in flower", func(*Case) {}, OK},

	{ruleOther, "khco3", "downy mildew about", func(c *Case) { c.OtherDisease = []string{"downy mildew"} }, Caution},
	{ruleOther, "khco3", "nothing else", func(*Case) {}, OK},

	{ruleStock, "khco3", "not in the shed", func(c *Case) { c.Stock = []garden.Stock{{Material: "sulfur_wg"}} }, Caution},
	{ruleStock, "khco3", "in the shed", func(c *Case) { c.Stock = []garden.Stock{{Material: "khco3"}} }, OK},

	{ruleHeat, "sulfur_wg", "32 °C this morning, cool after", func(c *Case) { c.Hours[2].T = 32 }, OK},
	{ruleHeat, "sulfur_wg", "32 °C all noons", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 == 8 {
				h.T = 32
			}
		})
	}, Refused},
	{ruleHeat, "sulfur_wg", "31 °C all noons", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 == 8 {
				h.T = 31
			}
		})
	}, OK},
	{ruleHeat, "sulfur_wg", "31 °C all noons, humid", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 == 8 {
				h.T, h.RH = 31, 75
			}
		})
	}, Refused},
	{ruleHeat, "sulfur_wg", "31 °C, humidity unknown", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 == 8 {
				h.T, h.RH = 31, math.NaN()
			}
		})
	}, Ask},
	{ruleHeat, "oil_mineral", "strawberry at 28 °C", func(c *Case) {
		c.Planting.Crop, c.Family = "strawberry", "strawberry"
		eachHour(c, func(_ int, h *Hour) { h.T = 28 })
	}, Refused},
	{ruleHeat, "oil_mineral", "cucumber at 28 °C", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.T = 28 }) }, OK},
	{ruleHeat, "sulfur_wg", "first hot spell in two days", func(c *Case) { c.Hours[60].T = 34 }, Caution},
	{ruleHeat, "sulfur_wg", "forecast of 12 hours", func(c *Case) { c.Hours = c.Hours[:12] }, Ask},
	{ruleHeat, "khco3", "31 °C", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.T = 31 }) }, Refused},

	{ruleCold, "sulfur_wg", "12 °C", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.T = 12 }) }, Caution},
	{ruleCold, "khco3", "12 °C", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.T = 12 }) }, OK},

	{ruleRain, "khco3", "rain all day", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Rain = 1 }) }, Refused},
	{ruleRain, "khco3", "rain all day, under a roof", func(c *Case) { c.Bed.Shelter = garden.Tunnel; eachHour(c, func(_ int, h *Hour) { h.Rain = 1 }) }, OK},
	{ruleRain, "khco3", "40 % chance all day", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.RainChance = 0.4 }) }, Refused},
	{ruleRain, "khco3", "rain unknown", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Rain = math.NaN() }) }, Ask},
	{ruleRain, "khco3", "dry", func(*Case) {}, OK},

	{ruleWet, "khco3", "wet all day", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Wet = true }) }, Refused},
	{ruleWet, "oil_mineral", "wet all day", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Wet = true }) }, Refused},
	{ruleWet, "oil_mineral", "dry by nine", func(c *Case) { eachHour(c, func(i int, h *Hour) { h.Wet = i < 3 }) }, OK},

	{ruleWind, "khco3", "6 m/s all day", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Wind = 6 }) }, Refused},
	{ruleWind, "khco3", "calm in the evening", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 < 12 {
				h.Wind = 6
			}
		})
	}, OK},
	{ruleWind, "khco3", "wind unknown", func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Wind = math.NaN() }) }, Ask},
	{ruleWind, "khco3", "6 m/s outside, tunnel", func(c *Case) { c.Bed.Shelter = garden.Tunnel; eachHour(c, func(_ int, h *Hour) { h.Wind = 6 }) }, OK},

	{ruleBees, "khco3", "in flower, evening offered", func(c *Case) { c.InFlower = true }, OK},
	{ruleBees, "khco3", "in flower, polar day", func(c *Case) { c.InFlower, c.Site.Latitude = true, 70 }, Refused},
	{ruleBees, "khco3", "not in flower", func(*Case) {}, OK},

	{ruleWorker, "khco3", "day", func(*Case) {}, OK},
	{ruleWorker, "khco3", "only hours of the night left", func(c *Case) {
		c.Now = c.Now.Add(16 * time.Hour)
		c.Hours = c.Hours[16:23]
	}, Refused},

	{ruleHours, "khco3", "some", func(*Case) {}, OK},
	{ruleHours, "khco3", "wind by day, dew by night", func(c *Case) {
		eachHour(c, func(i int, h *Hour) {
			if i%24 < 12 {
				h.Wind = 6
			} else {
				h.Wet = true
			}
		})
	}, Refused},
	{ruleHours, "khco3", "no weather", func(c *Case) { c.Hours = nil }, Ask},
}

func TestRules(t *testing.T) {
	for _, k := range ruleCases {
		c := fair()
		k.edit(c)
		ks := Judge(c, get(t, k.material))
		got, reason := worst(ks, k.rule)
		if got != k.want {
			t.Errorf("%s, %s, %s: %s (%s), want %s", k.rule, k.material, k.what, got, reason, k.want)
		}
		if (k.want == Refused || k.want == Ask) && Allowed(ks) {
			t.Errorf("%s, %s, %s: allowed", k.rule, k.material, k.what)
		}
	}
}

// Every rule has a case in which it refuses or cautions and one in which it is
// content, so that none can be deaf.
func TestEveryRuleIsTried(t *testing.T) {
	seen := make(map[string]map[string]bool)
	for _, k := range ruleCases {
		if seen[k.rule] == nil {
			seen[k.rule] = make(map[string]bool)
		}
		seen[k.rule][k.want] = true
	}
	for _, k := range Judge(fair(), get(t, "khco3")) {
		s := seen[k.Rule]
		if len(s) < 2 || !s[OK] {
			t.Errorf("rule %s is tried with the outcomes %v only", k.Rule, s)
		}
	}
}

// All rules are looked at even when the first refuses, with a sentence each.
func TestAllRulesAreShown(t *testing.T) {
	c := fair()
	c.Diagnosis, c.Hours, c.Labels = "cannot tell", nil, nil
	for _, m := range Materials() {
		ks := Judge(c, m)
		rules := make(map[string]bool)
		for _, k := range ks {
			rules[k.Rule] = true
			if !strings.Contains(k.Reason, " ") || strings.ContainsAny(k.Reason, "{}") {
				t.Errorf("%s, %s: %q is no sentence", m.ID, k.Rule, k.Reason)
			}
			if k.Source == "" || k.Grade == "" {
				t.Errorf("%s, %s: no origin", m.ID, k.Rule)
			}
		}
		if len(rules) < len(judges)+1 {
			t.Errorf("%s: %d rules shown, want at least %d", m.ID, len(rules), len(judges)+1)
		}
	}
}

func TestTestLeafFirst(t *testing.T) {
	c := fair()
	c.Treatments = nil
	m := get(t, "khco3")
	if ks := Judge(c, m); !TestLeafFirst(ks) || Allowed(ks) {
		t.Error("a first use does not begin with a test leaf")
	}
	c.Diagnosis = "cannot tell"
	if TestLeafFirst(Judge(c, m)) {
		t.Error("a test leaf is offered though nobody can tell what it is")
	}
	if TestLeafFirst(Judge(fair(), m)) {
		t.Error("a test leaf is asked for again")
	}
}

func TestStages(t *testing.T) {
	for _, k := range []struct {
		text      string
		low, high int
		ok        bool
	}{
		{"BBCH 61", 61, 61, true},
		{"19-49", 19, 49, true},
		{"bbch 7 to 57", 7, 57, true},
		{"", 0, 0, false},
		{"57-7", 57, 7, false},
		{"flowering", 0, 0, false},
		{"BBCH 101", 0, 0, false},
	} {
		low, high, ok := stages(k.text)
		if ok != k.ok || ok && (low != k.low || high != k.high) {
			t.Errorf("%q: %d to %d, %v", k.text, low, high, ok)
		}
	}
}

// What is handed on stands under the place and role of whoever gets it.
func TestHandedTo(t *testing.T) {
	m := get(t, "milk_10")
	c := fair()
	later(c)
	c.Stage = "21"
	label(c, "milk_10", func(l *garden.Label) { l.RateLowGL = p(90.0) })
	if !Allowed(Judge(c, m)) {
		t.Fatalf("the grower himself may not: %v", firstBlock(Judge(c, m)))
	}
	us := garden.Site{Latitude: 40, Longitude: -80, Country: "US", Role: garden.Grower}
	if got, _ := worst(Judge(c.HandedTo(us, garden.Grower), m), ruleRole); got != Refused {
		t.Errorf("a US grower is handed milk: %s", got)
	}
	same := c.Site
	if got, _ := worst(Judge(c.HandedTo(same, garden.Adviser), m), ruleRole); got != Refused {
		t.Errorf("an adviser hands out a home-made mix: %s", got)
	}
	if got, _ := worst(Judge(c.HandedTo(us, garden.Adviser), get(t, "khco3")), ruleLabelCrop); got != Ask {
		t.Errorf("the label of one country is taken for another: %s", got)
	}
}

func firstBlock(ks []Check) Check {
	for _, k := range ks {
		if blocks(k) {
			return k
		}
	}
	return Check{}
}
