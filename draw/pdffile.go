package draw

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"strings"
	"unicode/utf16"
)

// pdfFile is a file of numbered objects (ISO 32000-1, 7.5). A number can be given out before its object is written.
type pdfFile struct {
	out    bytes.Buffer
	places []int // of object i+1
}

func newPDFFile() *pdfFile {
	f := &pdfFile{}
	f.out.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n") // four bytes beyond ASCII say that the file is no text
	return f
}

// reserve gives out the next number.
func (f *pdfFile) reserve() int {
	f.places = append(f.places, 0)
	return len(f.places)
}

// object writes the object of a number.
func (f *pdfFile) object(n int, format string, args ...any) {
	f.places[n-1] = f.out.Len()
	fmt.Fprintf(&f.out, "%d 0 obj\n", n)
	fmt.Fprintf(&f.out, format, args...)
	f.out.WriteString("\nendobj\n")
}

// add writes an object with the next number.
func (f *pdfFile) add(format string, args ...any) int {
	n := f.reserve()
	f.object(n, format, args...)
	return n
}

// stream writes data with the next number, compressed. What else is said of them stands in entries.
func (f *pdfFile) stream(entries string, data []byte) int {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	z.Write(data) // a buffer takes everything
	z.Close()
	return f.add("<<%s/Filter/FlateDecode/Length %d>>\nstream\n%s\nendstream", entries, packed.Len(), packed.Bytes())
}

// end is the whole file. Its name is made of what is in it, so it is the same for the same pages.
func (f *pdfFile) end(catalog, info int) []byte {
	name := sha256.Sum256(f.out.Bytes())
	start := f.out.Len()
	fmt.Fprintf(&f.out, "xref\n0 %d\n0000000000 65535 f \n", len(f.places)+1)
	for _, at := range f.places {
		fmt.Fprintf(&f.out, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&f.out, "trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%X><%[4]X>]>>\nstartxref\n%[5]d\n%%%%EOF\n", len(f.places)+1, catalog, info, name[:16], start)
	return f.out.Bytes()
}

// pdfText is a text outside of pages, as a title, in UTF-16.
func pdfText(words string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(words)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// references are objects named one after the other.
func references(numbers []int) string {
	var b strings.Builder
	for _, n := range numbers {
		fmt.Fprintf(&b, "%d 0 R ", n)
	}
	return strings.TrimSpace(b.String())
}
