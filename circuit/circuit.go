// Package circuit finds the operating point of a nonlinear direct-current network.
//
// A network is nodes joined by wires (a conductance, or any passive law), sources (a set voltage behind a resistance,
// with a current limit and no reverse current) and chains: two rails with many equal loads between them, the first
// and the last half a pitch from the ends. Everything is float64 in SI; nodes and elements are numbered from 0.
//
// The operating point is the minimum of the co-content (Millar, Phil. Mag. 42, 1951), which is convex because every law
// is non-decreasing. Solve finds it by Newton's method with a line search on the co-content's slope. The linear
// algebra is star–mesh elimination: a node with conductances g₁…g_k to its neighbours and a leak to the datum is
// replaced by conductances gᵢgⱼ/Σg between them. Only products, quotients and sums of positive numbers occur, so nothing
// is lost by cancellation (Grassmann, Taksar and Heyman, Oper. Res. 33, 1985, for the same idea on Markov chains). A
// chain is eliminated load by load in the voltage between its rails; cost and memory are linear in its loads.
//
// Most questions are asked of a network that is already solved: what if this opens, what if something lies across here. From
// a solved point Solve follows the change: every element is the straight line that it is there, only what changed or moves too
// far is drawn anew, and only the rows of the elimination that this touches are eliminated again; the answer is certified
// to a microvolt (what hangs on loads alone to a millivolt, though its loads are drawn anew until it moves by no more than the microvolt), or the
// network is solved in full. A Bridge is one more element between any two places, also inside a
// chain (Plan.Tap), without a new plan; Line gives the voltage and the resistance that a place shows to a current drawn there.
//
// To read the room: Shape and Values say what is asked, Plan orders the elimination, Worker.Solve in solve.go begins, newton.go
// goes step by step, sweep.go and chain.go take the chains, eliminate.go the nodes, border.go a bridge; anchor.go, follow.go,
// redraw.go, followed.go and hang.go follow; Point is the answer.
//
// Signs: a wire's current is positive from A to B; a source's is positive out of its plus terminal; a chain's rail
// currents are positive from end A to end B; a load's is positive from the plus rail to the return.
//
// What it cannot do: elements whose current falls as their voltage rises (constant-power converters, folded-back
// supplies) are not convex and have no place here; time does not occur.
//
// Misuse (a node out of range, values of another plan) panics with a constant text; a network of any shape and any
// values, opens, shorts and islands included, does not.
package circuit

// A Law is the current of a passive two-terminal element as a function of its voltage. Eval fills amps and slope
// (siemens) for every voltage in v; the three have equal length. It must be passive and monotone: no current at 0 V,
// slope never negative, finite for every finite voltage. A law of a wire that has a method At(volts) (amps, slope) besides is asked by it.
type Law interface {
	Eval(v, amps, slope []float64)
}

// Short is the conductance of a short, 1/(10 µΩ), and Open that of an open, both in siemens.
const (
	Short = 1e5
	Open  = 0.0
)

// A Shape is the topology of a network: what is joined to what. Resistances are in Values.
type Shape struct {
	Nodes   int
	Wires   []Pair
	Sources []Pair // A is the plus terminal
	Chains  []Chain
}

// A Pair is the two nodes of an element.
type Pair struct{ A, B int }

// A Chain is two rails between ends A and B with Loads equal loads across them. Load i is i + ½ pitches from end A.
type Chain struct {
	APlus, AReturn int
	BPlus, BReturn int
	Loads          int
}

func (c Chain) nodes() [4]int { return [4]int{c.APlus, c.AReturn, c.BPlus, c.BReturn} }
