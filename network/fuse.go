package network

import (
	"farend/fuse"
	"farend/parts"
)

// Curve is the time-current gates of a fuse and its derating, as its part's curve states them. It is not ok where the part names
// no curve. Bases and sources stay with the part (parts.Curve).
func Curve(library *parts.Library, part *parts.Fuse) (curve fuse.Curve, ok bool) {
	stated, ok := parts.Get[parts.Curve](library, part.Curve)
	if !ok {
		return fuse.Curve{}, false
	}
	for _, g := range stated.Gates { // a time that is not given is 0 in both
		curve.Gates = append(curve.Gates, fuse.Gate{Multiple: g.Multiple, Holds: g.Min.Is, Opens: g.Max.Is})
	}
	for _, d := range stated.Derating {
		curve.Derating = append(curve.Derating, fuse.Derate{At: d.At.Is, Factor: float64(d.Factor.Is)})
	}
	return curve, true
}
