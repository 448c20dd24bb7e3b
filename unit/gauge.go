package unit

import "fmt"

// Gauge names the thinnest gauge of the trade that has no less copper than an area, such as "12 AWG" for 2.5 mm²; "" where none has. The trade
// has the even gauges, and those from 3 AWG up (common practice, no source).
func (v SquareMetre) Gauge() string {
	if !(v > 0) {
		return ""
	}
	const slack = 1.005 // sizes in mm² are rounded
	for n := 40; n >= 0; n-- {
		if (n%2 == 0 || n <= 3) && AreaOfGauge(n)*slack >= v {
			return fmt.Sprintf("%d AWG", n)
		}
	}
	return ""
}
