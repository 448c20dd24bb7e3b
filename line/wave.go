package line

// Cross is when a voltage first crosses a threshold upwards, or downwards, at or after a time, in a straight line from step to step; it is not ok where
// it never does.
func Cross(volts []float64, step, threshold float64, upwards bool, after float64) (at float64, ok bool) {
	for k := max(1, int(after/step)); k < len(volts); k++ {
		a, b := volts[k-1], volts[k]
		if upwards && a < threshold && b >= threshold || !upwards && a > threshold && b <= threshold {
			if at = step * (float64(k-1) + (threshold-a)/(b-a)); at >= after {
				return at, true
			}
		}
	}
	return 0, false
}

// Extremes are the lowest and the highest voltage between two times.
func Extremes(volts []float64, step, from, to float64) (low, high float64) {
	first := min(max(0, int(from/step)), len(volts)-1)
	low, high = volts[first], volts[first]
	for k := first; k < len(volts) && float64(k)*step <= to; k++ {
		low, high = min(low, volts[k]), max(high, volts[k])
	}
	return low, high
}
