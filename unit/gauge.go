package unit

import "fmt"

// Gauge names the thinnest gauge of the trade that has no less copper than an area, such as "12 AWG" for 2.5 mm²; "" where even
// 0 AWG has less, the thickest that is read here. Half a per cent less counts as no less, for sizes in mm² are rounded. The trade has the even gauges,
// and those from 3 AWG up (common practice, no source).
func (v SquareMetre) Gauge() string {
	if !(v > 0) {
		return ""
	}
	const slack = 1.005
	for n := 40; n >= 0; n-- {
		if (n%2 == 0 || n <= 3) && AreaOfGauge(n)*slack >= v {
			return fmt.Sprintf("%d AWG", n)
		}
	}
	return ""
}
