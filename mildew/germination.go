package mildew

import (
	"math"

	"oidium/cite"
)

// Germination of P. xanthii, fitted here to the raw counts of Sapak and others
// 2023 (R² over 0.93 over temperature and hours, 0.99 over deficit):
//
//	G(T,h) ~ f(T; 2.83, 26.2, 31.51) · (1 - e^(-0.0372 h))
var (
	germHour    = cite.Value{V: 0.0372, Lo: 0.0372, Hi: 0.0372, Unit: "1/h", Source: "sapak-2023", Grade: cite.Calc, What: "germination of P. xanthii: rate in time at the best temperature, taken for all"}
	germLow     = cite.Value{V: 2.83, Lo: 2.83, Hi: 2.83, Unit: "°C", Source: "sapak-2023", Grade: cite.Calc, What: "germination of P. xanthii: least temperature"}
	germBest    = cite.Value{V: 26.2, Lo: 25.7, Hi: 26.55, Unit: "°C", Source: "sapak-2023", Grade: cite.Calc, What: "infection by P. xanthii: best temperature by 48 h of germination; 24.4 for germination and 25.7 for infection by Trecate and others 2019"}
	germHigh    = cite.Value{V: 31.51, Lo: 31.51, Hi: 31.51, Unit: "°C", Source: "sapak-2023", Grade: cite.Calc, What: "germination of P. xanthii: highest temperature"}
	germFloor   = cite.Value{V: 0.146, Lo: 0.11, Hi: 0.19, Unit: "1", Source: "sapak-2023", Grade: cite.Calc, What: "germination in dry air against 99 % humidity"}
	germDeficit = cite.Value{V: 16.4, Lo: 16.4, Hi: 16.4, Unit: "1/kPa", Source: "sapak-2023", Grade: cite.Calc, What: "fall of germination with vapour deficit"}
	germMoist   = cite.Value{V: 0.03, Lo: 0.03, Hi: 0.03, Unit: "kPa", Source: "sapak-2023", Grade: cite.Calc, What: "deficit at 99 % humidity"}
)

// germinationByDeficit is germination at a vapour deficit (kPa) against that at
// 99 % humidity: v = 0.146 + 0.854·e^(-16.4 (VPD - 0.03)), at most 1.
func germinationByDeficit(vpd float64) float64 {
	return math.Min(1, germFloor.V+(1-germFloor.V)*math.Exp(-germDeficit.V*(vpd-germMoist.V)))
}
