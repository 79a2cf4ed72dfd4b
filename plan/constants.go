package plan

import "oidium/cite"

var (
	wageAssumed = cite.Value{V: 15, Lo: 5, Hi: 40, Unit: "money/h", Source: "assumption", Grade: cite.C, What: "value of an hour of work where none is stated, in the user's money"}

	burdenLight = cite.Value{V: 0.5, Lo: 0.2, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "weight of an hour of extra work called light"}
	burdenHeavy = cite.Value{V: 2, Lo: 1, Hi: 4, Unit: "1", Source: "assumption", Grade: cite.C, What: "weight of an hour of extra work called heavy"}

	waitDays = cite.Value{V: 3, Lo: 3, Hi: 3, Unit: "d", Source: "assumption", Grade: cite.C, What: "days by which the cost of waiting is shown"}

	// wrongEnough is what makes "cannot tell" of "a look is worth it".
	wrongEnough = cite.Value{V: 0.2, Lo: 0.1, Hi: 0.3, Unit: "1", Source: "assumption", Grade: cite.C, What: "chance that acting or leaving alone is the wrong choice from which the verdict is cannot tell"}

	// The verdict past rescue: a bed so far covered that nothing tried saves much.
	rescueCovered = cite.Value{V: 0.2, Lo: 0.2, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of leaf covered from which a bed may be past rescue"}
	rescueSaved   = cite.Value{V: 0.2, Lo: 0.1, Hi: 0.3, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the coming loss that the best action must save for a bed to be worth rescuing"}
	rescueLoss    = cite.Value{V: 0.05, Lo: 0.02, Hi: 0.1, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of what is still to come that must be at stake for the words past rescue"}

	waitMargin   = cite.Value{V: 0.05, Lo: 0, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share by which an action must come out better some days later to be put off"}
	gambleChance = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.6, Unit: "1", Source: "assumption", Grade: cite.C, What: "chance of doing better than leaving alone below which an action is a gamble"}
	gambleShare  = cite.Value{V: 0.8, Lo: 0.5, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of a gamble's net benefit from which a look goes before it"}
	putOffGain   = cite.Value{V: 0.1, Lo: 0.03, Hi: 0.3, Unit: "1/d", Source: "assumption", Grade: cite.C, What: "share of an action's net benefit that a day's delay puts at stake beyond what the forecast shows"}

	seasonDays = cite.Value{V: 14, Lo: 7, Hi: 21, Unit: "d", Source: "assumption", Grade: cite.C, What: "days to the last picking from which a season is nearly over"}

	lookEvery  = cite.Value{V: 7, Lo: 3, Hi: 14, Unit: "d", Source: "common-practice", Grade: cite.C, What: "longest time between two looks at a crop that can get mildew"}
	lookSoon   = cite.Value{V: 2, Lo: 1, Hi: 4, Unit: "d", Source: "assumption", Grade: cite.C, What: "shortest time between two looks"}
	lookChance = cite.Value{V: 0.2, Lo: 0.1, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "chance of being past the threshold from which a bed wants a look"}
	lookShare  = cite.Value{V: 0.02, Lo: 0.02, Hi: 0.02, Unit: "1", Source: "mcgrath-1996", Grade: cite.A, What: "share of old leaves with mildew at the threshold, 1 in 50"}
	lookAll    = cite.Value{V: 50, Lo: 50, Hi: 50, Unit: "leaves", Source: "mcgrath-1996", Grade: cite.A, What: "old leaves of the threshold, both faces"}
	markSD     = cite.Value{V: 1, Lo: 0.6, Hi: 1.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "spread of severity between leaves as read, complementary log-log scale"}
	markLeast  = cite.Value{V: 5, Lo: 3, Hi: 10, Unit: "leaves", Source: "assumption", Grade: cite.C, What: "fewest marked leaves that are worth leaving untreated"}
	markMost   = cite.Value{V: 30, Lo: 20, Hi: 50, Unit: "leaves", Source: "assumption", Grade: cite.C, What: "most marked leaves that somebody will read again"}
	repeatCost = cite.Value{V: 0.1, Lo: 0, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of what a treatment saves that using the same mode of action again is held to cost later"}
	putOff     = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of its worth that a job may lose while it is put off"}
	putOffMost = cite.Value{V: 7, Lo: 3, Hi: 14, Unit: "d", Source: "assumption", Grade: cite.C, What: "longest time a job is put off without being planned anew"}
	stepsBed   = cite.Value{V: 3, Lo: 3, Hi: 3, Unit: "steps", Source: "assumption", Grade: cite.C, What: "most steps in one bed on one day"}
	perPlant   = cite.Value{V: 5, Lo: 1, Hi: 10, Unit: "leaves", Source: "assumption", Grade: cite.C, What: "leaves looked at on each plant"}
)

// Constants lists the constants of this room with their sources, for print.
func Constants() []cite.Value {
	return []cite.Value{
		wageAssumed, burdenLight, burdenHeavy, waitDays, wrongEnough,
		rescueCovered, rescueSaved, rescueLoss, waitMargin, gambleChance, gambleShare, putOffGain, seasonDays,
		lookEvery, lookSoon, lookChance, lookShare, lookAll, perPlant,
		markSD, markLeast, markMost, repeatCost, putOff, putOffMost, stepsBed,
	}
}
