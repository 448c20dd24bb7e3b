package commission

// Sound is what a perfect meter may show of a sound installation: the ends of a band before the errors of the meter, DC volts or a clamp, were added.
func (r Reading) Sound() (low, high float64) {
	meter := direct
	if r.Kind == Amps {
		meter = clamped
	}
	low, high = r.Low, r.High
	for range 50 { // each time the rest of the error is a fortieth of what it was, or less
		if r.Low != 0 { // where it is nought the meter's error is cut off there
			low = r.Low + meter.error(low)
		}
		high = r.High - meter.error(high)
	}
	return low, high
}
