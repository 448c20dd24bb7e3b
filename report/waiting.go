package report

import (
	"fmt"
	"slices"

	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// notChosen stands where a part would.
const notChosen = "not chosen"

// waiting names, by supply, board, junction and cable, the supplies that are not chosen and may feed it. Such a supply is not in the solved
// network, so what copper leads to it carries is not known, whatever else feeds that. It is followed as far as tape, and to other supplies.
func waiting(s *scheme.Scheme) map[string][]string {
	on := map[string][]string{}
	for _, t := range scheme.IDs(s.Supplies) {
		if _, chosen := parts.Get[parts.Supply](s.Library, s.Supplies[t].Part); chosen {
			continue
		}
		for _, id := range onwards(s, t) {
			on[id] = append(on[id], t)
		}
	}
	return on
}

// onwards is a supply, and the cables, boards and junctions that copper leads to from there.
func onwards(s *scheme.Scheme, supply string) []string {
	reached := []string{supply}
	for next := 0; next < len(reached); next++ { // what is reached is followed in its turn
		for _, id := range scheme.IDs(s.Cables) {
			from, to := s.Cables[id].From, s.Cables[id].To
			for _, ends := range [][2]scheme.Ref{{from, to}, {to, from}} {
				if ends[0].Element != reached[next] || ends[0].Kind == scheme.StationRef {
					continue
				}
				found := []string{id}
				if ends[1].Kind != scheme.StationRef && ends[1].Kind != scheme.SupplyRef {
					found = append(found, ends[1].Element)
				}
				for _, one := range found {
					if !slices.Contains(reached, one) {
						reached = append(reached, one)
					}
				}
			}
		}
	}
	return reached
}

// waits lists the supplies that are not chosen and may feed a supply, board, way, port, junction or cable.
func (b *book) waits(id string) []string {
	if on, is := b.open[id]; is {
		return on
	}
	return b.open[network.BoardOf(id)]
}

// unsaid says why numbers are left out of a table; nothing where none are.
func (b *book) unsaid(supplies []string) []layout.Block {
	if len(supplies) == 0 {
		return nil
	}
	return []layout.Block{told("Where no number stands it is " + unknown(set(supplies)) + ".")}
}

// set are names in order, each once.
func set(names []string) []string {
	names = slices.Clone(names)
	slices.SortFunc(names, finding.Natural)
	return slices.Compact(names)
}

// unknown says why something is not known.
func unknown(supplies []string) string {
	return fmt.Sprintf("unknown: %s %s not chosen", study.Several(supplies), verb(len(supplies), "is", "are"))
}
