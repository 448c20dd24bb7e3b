package study

import (
	"fmt"

	"farend/fuse"
	"farend/network"
	"farend/unit"
)

// FaultWords says in a sentence what goes wrong: "a short between the poles at E1@px72".
func FaultWords(f network.Fault) string {
	over := ""
	if f.Ohms > 0 {
		over = fmt.Sprintf(" over %v", f.Ohms)
	}
	switch f.Kind {
	case network.ToMetal:
		if f.Home != "" {
			over += ", which leads to the minus of " + f.Home
		}
		return fmt.Sprintf("a short from plus to bonded metalwork at %s%s", f.At, over)
	case network.ToData:
		return fmt.Sprintf("a short from plus to the data core at %s%s", f.At, over)
	case network.Bridged:
		return fmt.Sprintf("a short from plus at %s to plus at %s%s", f.At, f.To, over)
	case network.Reversed:
		return f.At + " landing the wrong way round"
	case network.PoleOpen:
		return "the loss of all returns of " + f.At
	}
	return fmt.Sprintf("a short between the poles at %s%s", f.At, over)
}

// ConditionWords says in a sentence what the pixels do in a case.
func ConditionWords(c network.Case) string {
	if c.Kind == network.CapFailed {
		return "at " + CaseWords(c)
	}
	return "in " + CaseWords(c)
}

// WrongWords says in a sentence in what that happens which a case is of: "in a short between the poles at E1@px72", "with W3.return out".
func WrongWords(c network.Case) string {
	if c.Out != "" {
		return "with " + c.Out + " out"
	}
	return "in " + FaultWords(c.Fault)
}

// StruckWords says in what a strike is made; of an outage in a state as it is.
func StruckWords(c network.Case) string {
	switch lit := ConditionWords(c); c.Corner {
	case network.Through:
		return lit + ", with the most that may flow"
	case network.Opens:
		return lit + ", with the least that may flow"
	default:
		return lit
	}
}

// Lasting is a time in a sentence: for how long something goes on.
func Lasting(t unit.Second) string {
	if t == fuse.Never {
		return "for ever"
	}
	return "for up to " + t.String()
}
