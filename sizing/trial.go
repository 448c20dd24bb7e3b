package sizing

import (
	"context"
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/study"
	"farend/unit"
)

// trialLength is how much tape a trial lays out: enough for a short near the feed and one away from it.
const trialLength unit.Metre = 0.5

// trial finds the largest blade fuse behind which the rails of the tape bear a short: half a metre of it is fed by the largest supply and
// the thickest cable through one fuse after the other, the smallest first, and judged like any scheme, until rails are in danger or nearly.
// Where the smallest is too large already it is kept: what is found of the draft then says so.
func (p *plan) trial(ctx context.Context, library *parts.Library) error {
	rule, ok := rulebook.Named(shortHeat)
	if !ok {
		return fmt.Errorf("there is no rule %s", shortHeat)
	}
	t := &plan{wish: p.wish, tape: p.tape, shelf: p.shelf, spare: 1}
	t.wish.Away = 0.1
	r := &run{label: "trial", pixels: max(t.wholePieces(trialLength), t.tape.CutEvery)}
	r.feeds = t.pieces(r, 1)
	r.feeds[0].thick = len(t.cables) - 1
	t.runs = []*run{r}
	t.groups = []*group{{supplyPart: &t.supplies[len(t.supplies)-1], boardPart: &t.boards[len(t.boards)-1], cable: len(t.cables) - 1, fuse: len(t.inlines) - 1, runs: t.runs}}
	t.number()
	for i := range t.blades {
		r.feeds[0].fuse = i
		st, err := solved(ctx, t.text(), library, study.Always)
		if err != nil {
			return err
		}
		for _, a := range rule.Judge(st, r.id) {
			if a.Grade > finding.Note {
				return nil
			}
		}
		p.gentle = i
	}
	return nil
}
