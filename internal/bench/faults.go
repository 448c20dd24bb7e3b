package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"
	"time"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// atriumFaults follows all faults of the atrium, on as many workers as there are processors.
func atriumFaults(ctx context.Context) (row, error) {
	source, err := os.ReadFile("examples/library-atrium.scheme.yaml")
	if err != nil {
		return row{}, err
	}
	st, err := still(ctx, string(source))
	if err != nil {
		return row{}, err
	}
	faults := st.Faults()
	var failed error
	seconds := median(func() float64 {
		begin := time.Now()
		failed = errors.Join(failed, st.Strike(ctx, faults, func(study.Faulted) error { return nil }))
		return time.Since(begin).Seconds()
	})
	return row{"all faults of the library atrium", "≤ 1 s on two processors", fmt.Sprintf("%.2f s", seconds),
		fmt.Sprintf("wall time; %d faults, dark and with the cap failed, in both corners; median of %d", len(faults), rounds), seconds <= 1}, failed
}

// still is the study of a scheme without its faults.
func still(ctx context.Context, source string) (*study.Study, error) {
	sch, mistakes := scheme.Read("bench.scheme.yaml", []byte(source), parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, mistakes
	}
	return study.New(ctx, sch, &study.Options{Striking: study.NotNow})
}

// handrails is a scheme of so many runs of 500 pixels, on supplies and boards of eight, each run fed at both ends with its positive cut in the
// middle.
func handrails(runs int) string {
	var supplies, boards, tapes, cables, fuses strings.Builder
	const each = 4 // runs of a board with eight ways
	for i := range runs {
		board := i/each + 1
		if i%each == 0 {
			fmt.Fprintf(&supplies, "  T%d: {part: supply/12v-350w}\n", board)
			fmt.Fprintf(&boards, "  A%d: {part: board/ten-way-six-port}\n", board)
			fmt.Fprintf(&cables, "  W%d00: {part: cable/flex-2x6, length: 0.5 m, from: T%d, to: A%d.in, fuse: fuse/inline-30A}\n", board, board, board)
		}
		fmt.Fprintf(&tapes, "  E%d: {tape: tape/12v-rgb-60-per-led, pixels: 500, cuts: [{at: px250, pole: plus}]}\n", i+1)
		for k, end := range []string{"start", "end"} {
			way := i%each*2 + k + 1
			fmt.Fprintf(&cables, "  W%d%02d: {part: cable/flex-2x2.5, length: %d m, from: A%d.%d, to: E%d@%s}\n", board, way, 3+5*k, board, way, i+1, end)
			fmt.Fprintf(&fuses, "  A%d.%d: fuse/blade-5A\n", board, way)
		}
	}
	return "farend: 1\ntitle: handrails (invented)\nsite: {exposure: dry, metalwork: isolated}\nsupplies:\n" + supplies.String() + "boards:\n" + boards.String() +
		"runs:\n" + tapes.String() + "cables:\n" + cables.String() + "fuses:\n" + fuses.String() + "states: {dim: {level: 30 %}}\n"
}

// manyFaults follows all faults of 20,000 pixels.
func manyFaults(ctx context.Context) (row, error) {
	return watched(ctx, "all faults", "faults", func(ctx context.Context, st *study.Study, tell func()) (int, error) {
		faults := st.Faults()
		return len(faults), st.Strike(ctx, faults, func(study.Faulted) error { tell(); return nil })
	})
}

// manySilences finds the silent power of every place of them.
func manySilences(ctx context.Context) (row, error) {
	return watched(ctx, "silent power of every place", "places", func(ctx context.Context, st *study.Study, tell func()) (int, error) {
		list, err := st.Silences(ctx, func(done, total int) { tell() })
		return len(list), err
	})
}

// watched does something with 20,000 pixels that tells of each step, and watches the heap; an interrupt half-way must end it soon.
func watched(ctx context.Context, what, things string, do func(ctx context.Context, st *study.Study, tell func()) (many int, err error)) (row, error) {
	st, err := still(ctx, handrails(40))
	if err != nil {
		return row{}, err
	}
	most, told := uint64(0), 0
	begin := time.Now()
	many, err := do(ctx, st, func() {
		if told++; told%100 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapAlloc)
		}
	})
	seconds := time.Since(begin).Seconds()
	if err != nil {
		return row{}, err
	}
	half := time.Duration(seconds / 2 * float64(time.Second))
	soon, stop := context.WithTimeout(ctx, half)
	defer stop()
	begin = time.Now()
	_, err = do(soon, st, func() {})
	late := (time.Since(begin) - half).Seconds()
	if !errors.Is(err, context.DeadlineExceeded) {
		return row{}, fmt.Errorf("the interrupt came to nothing: %v", err)
	}
	megabytes := float64(most) / (1 << 20)
	return row{what + " of 20,000 pixels in 40 runs", "heap ≤ 512 MB, interrupt within 0.5 s", fmt.Sprintf("%.0f MB, %.2f s", megabytes, late),
		fmt.Sprintf("%d %s in %.1f s; heap in use, garbage among it, at its highest", many, things, seconds), megabytes <= 512 && late <= 0.5}, nil
}

// manyOutages follows all outages of them.
func manyOutages(ctx context.Context) (row, error) {
	return watched(ctx, "all outages", "outages", func(ctx context.Context, st *study.Study, tell func()) (int, error) {
		outs := st.Network.Outages()
		return len(outs), st.Lose(ctx, outs, func(study.Outage) error { tell(); return nil })
	})
}

// atriumSlow follows all outages of the atrium, and finds the silent power of every place, on as many workers as there are processors.
func atriumSlow(ctx context.Context) (row, error) {
	source, err := os.ReadFile("examples/library-atrium.scheme.yaml")
	if err != nil {
		return row{}, err
	}
	st, err := still(ctx, string(source))
	if err != nil {
		return row{}, err
	}
	var failed error
	outs, places := st.Network.Outages(), 0
	timed := func(do func() error) float64 {
		return median(func() float64 {
			begin := time.Now()
			failed = errors.Join(failed, do())
			return time.Since(begin).Seconds()
		})
	}
	lost := timed(func() error { return st.Lose(ctx, outs, func(study.Outage) error { return nil }) })
	silent := timed(func() error {
		list, err := st.Silences(ctx, nil)
		places = len(list)
		return err
	})
	return row{"all outages of the library atrium, and the silent power of every place", "≤ 2 s on two processors", fmt.Sprintf("%.2f s", lost+silent),
		fmt.Sprintf("wall time; %d outages in %.2f s, %d places in %.2f s; dark, with the cap failed and in every state; medians of %d", len(outs), lost, places, silent, rounds), lost+silent <= 2}, failed
}
