package conductor

import (
	"math"

	"farend/unit"
)

// tableAmbient is the air temperature for which IEC 60364-5-52 tabulates currents.
const tableAmbient unit.Celsius = 30

// Mild is the coldest air in which a cable may carry more than in warmer air. Table B.52.14 goes on to 10 °C; but 1.45 times that
// current, which its fuse may let last for an hour, would make the core hotter than Clamp below 17 °C. What is colder counts as this.
const Mild unit.Celsius = 20

// Ampacity is the current a cable may carry for ever in the given ambient and bundle, from its tabulated current iz30
// in air of 30 °C on its own, for insulation with the given limit. It is 0 when the ambient is at or above the limit.
//
// The ambient factor √((limit − ambient)/(limit − 30)) is the formula behind IEC 60364-5-52 table B.52.14; below 30 °C
// it is above 1, as the table's is, down to Mild.
func Ampacity(iz30 unit.Ampere, limit, ambient unit.Celsius, bundle int) unit.Ampere {
	if ambient >= limit || limit <= tableAmbient {
		return 0
	}
	ambient = max(ambient, Mild)
	factor := math.Sqrt(float64((limit - ambient) / (limit - tableAmbient)))
	return iz30 * unit.Ampere(factor*Grouping(bundle))
}

// Grouping is the factor on the current of each of so many loaded circuits or multicore cables that lie bunched in air,
// on a surface, embedded or enclosed: IEC 60364-5-52 table B.52.17 item 1, from two circuits on the most careful
// arrangement there. Between two rows it takes the next larger bundle. The table ends at 20; beyond, n cables at 1/√n
// of their current make together only the heat that one makes alone, which is taken instead (derived).
func Grouping(circuits int) float64 {
	rows := [...]struct {
		circuits int
		factor   float64
	}{{1, 1}, {2, 0.8}, {3, 0.7}, {4, 0.65}, {5, 0.6}, {6, 0.57}, {7, 0.54}, {8, 0.52}, {9, 0.5}, {12, 0.45}, {16, 0.41}, {20, 0.38}}
	for _, row := range rows {
		if circuits <= row.circuits {
			return row.factor
		}
	}
	return 1 / math.Sqrt(float64(circuits))
}
