package light

import (
	"fmt"
	"slices"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/pixel"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A glow is the light of a run in a case, for a trace: by channel and pixel, in candela, the mean over the cycle.
type glow struct {
	in       network.Case
	name     string // of the tape
	tape     *parts.Tape
	channels []string
	light    [][]float64
	fed      []int // the pixels of stretches that are fed
}

func glowing(s *study.Study, in network.Case, run string) glow {
	tape := s.Scheme.Tape(run)
	var fed []int
	for _, f := range s.Network.Feeds(run) {
		for k := f.From; k < f.To && f.Closed(); k++ {
			fed = append(fed, k)
		}
	}
	return glow{in, s.Scheme.Runs[run].Tape, tape, scheme.Channels(tape), s.Network.Shine(s.Solution(in.Name), run), fed}
}

// whole is the light of every pixel that is fed.
func (g glow) whole() []float64 {
	sum := make([]float64, len(g.fed))
	for _, channel := range g.light {
		for i, k := range g.fed {
			sum[i] += channel[k]
		}
	}
	return sum
}

func (g glow) brightest() int { all := g.whole(); return g.fed[slices.Index(all, slices.Max(all))] }
func (g glow) dimmest() int   { all := g.whole(); return g.fed[slices.Index(all, slices.Min(all))] }

// farthest is the pixel that differs most in colour from another.
func (g glow) farthest(from int) int {
	u, v, _ := g.colour(from)
	best, far := from, 0.0
	for _, k := range g.fed {
		if pu, pv, ok := g.colour(k); ok && pixel.ShiftUV(u, v, pu, pv) > far {
			best, far = k, pixel.ShiftUV(u, v, pu, pv)
		}
	}
	return best
}

// colour is the chromaticity of a pixel, CIE 1976; it is not ok for one that is dark.
func (g glow) colour(k int) (u, v float64, ok bool) {
	mix := make([]pixel.Amount, len(g.channels))
	for i, name := range g.channels {
		mix[i] = pixel.Amount{X: g.tape.Channels[name].X, Y: g.tape.Channels[name].Y, Luminous: g.light[i][k]}
	}
	_, u, v, ok = pixel.Mix(mix)
	return u, v, ok
}

// shining takes the intensity of each channel that a pixel shows and the share of it that it gives there, and gives their places among
// the channels. The shares have the sign of that pixel, of two.
func (g glow) shining(w *study.Working, k int, what, sign string) []int {
	var lit []int
	for i, name := range g.channels {
		candela := g.tape.Channels[name].Candela
		if g.light[i][k] > 0 {
			lit = append(lit, i)
			w.Stated(fmt.Sprintf("C_%d", i+1), "intensity of its "+name+", fully on", study.Stated(g.name, "channels."+name+".candela", candela))
			w.Solved(fmt.Sprintf("g_%d%s", i+1, sign), fmt.Sprintf("share of that at %s, %d: drive × current over set current, the mean over the cycle", what, k), study.Plain(g.light[i][k]/float64(candela.Is)), g.in)
		}
	}
	return lit
}

// sum writes one term for each of some channels, "#" standing for its number.
func sum(channels []int, term string) string {
	var terms []string
	for _, i := range channels {
		terms = append(terms, strings.ReplaceAll(term, "#", fmt.Sprint(i+1)))
	}
	return strings.Join(terms, " + ")
}

// intensity works out the light of one pixel: L_a, of two that are a and b.
func (g glow) intensity(w *study.Working, k int, what, sign string) {
	lit := g.shining(w, k, "the "+what+" pixel", sign)
	if lit == nil {
		w.Solved("L_"+sign, "light of the "+what+" pixel: it is dark", study.Of(unit.Candela(0)), g.in)
		return
	}
	w.Step("Light of the "+what+" pixel", "L_"+sign+" = "+sum(lit, "C_# · g_#"+sign))
}

// chromaticity works out the colour of one pixel: u_a and v_a, of two that are a and b.
func (g glow) chromaticity(w *study.Working, k int, sign string) {
	lit := g.shining(w, k, "one of the two pixels that differ most", sign)
	for _, i := range lit {
		key, c := "channels."+g.channels[i], g.tape.Channels[g.channels[i]]
		w.Stated(fmt.Sprintf("x_%d", i+1), "CIE 1931 x of its "+g.channels[i], study.Said(g.name, key+".x", tinted(g.tape, c)).Being(study.Plain(c.X)))
		w.Stated(fmt.Sprintf("y_%d", i+1), "CIE 1931 y of its "+g.channels[i], study.Said(g.name, key+".y", tinted(g.tape, c)).Being(study.Plain(c.Y)))
	}
	at := fmt.Sprintf("pixel %d", k)
	for _, i := range lit {
		w.Step("Light of its "+g.channels[i]+" at "+at, strings.ReplaceAll("L_#"+sign+" = C_# · g_#"+sign, "#", fmt.Sprint(i+1)))
	}
	w.Step("X of "+at, "X_"+sign+" = "+sum(lit, "L_#"+sign+" · x_#/y_#"))
	w.Step("Y of "+at, "Y_"+sign+" = "+sum(lit, "L_#"+sign))
	w.Step("Z of "+at, "Z_"+sign+" = "+sum(lit, "L_#"+sign+" · (1 − x_# − y_#)/y_#"))
	w.Step("u′ of "+at, strings.ReplaceAll("u_# = 4 · X_#/(X_# + 15 · Y_# + 3 · Z_#)", "#", sign))
	w.Step("v′ of "+at, strings.ReplaceAll("v_# = 9 · Y_#/(X_# + 15 · Y_# + 3 · Z_#)", "#", sign))
}

// aiming takes an aim: the scheme's, or what stands in where it states none.
func aiming(w *study.Working, s *study.Study, sign string, stated bool, aim study.Measure, key string) {
	if stated {
		w.Written(sign, "the aim", aim, "aims."+key, s.Scheme.Place("aims", key))
		return
	}
	w.Taken(sign, "the aim, where the scheme states none", aim, study.Source{Title: "common practice, no source", Basis: parts.Practice})
}
