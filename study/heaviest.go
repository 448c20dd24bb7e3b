package study

import (
	"math"

	"farend/network"
)

// Heaviest is the lighting case, a state or its peak, in which a quantity is largest, and how large; the first of several alike.
func (s *Study) Heaviest(of func(*network.Result) float64) (network.Case, float64) {
	best, worst := network.Case{}, math.Inf(-1)
	for _, c := range s.Cases() {
		if c.Kind != network.State && c.Kind != network.Peak {
			continue
		}
		if v := of(s.Result(c.Name)); v > worst {
			best, worst = c, v
		}
	}
	return best, worst
}
