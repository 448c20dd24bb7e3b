package main

import (
	"math"
	"strings"
)

const chartWidth = 56

// sparks draws values as a row of eighth-blocks between low and high. Each column is the lowest value of its share.
func sparks(values []float64, low, high float64) string {
	blocks := []rune("▁▂▃▄▅▆▇█")
	var b strings.Builder
	width := min(chartWidth, len(values))
	for i := range width {
		worst := math.Inf(1)
		for _, v := range values[i*len(values)/width : (i+1)*len(values)/width] {
			worst = min(worst, v)
		}
		level := len(blocks) - 1
		if high-low > 1e-6 {
			level = int((worst - low) / (high - low) * float64(len(blocks)-1))
		}
		b.WriteRune(blocks[min(max(level, 0), len(blocks)-1)])
	}
	return b.String()
}

// feedMarks draws where cables land under the row of sparks.
func feedMarks(marks []int, pixels int) string {
	width := min(chartWidth, pixels)
	line := []rune(strings.Repeat(" ", width))
	for _, m := range marks {
		line[min(m*width/max(pixels, 1), width-1)] = '▲'
	}
	return string(line)
}
