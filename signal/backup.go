package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

var backupLine = study.Rule{
	Name: "signal/backup-line", Title: "Backup line", Scope: study.Leads,
	Doc: study.Doc{
		What:    "Data leads to and from tape whose pixels have a second data input, which takes over when the pixel before is dead: whether a lead between two such runs has a core for it, and what becomes of it where a chain begins or ends.",
		Why:     "The backup input takes what the pixel before the last one sent. Where the line is not led on, one dead pixel at the end of a run takes all of the next with it: what one paid for ends at the first lead.",
		Formula: []string{"N_c ≥ N_n"},
		Symbols: []study.Symbol{
			{Sign: "N_c", Unit: "1", Means: "cores of the lead"},
			{Sign: "N_n", Unit: "1", Means: "cores that it needs: data, backup, ground where that is joined, and one that carries the supply where it does"},
		},
		Sources: []study.Source{
			{Title: "datasheets of WS2813 and WS2815B", Edition: "2018-11", Basis: parts.Datasheet, Says: "in their application circuits the backup input of the first pixel is at ground, and that of each other pixel takes what the one before takes"},
			{Title: "text on a page on tape with WS2818 (secondary)", Basis: parts.Handbook, Says: "one dead pixel is bridged, two neighbours are not"},
		},
		Limits: []string{
			"It counts cores. Whether the backup core is joined at both ends, and not exchanged with data, a look tells.",
			"That the first backup input belongs to ground is of these two chips; of others their sheets say what they want.",
			"A buffer in a lead between two such runs must have a second channel for the backup line.",
		},
		Grades: []study.Graded{
			{Grade: finding.Unknown, When: "a lead between two such runs is not chosen yet"},
			{Grade: finding.Tight, When: "a lead between two such runs has no core for the backup line"},
			{Grade: finding.Note, When: "a chain with a backup line begins at the end of the lead, or ends at its beginning"},
		},
		Example: study.Example{
			Given: []string{"Between two runs of tape with a backup line lies a lead with two cores, data and ground."},
			Sums:  []string{"1 + 1 + 1 = 3", "2 < 3"},
			Value: "2", Limit: "3", Grade: finding.Tight,
			Says: "A lead of three cores brings the line on.",
		},
	},
	Reads: study.AsCount,
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead := s.Scheme.Data[id]
		to, takes := protocolOf(s, lead.To.Element)
		var from string
		var sends *parts.Protocol
		if lead.From.Kind == scheme.RunRef {
			from, sends = protocolOf(s, lead.From.Element)
		}
		backs := func(p *parts.Protocol) bool { return p != nil && p.Backup }
		switch {
		case backs(takes) && backs(sends):
			return secondCore(s, id, to, takes, backupSignal)
		case backs(takes):
			return []study.Assessment{backupNote(to, takes, fmt.Sprintf("%s has a second data input for a backup line, and a chain of it begins there: at its first pixel that belongs to ground.", lead.To),
				fmt.Sprintf("Join the backup input of the first pixel of %s to ground, as the application circuits of such chips have it: left open it may take for data what it picks up.", lead.To))}
		case backs(sends):
			return []study.Assessment{backupNote(from, sends, fmt.Sprintf("%s has a backup line, and %s has no input for it: a dead last pixel of %s takes %s with it.", lead.From, lead.To, lead.From, lead.To),
				"Leave the backup output open, or let tape of one kind follow.")}
		}
		return study.Passes("Nothing at either end has a backup line.")
	},
}

// backupNote is a note on where a backup line begins or ends.
func backupNote(name string, p *parts.Protocol, text, remedy string) study.Assessment {
	return study.Assessment{Grade: finding.Note, Basis: p.Basis, Source: p.Source}.
		On(func() []study.Number { return []study.Number{study.Said(name, "backup", p.Origin)} }).
		Say(text, remedy).Worked(func(w *study.Working) { w.Fact(finding.Note, text) })
}

// backupSignal is the backup line as a second signal of a lead.
var backupSignal = second{
	key: "backup", what: "the backup line", short: finding.Tight,
	needs: func(id string, lead scheme.Lead, cores, need int) (text, remedy string) {
		return fmt.Sprintf("%s has %d cores, and %d are needed to bring the backup line of %s on to %s: a dead last pixel of %s takes %s with it.", id, cores, need, lead.From, lead.To, lead.From, lead.To),
			fmt.Sprintf("Choose a lead with %d cores for data, backup and ground, and join the backup output of %s to the backup input of %s.", need, lead.From, lead.To)
	},
}
