package scheme

import (
	"net/netip"
	"strconv"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// An Address is where a network finds a board: an IP address or a host name.
type Address string

const addressHint = "write an IP address such as 192.168.1.20, or a host name such as north-board.local"

// UnmarshalText reads an IPv4 or IPv6 address or a host name (RFC 1123, section 2.1).
func (a *Address) UnmarshalText(text []byte) error {
	word := strings.TrimSpace(string(text))
	ip, err := netip.ParseAddr(word)
	switch {
	case err == nil && (ip.IsUnspecified() || ip.IsMulticast() || word == "255.255.255.255"):
		return &unit.Error{Text: word + " is no address of one board", Hint: addressHint}
	case err != nil && !hostName(word):
		return &unit.Error{Text: strconv.Quote(word) + " is neither an IP address nor a host name", Hint: addressHint}
	}
	*a = Address(word)
	return nil
}

// hostName reports whether a text may be the name of a host: labels of letters, digits and dashes, parted by points, the last
// of which is no number, lest a broken IPv4 address pass for a name. What YAML takes for a number or a yes is none.
func hostName(name string) bool {
	labels := strings.Split(name, ".")
	for _, label := range labels {
		if label == "" || len(label) > 63 || label[0] == '-' || label[len(label)-1] == '-' || strings.ContainsFunc(label, func(c rune) bool { return !letterOrDigit(c) && c != '-' }) {
			return false
		}
	}
	_, number := strconv.ParseFloat(name, 64)
	return len(name) <= 253 && strings.Trim(labels[len(labels)-1], "0123456789") != "" && number != nil && name != "true" && name != "false"
}

func letterOrDigit(c rune) bool { return c < 0x80 && (letter(byte(c)) || c >= '0' && c <= '9') }

// Schema leaves the inner rules of IPv6, and the lengths of names, to the reader.
func (Address) Schema(*document.Sketch) document.Schema {
	const (
		octet = "(25[0-5]|2[0-4][0-9]|1[0-9][0-9]|[1-9]?[0-9])"
		label = "[a-zA-Z0-9]([a-zA-Z0-9-]*[a-zA-Z0-9])?"
		last  = "([0-9]*[a-zA-Z]([a-zA-Z0-9-]*[a-zA-Z0-9])?|[0-9]+-[a-zA-Z0-9-]*[a-zA-Z0-9])" // not digits alone
	)
	return document.Schema{
		"type":     "string",
		"pattern":  "^ *(" + octet + "(\\." + octet + "){3}|(" + label + "\\.)*" + last + "|[0-9a-fA-F:.]*:[0-9a-fA-F:.]+(%.+)?) *$",
		"examples": []any{"192.168.1.20", "north-board.local"},
	}
}
