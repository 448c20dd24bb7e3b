package board

import (
	"cmp"
	"fmt"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
)

// digitSources say what a degree of protection is, and what places ask.
var digitSources = []study.Source{
	{Title: "IEC 60529", Clause: "tables of the first and the second digit", Basis: parts.Standard, Says: "1: drops; 2: drops at 15°; 3: spray to 60°; 4: splashing; 5 and 6: jets; 7: immersion to 1 m; 8: beyond 1 m; digits up to 6 imply the lower ones, 7 and 8 do not imply 5 or 6", Read: "pages that were not named"},
	placeSource,
	{Title: "IEC 60364-5-51", Clause: "table 51A, AD", Basis: parts.Memory, Says: "drops ask 1 or 2, spray 3, splashes 4, immersion 7, submersion 8"},
	{Title: "IEC 60364-7-714", Clause: "714.512", Basis: parts.Memory, Says: "outdoor lighting has at least IP33"},
	{Title: "IEC 60364-4-41", Clause: "annex A", Basis: parts.Memory, Says: "barriers before live parts are at least IP2X, so that no finger gets through"},
}

// placeSource is what is taken where sources were not read, or differ.
var placeSource = study.Source{Title: "common practice, no source", Basis: parts.Practice,
	Says: "a second digit of 2 in a damp place, 4 outdoors and 8 under water is as it should be, 1, 3 and 7 is the least"}

// basinSource keeps mains out of water.
var basinSource = study.Source{Title: "IEC 60364-7-702", Basis: parts.Memory, Says: "in basins there is no source of SELV: it stands outside"}

// fingers is the first digit that keeps fingers out, outside those that keep out what the wind brings.
const (
	fingers = 2
	insects = 3
)

var enclosureDegree = study.Rule{
	Name: "board/enclosure-degree", Title: "Degree of protection", Scope: study.Boxes, Safety: true,
	Doc: study.Doc{
		What:    "The two digits of an enclosure (ip) against how wet it is where the box is: its own exposure, else that of the site; and against fingers, where a supply is in it.",
		Why:     "Water on the mains side of a supply can kill, and on extra-low voltage it eats copper and lets currents creep where no fuse sees them.",
		Formula: []string{"D_2 ≥ D_w", "D_1 ≥ D_s"},
		Symbols: []study.Symbol{
			{Sign: "D_1", Unit: "1", Means: "first digit of the enclosure: solids"},
			{Sign: "D_2", Unit: "1", Means: "second digit: water; 7, 8 and 9 count as 4 where jets would be"},
			{Sign: "D_s", Unit: "1", Means: "3 outdoors; elsewhere 2 where a supply is in it, else 0"},
			{Sign: "D_w", Unit: "1", Means: "0 in a dry place, 1 in a damp one, 3 outdoors, 7 immersed; less than 2, 4 and 8 is tight"},
		},
		Sources: append(slices.Clone(digitSources), basinSource),
		Limits: []string{
			"A degree of protection holds for a box that is closed, with glands that fit its cables, as its maker mounts it. A hole for one more cable ends it.",
			"Drops of condensation come from inside: a box that gets warm and cold needs a vent or a membrane (from memory). Sun, frost and salt are not judged.",
			"Dust is taken to be no more than the place brings.",
			"How deep and for how long a box is under water its maker has to agree to.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "a digit is less than the least, and a supply is in it; or the box is under water with a supply in it"},
			{Grade: finding.Fails, When: "a digit is less than the least"},
			{Grade: finding.Unknown, When: "the enclosure does not say, or is not chosen yet; but for a dry place where no supply is in it; or the scheme does not say how wet the place is, and the box may not stand in every one"},
			{Grade: finding.Tight, When: "the second digit is the least, and one less than it should be"},
		},
		Example: study.Example{
			Given: []string{"A box of IP20 stands outdoors with a supply in it."},
			Sums:  []string{"0 < 3", "2 < 3"},
			Grade: finding.Danger,
			Says:  "Rain runs in, onto the mains.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		box := s.Scheme.Enclosures[id]
		place := cmp.Or(box.Exposure, s.Scheme.Site.Exposure)
		need := needOf(s, id, place)
		part, ok := parts.Get[parts.Enclosure](s.Scheme.Library, box.Part)
		switch {
		case place == "" && ok && anywhere(s, id, part.IP):
			return study.Passes(id + " is made for any place.")
		case place == "":
			return study.Unknown(fmt.Sprintf("The scheme does not say how wet it is where %s is.", id), "Write exposure under site, or under the enclosure where it is otherwise there.")
		case need == degrees{}:
			return study.Passes(fmt.Sprintf("%s is in a dry place, with no supply in it.", id))
		case !ok:
			return study.Unknown(fmt.Sprintf("The enclosure %s is not chosen yet.", id), "Choose an enclosure part.")
		}
		if need.mains && place == parts.Immersed {
			a := study.Assessment{Grade: finding.Danger, Basis: basinSource.Basis, Source: basinSource.String()}
			return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("no supply in a basin", basinSource)} }).Say(
				fmt.Sprintf("%s is under water with a supply in it: mains belongs outside.", id), "Put the supply where it is dry, and write the exposure of its box.").
				Worked(func(w *study.Working) { w.Fact(finding.Danger, "A supply is in a box that is under water") })}
		}
		solids, water, said := parts.Degree(part.IP)
		if !said {
			return study.Unknown(fmt.Sprintf("%s does not say its degree of protection; %s is %s.", box.Part, id, placed(place)), "Give the part its ip.")
		}
		a := study.Assessment{Basis: placeSource.Basis, Source: placeSource.String(), Grade: need.grade(solids, water)}
		return []study.Assessment{a.On(func() []study.Number {
			return []study.Number{study.Said(box.Part, "ip", part.Origin), study.Taken("what places ask of a degree of protection", placeSource)}
		}).Say(fmt.Sprintf("%s is %s and has IP%s; there a box%s has at least IP%d%d, better IP%d%d.", id, placed(place), part.IP, holding(need.mains), need.solids, need.water.Least, need.solids, need.water.Wanted),
			"Use an enclosure of a higher degree, or another place.").
			Fixed(func() []finding.Edit {
				return remedy.Box(s, id, func(ip string) bool {
					solids, water, ok := parts.Degree(ip)
					return ok && need.grade(solids, water) == finding.Pass
				})
			}).Worked(func(w *study.Working) { need.work(w, part.IP, solids, water) })}
	},
}

// degrees is what a box needs: its digits, and whether mains is in it.
type degrees struct {
	solids int
	water  parts.Wetness
	mains  bool
}

// needOf is what a box needs in a place.
func needOf(s *study.Study, id string, place parts.Exposure) degrees {
	d := degrees{water: place.Wetness()}
	d.mains = slices.ContainsFunc(s.Scheme.Enclosures[id].Holds, func(held string) bool { _, is := s.Scheme.Supplies[held]; return is })
	switch {
	case place == parts.Outdoors:
		d.solids = insects
	case d.mains:
		d.solids = fingers
	}
	return d
}

// anywhere reports whether a box with a degree of protection may stand outdoors and under water.
func anywhere(s *study.Study, id, ip string) bool {
	solids, water, said := parts.Degree(ip)
	out, under := needOf(s, id, parts.Outdoors), needOf(s, id, parts.Immersed)
	return said && !under.mains && out.grade(solids, water) == finding.Pass && under.grade(solids, water) == finding.Pass
}

// grade is that of two digits.
func (d degrees) grade(solids, water int) finding.Grade {
	switch {
	case solids >= d.solids && parts.KeepsOut(water, d.water.Wanted):
		return finding.Pass
	case solids >= d.solids && parts.KeepsOut(water, d.water.Least):
		return finding.Tight
	case d.mains:
		return finding.Danger
	}
	return finding.Fails
}

// work writes down how two digits are held against those that are needed.
func (d degrees) work(w *study.Working, ip string, solids, water int) {
	worst := finding.Fails
	if d.mains {
		worst = finding.Danger
	}
	keeps := water
	if !parts.KeepsOut(water, d.water.Wanted) && water > d.water.Wanted { // 9 is no immersion
		keeps = 4
	}
	w.Counted("D_1", "first digit of IP"+ip, solids)
	w.Counted("D_2", "second digit of IP"+ip+", as far as it counts here", keeps)
	w.Taken("D_s", "least first digit", study.Plain(d.solids), placeSource)
	w.Taken("D_w", "least second digit", study.Plain(d.water.Least), placeSource)
	w.Taken("D_g", "second digit as it should be", study.Plain(d.water.Wanted), placeSource)
	w.When(worst, "D_1 < D_s")
	w.When(worst, "D_2 < D_w")
	w.When(finding.Tight, "D_2 < D_g")
}

// placed says where a box is.
func placed(place parts.Exposure) string {
	switch place {
	case parts.Damp:
		return "in a damp place"
	case parts.Outdoors:
		return "outdoors"
	case parts.Immersed:
		return "under water"
	}
	return "in a dry place"
}

// holding says what is in a box.
func holding(mains bool) string {
	if mains {
		return " with a supply in it"
	}
	return ""
}
