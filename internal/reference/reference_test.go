package reference_test

import (
	"testing"

	"farend/internal/reference"
)

func TestRowsCarryTheirHeadingsAndSources(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "conductor_awg.csv"), "awg", "14")
	if len(rows) != 1 {
		t.Fatalf("14 AWG has %d rows, want 1", len(rows))
	}
	if got := reference.Number(t, rows[0], "r75_nec8_stranded_uncoated_ohm_per_kft"); got != 3.14 { // NEC chapter 9 table 8
		t.Errorf("14 AWG stranded is %v ohm/kft, want 3.14", got)
	}
	if rows[0]["source"] == "" || rows[0]["status"] != "found" {
		t.Errorf("row without a source: %v", rows[0])
	}
}

func TestMissingTableFailsItsTest(t *testing.T) {
	for name, read := range map[string]func(testing.TB){
		"a file that is not there":    func(t testing.TB) { reference.Rows(t, "nothing.csv") },
		"a value that is not there":   func(t testing.TB) { reference.Where(t, reference.Rows(t, "conductor_awg.csv"), "awg", "99") },
		"a cell that is not a number": func(t testing.TB) { reference.Number(t, map[string]string{"awg": ""}, "awg") },
	} {
		t.Run(name, func(t *testing.T) {
			if !failed(t, read) {
				t.Error("the test went on")
			}
		})
	}
}

// failed runs read with a recorder in place of the test and says whether it stopped the test.
func failed(t *testing.T, read func(testing.TB)) bool {
	r := &recorder{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() { _ = recover() }()
		read(r)
	}()
	<-done
	return r.stopped
}

type recorder struct {
	testing.TB
	stopped bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Fatal(...any)          { r.stopped = true; panic("stopped") }
func (r *recorder) Fatalf(string, ...any) { r.stopped = true; panic("stopped") }
