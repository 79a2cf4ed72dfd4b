package mildew

import (
	"math"

	"oidium/cite"
)

// Germination of P. xanthii on glass, fitted here to the raw counts of Sapak and
// others 2023 (eq. G; R² 0.96 over temperature and hours, 0.99 over deficit).
var (
	germFloor   = cite.Value{V: 0.146, Lo: 0.11, Hi: 0.19, Unit: "1", Source: "sapak-2023", Grade: cite.Calc, What: "germination in dry air against 99 % humidity"}
	germDeficit = cite.Value{V: 16.4, Lo: 16.4, Hi: 16.4, Unit: "1/kPa", Source: "sapak-2023", Grade: cite.Calc, What: "fall of germination with vapour deficit"}
	germMoist   = cite.Value{V: 0.03, Lo: 0.03, Hi: 0.03, Unit: "kPa", Source: "sapak-2023", Grade: cite.Calc, What: "deficit at 99 % humidity"}
)

// germinationByDeficit is germination at a vapour deficit (kPa) against that at
// 99 % humidity: v = 0.146 + 0.854·e^(-16.4 (VPD - 0.03)), at most 1.
func germinationByDeficit(vpd float64) float64 {
	return math.Min(1, germFloor.V+(1-germFloor.V)*math.Exp(-germDeficit.V*(vpd-germMoist.V)))
}
