package pixel_test

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/pixel"
)

// law is what the network asks of an element.
type law interface {
	Eval(v, amps, slope []float64)
}

var _ law = pixel.Load{}

func at(l law, v float64) (amps, slope float64) {
	i, g := []float64{0}, []float64{0}
	l.Eval([]float64{v}, i, g)
	return i[0], g[0]
}

// lit is a whole pixel of a part with the named channels fully on.
func lit(t testing.TB, part string, on ...string) pixel.Load {
	t.Helper()
	laws, _ := channels(t, part)
	parts := []pixel.Part{{Channel: laws["idle"], Drive: 1}}
	for _, name := range on {
		parts = append(parts, pixel.Part{Channel: laws[name], Drive: 1})
	}
	return pixel.NewLoad(parts)
}

// One 5 V pixel, all channels full, at 3.3 V on a bench meter: 28.8 mA (published measurement, 2016).
func TestPixelMeetsItsPublishedMeasurement(t *testing.T) {
	const near = 0.08 // the part's set current is not stated; parts of 12 mA differ by as much
	row := reference.Where(t, reference.Rows(t, "strip_measurements.csv"), "id", "one_at_3v3")[0]
	got, _ := at(lit(t, "D5_12mA", "red", "green", "blue"), reference.Number(t, row, "volts"))
	if want := reference.Number(t, row, "value") / 1e3; math.Abs(got/want-1) > near {
		t.Errorf("%.2f mA at 3.3 V, measured %.1f mA", got*1e3, want*1e3)
	}
}

// A piece of 14 pixels with 1, 5, 10 or 14 of them lit in five colours. Set current (11.2 mA a channel) and idle
// (11.4 mA for all 14) are slope and intercept of the same measurements, so this checks that channels add up and that the
// law is flat at 5 V, not the set current.
func TestPieceOfTapeMeetsItsPublishedMeasurements(t *testing.T) {
	const near = 0.02 // meter ±1 %, set current to three figures; well within the ±10 % a typical tape is allowed
	colours := map[string][]string{"white": {"red", "green", "blue"}, "yellow": {"red", "green"}, "red": {"red"}, "green": {"green"}, "blue": {"blue"}}
	laws, _ := channels(t, "D5_12mA")
	idle := laws["idle"]
	idle.Set = 0.81e-3
	checked := 0
	for _, row := range reference.Where(t, reference.Rows(t, "strip_measurements.csv"), "part", "WS2812B") {
		lit, rest, ok := strings.Cut(row["quantity"], ", total current")
		if !ok || rest != "" {
			continue
		}
		parts := []pixel.Part{{Channel: idle, Drive: 1}}
		for _, name := range colours[lit] {
			c := laws[name]
			c.Set = 11.2e-3
			parts = append(parts, pixel.Part{Channel: c, Drive: 1})
		}
		n := reference.Number(t, map[string]string{"n": row["id"][strings.LastIndex(row["id"], "_")+1:]}, "n")
		on, _ := at(pixel.NewLoad(parts), 5)
		off, _ := at(pixel.NewLoad(parts[:1]), 5)
		got, want := n*on+(14-n)*off, reference.Number(t, row, "value")/1e3
		if math.Abs(got/want-1) > near {
			t.Errorf("%v pixels %s: %.1f mA, measured %.1f mA", n, lit, got*1e3, want*1e3)
		}
		checked++
	}
	if checked != 20 {
		t.Errorf("%d measurements checked, want 20", checked)
	}
}

func TestLoadIsTheSumOfItsParts(t *testing.T) {
	random := rand.New(rand.NewSource(5))
	all := randomChannels(300)
	for len(all) > 4 {
		n := 1 + random.Intn(4)
		var parts []pixel.Part
		size := 0.0
		for _, c := range all[:n] {
			drive := random.Float64()
			if random.Intn(4) == 0 {
				drive = 0
			}
			wider, softer, higher := c, c, c
			wider.Hi++ // a string channel does not mind
			softer.Soft *= 1.5
			higher.Lo++
			higher.Hi++
			parts = append(parts, pixel.Part{Channel: c, Drive: drive})
			parts = append(parts, pixel.Part{Channel: c, Drive: 0.5}) // the same knees again, and three near ones
			parts = append(parts, pixel.Part{Channel: wider, Drive: 0.25}, pixel.Part{Channel: softer, Drive: 0.25}, pixel.Part{Channel: higher, Drive: 0.25})
			size += 5 * scale(c)
		}
		all = all[n:]
		load := pixel.NewLoad(parts)
		for v := -2.0; v < 26; v += 0.31 {
			amps, slope := 0.0, 0.0
			for _, p := range parts {
				i, g := p.Channel.Current(v)
				amps += p.Drive * i
				slope += p.Drive * g
			}
			got, g := at(load, v)
			if math.Abs(got-amps) > exact*size || math.Abs(g-slope) > 1e-9*slope+1e-300 || g < 0 {
				t.Fatalf("%+v at %v V: %v A, %v S, want %v A, %v S", parts, v, got, g, amps, slope)
			}
		}
		if amps, _ := at(load, 0); amps != 0 {
			t.Errorf("%+v at 0 V: %v A", parts, amps)
		}
		for _, v := range []float64{-1e6, 1e6} {
			if amps, slope := at(load, v); math.IsNaN(amps) || math.IsInf(amps, 0) || !(slope >= 0) || amps*v < 0 {
				t.Errorf("%+v at %v V: %v A, slope %v", parts, v, amps, slope)
			}
		}
	}
}

func TestLoadOfNothingDrawsNothing(t *testing.T) {
	c := randomChannels(1)[0]
	for name, l := range map[string]pixel.Load{
		"no parts":                  pixel.NewLoad(nil),
		"the zero load":             {},
		"all parts off":             pixel.NewLoad([]pixel.Part{{Channel: c}}),
		"a negative drive":          pixel.NewLoad([]pixel.Part{{Channel: c, Drive: -1}}),
		"a drive that is no number": pixel.NewLoad([]pixel.Part{{Channel: c, Drive: math.NaN()}}),
	} {
		if amps, slope := at(l, 12); amps != 0 || slope != 0 {
			t.Errorf("%s: %v A, slope %v", name, amps, slope)
		}
	}
}

// At half level the knee stays where it is and the mean current halves: slope 5.56 to 5.59 mA at half value against
// 11.15 to 11.21 mA at full (published notebook of the 14-pixel piece).
func TestDriveScalesCurrentAndLeavesTheKnee(t *testing.T) {
	laws, _ := channels(t, "D5_12mA")
	full := pixel.NewLoad([]pixel.Part{{Channel: laws["blue"], Drive: 1}})
	half := pixel.NewLoad([]pixel.Part{{Channel: laws["blue"], Drive: 0.5}})
	for v := 0.0; v < 6; v += 0.1 {
		a, g := at(full, v)
		b, h := at(half, v)
		if math.Abs(b-a/2) > 1e-18 || math.Abs(h-g/2) > 1e-15 {
			t.Errorf("at %v V: %v A at half level, %v A at full", v, b, a)
		}
	}
}

func TestLoadEvalDoesNotAllocate(t *testing.T) {
	var l law = lit(t, "D5_12mA", "red", "green", "blue")
	v, amps, slope := []float64{3, 4, 5}, make([]float64, 3), make([]float64, 3)
	if n := testing.AllocsPerRun(100, func() { l.Eval(v, amps, slope) }); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
}

// BenchmarkLoad is one white pixel of four channels; BenchmarkExp is the yardstick, one math.Exp of an argument from
// −30 to 0.
func BenchmarkLoad(b *testing.B) {
	l := lit(b, "D5_12mA", "red", "green", "blue")
	v, amps, slope := make([]float64, 1000), make([]float64, 1000), make([]float64, 1000)
	for i := range v {
		v[i] = 2.5 + 2.5*float64(i)/1000
	}
	for i := 0; i < b.N; i += len(v) {
		l.Eval(v, amps, slope)
	}
}

func BenchmarkExp(b *testing.B) {
	sum := 0.0
	for i := range b.N {
		sum += math.Exp(-30 * float64(i%1000) / 1000)
	}
	if sum < 0 {
		b.Fatal(sum)
	}
}

// A pixel whose poles are swapped: 5 V over a diode of 0.6 V and 5 Ω drive 0.88 A, backwards; the right way round nothing changes.
func TestAPixelBackwards(t *testing.T) {
	load := pixel.NewLoad([]pixel.Part{{Channel: pixel.Channel{Set: 12e-3, Lo: 1.8, Hi: 2.4, Soft: 0.1}, Drive: 1}})
	both := pixel.Backwards{Load: load, Knee: 0.6, Ohms: 5}
	volts := []float64{-5, -1, -0.6, -0.3, 0, 0.5, 2, 5}
	amps, slope, plain, steep := make([]float64, 8), make([]float64, 8), make([]float64, 8), make([]float64, 8)
	both.Eval(volts, amps, slope)
	load.Eval(volts, plain, steep)
	if math.Abs(amps[0]+0.88) > 1e-6 || math.Abs(amps[1]+0.08) > 1e-6 || amps[4] != 0 {
		t.Errorf("it draws %v", amps)
	}
	for i, v := range volts {
		if v >= 0 && math.Abs(amps[i]-plain[i]) > 1e-12 {
			t.Errorf("at %v V it draws %v, the right way round %v", v, amps[i], plain[i])
		}
		const h = 1e-6
		near, other := []float64{v - h, v + h}, make([]float64, 2)
		both.Eval(near, other, make([]float64, 2))
		if got := (other[1] - other[0]) / (2 * h); math.Abs(got-slope[i]) > 1e-4 || slope[i] < 0 {
			t.Errorf("at %v V its slope is %v, measured %v", v, slope[i], got)
		}
	}
	if !both.Same(pixel.Backwards{Load: load, Knee: 0.6, Ohms: 5}) || both.Same(load) || both.Same(pixel.Backwards{Load: load, Knee: 0.6, Ohms: 6}) {
		t.Error("it does not know itself")
	}
}
