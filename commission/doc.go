// Package commission says what to do, in which order, before and while an installation is first put under voltage: what to measure, between
// which two points, in which state, what is to be expected, and within which band. The values are solved; nothing is copied by hand.
//
// An expected value is that of the scheme as it stands. Its band holds the four corners in which all numbers that vary lie at one end of
// their spread (corner.go), what the meter may show beside the truth (meter.go), and nothing else: an installation that is built as it is
// drawn, of parts within their spread, reads within it. What a bad joint would do to a reading is said beside it, so that nobody trusts
// a reading that could not find one.
//
// It judges nothing: whether the design is good, the findings say. Whatever concerns the mains is a licensed electrician's.
package commission
