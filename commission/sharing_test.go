package commission_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"
)

// A run that two unequal feeds share, and runs that two supplies feed together: 40 of each as somebody may have built them read within the bands, and no
// band of what is shared is so wide that it says nothing: at most three times what these show.
func TestSharesAreHeldByNarrowBands(t *testing.T) {
	for name, text := range map[string]string{
		"two unequal feeds": `farend: 1
site: {ambient: 30 °C, coldest: 5 °C}
supplies: {T1: {part: supply/5v-300w, volts: 5.1 V}}
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 180}}
cables:
  W1: {part: cable/flex-2x6, length: 0.8 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1.1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x1.5, length: 7.3 m, from: A1.2, to: E1@end}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A}
states: {full: {level: 50 %, colour: white}, amber: {level: 40 %, colour: "#ffb060"}}
`,
		"two supplies": `farend: 1
site: {ambient: 30 °C, coldest: 5 °C}
supplies: {T1: {part: supply/24v-480w-din-parallel}, T2: {part: supply/24v-480w-din-parallel}}
boards: {A1: {part: board/twelve-way-eight-port}}
runs: {E1: {tape: tape/24v-rgb-10x7, length: 6 m}, E2: {tape: tape/24v-rgb-10x7, length: 6 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x4, length: 1.5 m, from: T2, to: A1.in, fuse: fuse/inline-20A}
  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 6 m, from: A1.2, to: E1@end}
  W5: {part: cable/flex-2x1.5, length: 2 m, from: A1.3, to: E2@start}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-7.5A}
states: {full: {level: 60 %, colour: white}}
`,
		"a ring of three feeds": `farend: 1
site: {ambient: 32 °C, coldest: -3 °C}
supplies: {T1: {part: supply/24v-480w-din-parallel, volts: 24.2 V}, T2: {part: supply/24v-480w-din-parallel, volts: 24.2 V}}
boards: {A1: {part: board/twelve-way-eight-port}}
runs: {E1: {tape: tape/24v-rgb-10x7, length: 9 m}, E2: {tape: tape/24v-rgb-10x7, length: 5 m}}
junctions: {X1: {part: junction/lever-5}}
cables:
  W1: {part: cable/flex-2x4, length: 0.9 m, from: T1, to: A1.in, fuse: fuse/inline-15A}
  W2: {part: cable/flex-2x4, length: 1.6 m, from: T2, to: A1.in, fuse: fuse/inline-15A}
  W3: {part: cable/flex-2x1.5, length: 1.2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 5 m, from: A1.2, to: E1@px39}
  W5: {part: cable/flex-2x1.5, length: 9.5 m, from: A1.3, to: X1}
  W6: {part: cable/flex-2x1.5, length: 0.4 m, from: X1, to: E1@end}
  W7: {part: cable/flex-2x1.5, length: 0.8 m, from: X1, to: E2@start}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-7.5A}
states: {full: {level: 60 %, colour: white}}
`,
	} {
		st := read(t, text)
		p := of(t, st)
		ordered(t, name, p)
		shown := map[string][2]float64{}
		r := rand.New(rand.NewSource(1))
		for i := range 40 {
			other := studied(t, built(r, st.Scheme))
			if n := within(t, fmt.Sprintf("%s, built %d", name, i), p, other); n < 5 {
				t.Fatalf("%s: only %d readings", name, n)
			}
			for _, g := range p.Stages {
				for _, s := range g.Steps {
					if v, ok := reads(other, s.Between, s.State); ok && strings.Contains(s.Between[0], "clamp") {
						at := s.State + " " + s.Between[0]
						ends, was := shown[at]
						if !was {
							ends = [2]float64{v, v}
						}
						shown[at] = [2]float64{min(ends[0], v), max(ends[1], v)}
					}
				}
			}
		}
		for _, g := range p.Stages {
			for _, s := range g.Steps {
				ends, ok := shown[s.State+" "+s.Between[0]]
				if !ok || s.Reading == nil {
					continue
				}
				low, high := s.Reading.Sound()
				t.Logf("%s, %s, %s: %.3f A, %.3f to %.3f, built %.3f to %.3f", name, s.State, s.Do, s.Reading.Is, low, high, ends[0], ends[1])
				if wide := high - low; wide > 3*(ends[1]-ends[0]) && wide > 0.1*math.Abs(s.Reading.Is) {
					t.Errorf("%s, %s, %s: from %.3f to %.3f A, and what was built shows %.3f to %.3f", name, s.State, s.Do, low, high, ends[0], ends[1])
				}
			}
		}
	}
}
