package protection

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A home is the return of a cable that brings home more than its plus sends, in a case: what others send comes by it, and the fuses in
// the way of its own plus do not see that. Currents are means over the cycle, for those add up.
type home struct {
	in     network.Case
	own    set         // feeds its plus; none where that sends nothing
	others set         // the other fuses that feed the place where the return is entered
	inward []string    // the fuses around that send current there
	sends  unit.Ampere // what its plus carries
	brings unit.Ampere // what its return carries
	all    unit.Ampere // what the inward fuses carry
	data   unit.Ampere // what the grounds of data leads carry, all of them
}

// lasts is what may last in the return, by the shares of the case. While the own fuses hold it is in proportion to what they let
// through; without them it is its part of what the others do; and it is never more than its part of what all do.
func (h home) lasts() unit.Ampere {
	most := h.part() * h.others.fusing
	if len(h.own.guards) > 0 {
		most = max(most, h.brings/h.sends*h.own.fusing)
	}
	return min(h.part()*(h.own.fusing+h.others.fusing), most)
}

// part is what the return brings home of all that is sent there.
func (h home) part() unit.Ampere { return min(1, h.brings/h.all) }

// foreign reports whether more comes home by the return than the fuses around send there, and than grounds of data leads may bring,
// which rules of their own judge: it comes from elsewhere, by returns that are joined. A thousandth is left for rounding.
func (h home) foreign() bool { return h.brings > 1.001*(h.all+h.data) }

// homes lists what the return of a two-pole cable brings home in each case where that is more than the plus sends.
func homes(s *study.Study, id string) []home {
	c := s.Scheme.Cables[id]
	if !c.Pole.Has(scheme.Plus) || !c.Pole.Has(scheme.Return) {
		return nil
	}
	var list []home
	for _, in := range s.Cases() {
		end, sent := s.Homeward(in, id)
		at := set{cable: id, end: end}.place(s)
		around, towards := s.Network.Around(id, end), func(fuse string) bool { return s.Network.Towards(fuse, id, end) }
		if at.Kind == scheme.StationRef { // the returns of all pieces of a run are joined, however its positive is cut
			around, towards = s.Network.Fed(at.Element), func(fuse string) bool { return s.Network.TowardsRun(fuse, at.Element) }
		}
		if end == "" || len(around.Fuses) == 0 || len(around.Bare) > 0 || bridged(s, id, sent) {
			continue
		}
		r := s.Result(in.Name).Cables[id]
		h := home{in: in, brings: amount(r.Return), sends: amount(r.Plus)}
		var own []string
		if h.sends > 0 {
			own = s.Network.Behind(id, sent).Fuses
		}
		others := slices.DeleteFunc(slices.Clone(around.Fuses), func(f string) bool { return slices.Contains(own, f) })
		h.own, h.others = newSet(s, id, end, own), newSet(s, id, end, others)
		for _, name := range around.Fuses {
			guard, _ := s.Guard(name)
			if sent := s.CarriedBy(guard, in); towards(name) == (sent.Mean > 0) {
				h.inward, h.all = append(h.inward, name), h.all+amount(sent)
			}
		}
		for _, lead := range s.Result(in.Name).Data {
			h.data += amount(lead.Ground)
		}
		list = append(list, h)
	}
	return list
}

// amount is the mean of a current, whichever way it goes.
func amount(c network.Current) unit.Ampere { return max(c.Mean, -c.Mean) }

// homeward judges the return of a cable by the case in which most may last.
func homeward(s *study.Study, id string, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Assessment {
	list := homes(s, id)
	if len(list) == 0 {
		return nil
	}
	for _, h := range list {
		if open := h.own.open + h.others.open; open != "" {
			return study.Unknown(fmt.Sprintf("%s Whether the return of %s is guarded is not known.", open, id), "Choose a fuse whose part names the curve of its family.")
		}
	}
	if i := slices.IndexFunc(list, home.foreign); i >= 0 {
		return study.Unknown(fmt.Sprintf("%s brings home %v in %s, and %v is sent to where it lands: what guards its return is not known.", id, list[i].brings, study.CaseWords(list[i].in), list[i].all),
			"Bring every current home by the cable that sends it.")
	}
	h := slices.MaxFunc(list, func(a, b home) int { return cmp.Compare(a.lasts(), b.lasts()) })
	iz := izOf(s, id)
	bears, lasts := conductor.Bearable*iz, h.lasts()
	got, borne := unit.Apart(lasts, bears)
	a := study.Upper(float64(lasts), float64(bears), 0, finding.Danger).Fill("", "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
	a.At = h.own.place(s).String()
	return []study.Assessment{a.On(func() []study.Number {
		return append(append(h.own.fusings(s), h.others.fusings(s)...), append(s.Carried(h.in, id), izNumbers(s, id, part, rating)...)...)
	}).Say(fmt.Sprintf("%s brings home %v and sends %v in %s: with what %s, up to %s may last in its return. %v may carry %v and bears %s for an hour.",
		id, h.brings, h.sends, study.CaseWords(h.in), h.lets(), got, part.Area.Is, iz, borne),
		"Bring every current home by the cable that sends it, or use a thicker cable.").
		Fixed(func() []finding.Edit { return h.fix(s, id) }).Worked(func(w *study.Working) { h.work(w, s, id, part, rating) })}
}

// lets names the fuses that let it through.
func (h home) lets() string {
	names, feeds, _ := set{guards: slices.Concat(h.own.guards, h.others.guards)}.words()
	if feeds == "feeds" {
		return names + " lets through"
	}
	return names + " let through"
}

func (h home) work(w *study.Working, s *study.Study, id string, part *parts.Cable, rating parts.Value[unit.Ampere]) {
	w.Solved("I_r", "what its return brings home, the mean over the cycle", study.Of(h.brings), h.in)
	w.Solved("I_p", "what its plus sends, likewise", study.Of(h.sends), h.in)
	fusing := func(g set, from int) string {
		signs := []string{}
		for i, guard := range g.guards {
			n := strconv.Itoa(from + i)
			w.Fusing(s, "I_o"+n, "I_n"+n, n, guard)
			signs = append(signs, "I_o"+n)
		}
		return strings.Join(signs, " + ")
	}
	var inward []string
	for i, name := range h.inward {
		sign := "I_f" + strconv.Itoa(i+1)
		guard, _ := s.Guard(name)
		w.Solved(sign, "what "+name+" sends there, likewise", study.Of(amount(s.CarriedBy(guard, h.in))), h.in)
		inward = append(inward, sign)
	}
	w.Step("What all send there", "I_a = "+strings.Join(inward, " + "))
	w.Step("Of that, what its return brings home", "b = min(1, I_r/I_a)")
	var both, most []string
	if len(h.own.guards) > 0 {
		w.Step("What the fuses that feed its plus let through", "I_2 = "+fusing(h.own, 1))
		w.Step("What its return brings home for an ampere that its plus sends", "q = I_r/I_p")
		both, most = append(both, "I_2"), append(most, "q · I_2")
	}
	if len(h.others.guards) > 0 {
		w.Step("What the other fuses let through", "I_e = "+fusing(h.others, len(h.own.guards)+1))
		both, most = append(both, "I_e"), append(most, "b · I_e")
	}
	w.Step("What may last in its return", "I_h = min(b · ("+strings.Join(both, " + ")+"), max("+strings.Join(most, ", ")+"))")
	mayCarry(w, s, id, part, rating)
	w.Taken("k_b", "multiple of what it may carry that a core bears for an hour", study.Plain(conductor.Bearable), sizingSource)
	w.Step("What the cable bears for an hour", "I_b = k_b · I_max")
	w.Upper("I_h", "I_b", 0, finding.Danger)
}

// fix gives a return to every link beside it that sends current without bringing it home, else more copper to the cable.
func (h home) fix(s *study.Study, id string) []finding.Edit {
	var edits []finding.Edit
	for _, link := range links(s, id) {
		edits = append(edits, remedy.WithReturn(s, link)...)
	}
	if edits != nil {
		return edits
	}
	return remedy.Thicker(s, id, h.lasts()/conductor.Bearable)
}
