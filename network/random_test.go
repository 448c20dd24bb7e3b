package network_test

import (
	"fmt"
	"maps"
	"math/rand"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"farend/internal/schemetest"
	"farend/internal/spice"
	"farend/scheme"
)

// TestRandomSchemesAgainstSpice compares random schemes with ngspice, as they are and after a change: cold, and followed from the
// point before it. Each of features must be in enough of them.
func TestRandomSchemesAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	const schemes, slicesOfACase = 300, 2
	f := newProof()
	t.Run("schemes", func(t *testing.T) {
		for part := range 4 {
			t.Run(fmt.Sprint(part), func(t *testing.T) {
				t.Parallel()
				for k := part; k < schemes; k += 4 {
					r := rand.New(rand.NewSource(int64(k)))
					items := schemetest.Random(r)
					text := schemetest.Text(items, schemetest.AsWritten)
					n := layOut(t, readScheme(t, fmt.Sprintf("random %d", k), []byte(text)))
					b := f.batch()
					b.cases(t, n, slicesOfACase)
					b.changed(t, r, n, items)
					b.compare(t)
					if t.Failed() {
						t.Fatalf("random %d:\n%s", k, text)
					}
				}
			})
		}
	})
	f.report(t)
	for name := range features {
		if f.holds[name] < enough {
			t.Errorf("%d schemes hold %s, want %d", f.holds[name], name, enough)
		}
	}
	for what, least := range map[string]int{"values": 60, "an outage": 30, "an edit": 30} {
		if f.followed[what] < least {
			t.Errorf("%s was followed %d times, want %d", what, f.followed[what], least)
		}
	}
	t.Logf("followed to within %.3g V: %v; in full on the same way: %v", f.behind, f.followed, f.full)
	for _, name := range slices.Sorted(maps.Keys(f.holds)) {
		t.Logf("%d schemes with %s", f.holds[name], name)
	}
}

// results solves every case and gives what is reported, with every pixel.
func results(t *testing.T, text string) []any {
	t.Helper()
	n := layOut(t, readScheme(t, "order", []byte(text)))
	var all []any
	for _, c := range n.States() {
		s := solved(t, n, c)
		all = append(all, n.Read(s))
		for _, id := range scheme.IDs(n.Scheme.Runs) {
			profile, _ := n.Profile(s, id)
			all = append(all, profile)
		}
	}
	return all
}

func TestOrderOfTheFileChangesNoBit(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	for k := range 25 {
		items := schemetest.Random(rand.New(rand.NewSource(int64(1000 + k))))
		want := results(t, schemetest.Text(items, schemetest.AsWritten))
		got := results(t, schemetest.Text(items, slices.Reverse[[]string]))
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("scheme %d: the order of the file changes results", k)
		}
	}
}

func TestNumberOfProcessorsChangesNoBit(t *testing.T) {
	source, err := os.ReadFile(filepath.Join("..", "examples", "footbridge.scheme.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	before := runtime.GOMAXPROCS(1)
	one := results(t, string(source))
	runtime.GOMAXPROCS(4)
	four := results(t, string(source))
	runtime.GOMAXPROCS(before)
	if !reflect.DeepEqual(one, four) {
		t.Error("the number of processors changes results")
	}
}
