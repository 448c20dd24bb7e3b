package conductor

import "farend/unit"

// AdiabaticFrom and AdiabaticTo bound the time of a short for which all heat is taken to stay in the copper (IEC 60364-4-43
// 434.5.2). A shorter one is judged by what the fuse lets through; in a longer one heat leaves the core, and its temperature and
// 1.45 times its ampacity decide.
const (
	AdiabaticFrom unit.Second = 0.1
	AdiabaticTo   unit.Second = 5
)

// Adiabatic is the source of Withstand.
const Adiabatic = "IEC 60364-4-43:2008 table 43A, k = 115 A√s/mm² for copper in PVC of 70 °C (103 above 300 mm²)"

// Withstand is the I²t that a core of that area stands, k²S²: it is then as warm as its insulation may become for a moment, from
// as warm as it may be for ever (PVC: from 70 °C to 160 °C, above 300 mm² to 140 °C). It is ok for insulation of 70 °C alone: for
// others the table's values depend on the material, which a part does not state.
func Withstand(insulation unit.Celsius, area unit.SquareMetre) (limit unit.AmpereSquareSecond, ok bool) {
	if insulation != 70 {
		return 0, false
	}
	k := 115.0
	if area > 300e-6 {
		k = 103
	}
	amps := k * float64(area) * 1e6 // for one second
	return unit.AmpereSquareSecond(amps * amps), true
}
