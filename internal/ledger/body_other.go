package ledger

import (
	"slices"
	"strconv"

	"oidium/garden"
)

// Note is the body of kind "note".
type Note struct {
	Text   string   `json:"text" doc:"the note" rule:"required;len=20000"`
	Photos []string `json:"photos,omitempty" doc:"ids of photo entries" rule:"items=100;uuid"`
}

func (*Note) check(*Entry) Problems { return nil }

// Withdrawal is the body of kind "withdrawal".
type Withdrawal struct {
	Reason string `json:"reason,omitempty" doc:"why"`
}

func (*Withdrawal) check(*Entry) Problems { return nil }

// Trial is the body of kind "trial": a question, its arms and where they lie.
type Trial struct {
	Trial    string     `json:"trial" doc:"id of the trial, made by the user" rule:"required;word"`
	Question string     `json:"question,omitempty" doc:"what is asked" rule:"len=500"`
	Seed     *uint64    `json:"seed,omitempty" doc:"seed the layout was drawn with" rule:"min=0"`
	Measure  string     `json:"measure,omitempty" doc:"what is measured" rule:"enum=infected leaves|covered|harvest|looks"`
	Start    garden.Day `json:"start,omitzero" doc:"first day"`
	End      garden.Day `json:"end,omitzero" doc:"last day"`
	Arms     []Arm      `json:"arms,omitempty" doc:"what is compared" rule:"items=50"`
	Plots    []Plot     `json:"plots,omitempty" doc:"what lies where" rule:"items=1000"`
}

// Arm is part of [Trial].
type Arm struct {
	Arm      string `json:"arm" doc:"id of the arm" rule:"required;word"`
	What     string `json:"what,omitempty" doc:"what is done" rule:"len=200"`
	Material string `json:"material,omitempty" doc:"material, if one" rule:"vocab=material"`
	Check    bool   `json:"check,omitempty" doc:"the arm the others are compared with"`
}

// Plot is part of [Trial].
type Plot struct {
	Plot  string `json:"plot" doc:"id of the plot" rule:"required;word"`
	Bed   string `json:"bed,omitempty" doc:"bed it lies in" rule:"word"`
	Block int    `json:"block,omitempty" doc:"number of the block" rule:"min=0;max=1000"`
	Row   int    `json:"row,omitempty" doc:"row" rule:"min=0;max=1000"`
	Col   int    `json:"col,omitempty" doc:"column" rule:"min=0;max=1000"`
	Arm   string `json:"arm" doc:"id of the arm" rule:"required;word"`
}

func (t *Trial) check(*Entry) (ps Problems) {
	var arms, plots []string
	for i, a := range t.Arms {
		if slices.Contains(arms, a.Arm) {
			ps = append(ps, problem("arms["+strconv.Itoa(i)+"].arm", strconv.Quote(a.Arm)+" is there twice", "")...)
		}
		arms = append(arms, a.Arm)
	}
	for i, p := range t.Plots {
		at := "plots[" + strconv.Itoa(i) + "]"
		if slices.Contains(plots, p.Plot) {
			ps = append(ps, problem(at+".plot", strconv.Quote(p.Plot)+" is there twice", "")...)
		}
		plots = append(plots, p.Plot)
		if len(arms) > 0 && !slices.Contains(arms, p.Arm) {
			ps = append(ps, problem(at+".arm", strconv.Quote(p.Arm)+" is not an arm of the trial", mean(p.Arm, arms))...)
		}
	}
	return ps
}

// Blanking is the body of kind "blanking": in the entries named, what tells who
// a person is, or the picture, is taken out for good, here and in every book
// the line reaches. What happened stays.
type Blanking struct {
	Entries []string `json:"entries" doc:"ids of the entries" rule:"required;uuid"`
	What    string   `json:"what" doc:"what is taken out" rule:"required;enum=person|photo"`
	As      string   `json:"as,omitempty" doc:"a word that stands for the person from now on, so that looks by the same eyes still go together" rule:"word;len=40"`
	Reason  string   `json:"reason,omitempty" doc:"why; without the name" rule:"len=500"`
}

func (b *Blanking) check(*Entry) Problems {
	if b.As != "" && b.What == "photo" {
		return problem("as", "stands for a person, not for a photo", "leave it out")
	}
	return nil
}

// Clock is the body of kind "clock": how far the clock of a device was off when
// it was compared with another.
type Clock struct {
	Of     string  `json:"of" doc:"the device whose clock was compared" rule:"required;len=200"`
	AheadS float64 `json:"ahead_s" doc:"seconds it was ahead; behind is negative" rule:"required"`
}

func (*Clock) check(*Entry) Problems { return nil }
