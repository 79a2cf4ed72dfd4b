package work

import (
	"strings"

	"oidium/garden"
	"oidium/weather"
)

// closedWords says what was done about the missing hours of a quantity, by the
// clock of the garden.
func (s *sky) closedWords(x weather.Closed) garden.Warning {
	var how []string
	if x.Between > 0 {
		how = append(how, remark("gap.between", "n", x.Between))
	}
	if x.Estimated > 0 {
		how = append(how, remark("gap.range", "n", x.Estimated))
	}
	if x.Climate == 0 {
		return garden.Warning{Code: "weather-gap-closed", Text: remark("gap", "what", x.Var.String(), "how", strings.Join(how, ", "))}
	}
	how = append(how, remark("gap.climate", "n", x.Climate))
	return garden.Warning{Code: "weather-gap-climate", Text: remark("gap.long", "what", x.Var.String(), "how", strings.Join(how, ", "),
		"n", x.Longest, "from", x.From.In(s.loc).Format("2006-01-02 15:04"))}
}
