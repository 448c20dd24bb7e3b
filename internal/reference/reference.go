// Package reference reads the published tables in testdata/reference for tests.
//
// Each file is comma-separated with one heading row. The columns source and status say where a row was read: "found"
// on a page or in a datasheet, "memory" until somebody finds it, "derived" by arithmetic from found values.
package reference

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Rows is every row of a file in testdata/reference, each a map from column heading to cell. It fails the test when
// the file is missing, empty or ragged, so that a lost table cannot pass for a table without disagreement.
func Rows(t testing.TB, file string) []map[string]string {
	t.Helper()
	path := filepath.Join(root(t), "testdata", "reference", file)
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("reference: %v", err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("reference: %s: %v", file, err)
	}
	if len(records) < 2 {
		t.Fatalf("reference: %s has no rows", file)
	}
	rows := make([]map[string]string, 0, len(records)-1)
	for _, record := range records[1:] {
		row := make(map[string]string, len(record))
		for i, heading := range records[0] {
			row[heading] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// Where is the rows whose cell in column is one of values. It fails the test when there is none.
func Where(t testing.TB, rows []map[string]string, column string, values ...string) []map[string]string {
	t.Helper()
	var some []map[string]string
	for _, row := range rows {
		for _, value := range values {
			if row[column] == value {
				some = append(some, row)
			}
		}
	}
	if len(some) == 0 {
		t.Fatalf("reference: no row where %s is one of %q", column, values)
	}
	return some
}

// Number is a cell as a number. It fails the test when the cell is empty or is not a number.
func Number(t testing.TB, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("reference: column %s of %v: %v", column, row, err)
	}
	return v
}

// root is the folder of go.mod above the test's working folder, which is the folder of the package under test.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatalf("reference: %v", err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			t.Fatal("reference: no go.mod above the working folder")
		}
		dir = parent
	}
}
