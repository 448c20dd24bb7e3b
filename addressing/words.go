package addressing

import "fmt"

// wired is what a usual line carries, in bits a second (IEEE 802.3u).
const wired = 100e6

// Asks says what a plan asks of the network.
func (p Plan) Asks() string {
	asked := "as often as a full universe may be sent (ANSI E1.11, from memory), for the scheme asks for no frame rate"
	if p.Asked {
		asked = "the frame rate that the scheme asks for"
	}
	return fmt.Sprintf("At %v, %s: %.0f packets and %s a second, %s of a line of 100 Mbit/s. By radio multicast goes at the slowest rate of the network, often 1 to 6 Mbit/s (common practice, no source), and is not repeated when it is lost: send to each receiver by its address there, or lay a cable.",
		p.Rate, asked, p.Packets, bitsText(p.Bits), shareText(p.Bits/wired))
}

// bitsText is a number of bits, in the prefix that suits.
func bitsText(bits float64) string {
	switch {
	case bits >= 1e6:
		return fmt.Sprintf("%.3g Mbit", bits/1e6)
	case bits >= 1e3:
		return fmt.Sprintf("%.3g kbit", bits/1e3)
	}
	return fmt.Sprintf("%.0f bit", bits)
}

func shareText(share float64) string {
	if share < 0.01 {
		return "less than 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}
