package protection

import (
	"fmt"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/remedy"
	"farend/study"
)

var lostReturn = study.Rule{
	Name: "protection/data-return", Title: "Return through a data ground", Scope: study.Runs, Safety: true,
	Doc: study.Doc{
		What:    "Every stretch of a run that has a closed circuit against having one whose return is power copper.",
		Why:     "Otherwise its whole current comes home through the ground core of a data lead and a port made for signals. Every light still works, no fuse sees it, and core and port heat up.",
		Formula: []string{"N_r ≥ 1 where N_c ≥ 1"},
		Symbols: []study.Symbol{
			{Sign: "N_c", Unit: "1", Means: "supplies whose circuit closes through the stretch by any copper"},
			{Sign: "N_r", Unit: "1", Means: "those of them whose return needs no ground core of a data lead"},
		},
		Sources: []study.Source{nothingNeeded("Kirchhoff's current law")},
		Limits: []string{
			"It sees the installation as drawn. What happens when a return core breaks later is judged by protection/lost-return.",
			"Where a run has a return of its own and a data ground beside it, the two share; that share is judged by board/port-ground.",
		},
		Grades: []study.Graded{{Grade: finding.Danger, When: "some stretch returns its current only through a data ground"}},
		Example: study.Example{
			Given: []string{
				"100 pixels of 10 mA have a positive feed and no return. Their current comes home through 1 m of data lead, 39 mΩ, and the port's ground, 5 mΩ with a resettable fuse of 0.4 Ω.",
			},
			Sums: []string{
				"100 × 10 mA = 1 A",
				"1 A × (39 mΩ + 5 mΩ + 400 mΩ) = 0.444 V",
				"1 A × 0.444 V = 0.444 W",
			},
			Grade: finding.Danger,
			Says:  "The run stands 0.44 V above its sender, and the signal ground turns 0.44 W into heat.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, f := range s.Network.Feeds(id) {
			if f.DataOnly {
				found = append(found, study.Assessment{Grade: finding.Danger, At: fmt.Sprintf("%s@px%d", id, f.From), Source: "needs no source: Kirchhoff's current law"}.Say(
					fmt.Sprintf("%s, pixels %d to %d, returns its current only through a data ground.", id, f.From, f.To-1),
					fmt.Sprintf("Bring the return of a power cable to %s.", id)).Worked(func(w *study.Working) { returning(w, f, 0) }).
					Fixed(func() []finding.Edit { return remedy.Return(s, id, f.From) }))
			}
		}
		if found == nil {
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(func(w *study.Working) {
				for _, f := range s.Network.Feeds(id) {
					returning(w, f, len(circuits(f)))
				}
			})}
		}
		return found
	},
}

// circuits lists the supplies whose circuit closes through a stretch.
func circuits(f network.Feed) []string {
	return slices.DeleteFunc(slices.Clone(f.Plus), func(t string) bool { return !slices.Contains(f.Return, t) })
}

// returning asks whether a stretch that has a circuit has one that needs no data ground; powered is how many do, or might.
func returning(w *study.Working, f network.Feed, powered int) {
	closed := circuits(f)
	w.Counted("N_c", fmt.Sprintf("supplies whose circuit closes through pixels %d to %d: %s", f.From, f.To-1, study.Listed(closed)), len(closed))
	w.Counted("N_r", "those whose return needs no ground core of a data lead", powered)
	w.When(finding.Danger, "N_r < min(1, N_c)")
}

var dataPower = study.Rule{
	Name: "protection/data-power", Title: "Power past the fuses", Scope: study.Leads, Safety: true,
	Doc: study.Doc{
		What:    "Every data lead against having no core that carries the supply (power: no).",
		Why:     "Such a core joins the board's bar to the run past the fuses of its ways. In a short it carries what the supply can give, and a data core is thin.",
		Formula: []string{"N_s = 0"},
		Symbols: []study.Symbol{{Sign: "N_s", Unit: "1", Means: "cores of the lead that carry the supply"}},
		Sources: deviceSources,
		Limits: []string{
			"It takes the scheme's word for what is connected in the plug. Spare cores that are joined in fact and not in the scheme are not seen.",
			"It asks not how much the core carries: without a fuse that is up to the supply.",
		},
		Grades: []study.Graded{{Grade: finding.Danger, When: "the lead carries the supply in further cores"}},
		Example: study.Example{
			Given: []string{"A data lead of 0.5 mm², whose cores may carry 3 A, also carries the plus of a supply that limits at up to 84 A."},
			Sums:  []string{"84 A/3 A = 28"},
			Grade: finding.Danger,
			Says:  "In a short at the run the core carries up to 28 times what it may, and no fuse is in its way.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		carried := func(cores int) func(*study.Working) {
			return func(w *study.Working) {
				w.Counted("N_s", "kinds of cores of the lead that carry the supply", cores)
				w.When(finding.Danger, "N_s > 0")
			}
		}
		if !s.Scheme.Data[id].Power {
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(carried(0))}
		}
		a := study.Assessment{Grade: finding.Danger, Basis: deviceSources[0].Basis, Source: deviceSources[0].String()}.Say(
			fmt.Sprintf("%s carries the supply in its spare cores, past every fuse.", id), "Leave the spare cores dead (power: no) and feed the run from a fused way.").Worked(carried(1))
		a.Fix = func() []finding.Edit { return []finding.Edit{{Path: finding.Pointer("data", id, "power"), Value: nil}} }
		return []study.Assessment{a}
	},
}
