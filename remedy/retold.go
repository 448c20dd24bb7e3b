package remedy

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
)

// retold is the draft that is kept with its steps told anew from a start, so that what was changed twice is changed once, to what it
// is in the end; the draft as it is where that would be another scheme.
func (w *mending) retold(ctx context.Context, start draft) (draft, error) {
	steps, text := w.steps, start.text
	lists, changed := once(steps)
	if !changed {
		return w.draft, nil
	}
	var told []Step
	for i, all := range lists {
		edits := scheme.Effective(text, all)
		if len(edits) == 0 {
			continue
		}
		_, after, _ := scheme.Apply(start.study.Scheme.File, text, edits, parts.Catalogue())
		if after == nil {
			return w.draft, nil
		}
		if bytes.Equal(after, text) {
			continue
		}
		told = append(told, Step{steps[i].Finding, edits, scheme.Changes(text, edits), text, after})
		text = after
	}
	d, no, err := w.judged(ctx, w.draft, text, told)
	if no != nil || err != nil || Worse(w.findings, d.findings) || Worse(d.findings, w.findings) {
		return w.draft, err
	}
	return d, nil
}

// once are the edits of each step, without those whose place an earlier step changed: that step has their value instead. It reports whether
// there are such.
func once(steps []Step) (lists [][]finding.Edit, changed bool) {
	lists = make([][]finding.Edit, len(steps))
	for i, s := range steps {
		for _, e := range s.Edits {
			if slices.ContainsFunc(lists[:i], func(earlier []finding.Edit) bool { return overruled(earlier, e) }) {
				changed = true
			} else {
				lists[i] = append(lists[i], e)
			}
		}
	}
	return lists, changed
}

// overruled gives one of some edits the value of a later one of the same place, or of a key of what it sets; it reports whether there is
// such a one. What is put at the end of a list is no place.
func overruled(edits []finding.Edit, later finding.Edit) bool {
	for i, e := range edits {
		key, inside := strings.CutPrefix(later.Path, e.Path+"/")
		whole, ok := e.Value.(map[string]any)
		switch {
		case strings.HasSuffix(e.Path, "/-"):
		case e.Path == later.Path:
			edits[i].Value = later.Value
			return true
		case inside && ok && !strings.Contains(key, "/"):
			whole = maps.Clone(whole)
			if whole[key] = later.Value; later.Value == nil {
				delete(whole, key)
			}
			edits[i].Value = whole
			return true
		}
	}
	return false
}
