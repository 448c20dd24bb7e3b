package unit

import "fmt"

// Gauge names the thinnest gauge of the trade that has no less copper than an area, such as "12 AWG" for 2.5 mm²; "" where there is none.
func (v SquareMetre) Gauge() string {
	n, ok := v.GaugeNumber()
	if !ok {
		return ""
	}
	return fmt.Sprintf("%d AWG", n)
}

// GaugeNumber is the number of that gauge; not ok where even 0 AWG has less, the thickest that is read here. Half a per cent less counts as no less, for
// sizes in mm² are rounded. The trade has the even gauges, and those from 3 AWG up (common practice, no source).
func (v SquareMetre) GaugeNumber() (n int, ok bool) {
	if !(v > 0) {
		return 0, false
	}
	const slack = 1.005
	for n := 40; n >= 0; n-- {
		if (n%2 == 0 || n <= 3) && AreaOfGauge(n)*slack >= v {
			return n, true
		}
	}
	return 0, false
}
