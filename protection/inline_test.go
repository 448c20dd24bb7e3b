package protection_test

import (
	"fmt"
	"strings"
	"testing"
)

// 2 × 4 mm² may carry 27 A in air of 30 °C, for which 25 A is the next inline fuse below; 2 × 0.5 mm² 3 A, and so 3 A.
func TestTheRemedyNamesTheInlineFuseForALeadWithoutOne(t *testing.T) {
	for cable, want := range map[string]string{"cable/flex-2x4": "Fit fuse/inline-25A or a smaller fuse at the supply.", "cable/flex-2x0.5": "Fit fuse/inline-3A or a smaller fuse at the supply."} {
		_, all := judged(t, fmt.Sprintf(`farend: 1
site: {coldest: 20 °C}
supplies: {T1: {part: supply/12v-350w}}
boards: {A1: {part: board/six-way-two-port-24v}}
runs: {E1: {tape: tape/12v-rgb-20x3, length: 1 m}}
cables:
  W1: {part: %s, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-5A}
states: {full: {}}
`, cable))
		found := of(all, "protection/source-fuse", "W1")
		if len(found) == 0 || !strings.HasPrefix(found[0].Remedy, want) {
			t.Errorf("%s: %+v", cable, found)
		}
	}
}
