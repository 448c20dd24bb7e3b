package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"farend/draw"
	"farend/internal/save"
)

// A drawn is a kind of file that pages are written to, by the ending of its name.
type drawn struct {
	ending string
	many   bool // it holds more than one page
	write  func(d draw.Document, dots float64) ([]byte, error)
	begin  string // before the words of the seal, a comment in that kind of file
	end    string // and after them
	tail   string // what must stay the last of the file, after the seal
}

// svg and pdf are their places among the kinds.
const (
	svg = iota
	pdf
)

// kinds are all of them. A file is what its ending says.
var kinds = []drawn{
	{ending: ".svg", write: func(d draw.Document, _ float64) ([]byte, error) { return draw.SVG(d.Pages[0].Scene) }, begin: "<!-- ", end: " -->\n"},
	{ending: ".pdf", many: true, write: func(d draw.Document, _ float64) ([]byte, error) { return draw.PDF(d) }, begin: "% ", end: "\n"},
	{ending: ".png", write: func(d draw.Document, dots float64) ([]byte, error) { return draw.PNG(d.Pages[0].Scene, dots) }, tail: "\x00\x00\x00\x00IEND\xaeB`\x82"},
	{ending: ".dxf", write: func(d draw.Document, _ float64) ([]byte, error) { return draw.DXF(d.Pages[0].Scene) }, begin: "999\r\n", end: "\r\n", tail: "  0\r\nEOF\r\n"},
}

// kindOf is the kind of a file by its name; standard output gets an SVG.
func kindOf(path string) (drawn, error) {
	if path == "-" {
		return kinds[svg], nil
	}
	ending := strings.ToLower(filepath.Ext(path))
	at := slices.IndexFunc(kinds, func(k drawn) bool { return k.ending == ending })
	if at < 0 {
		return drawn{}, usage(fmt.Sprintf("%s does not say what kind of file it is", path), "let its name end with .svg, .pdf, .png or .dxf")
	}
	return kinds[at], nil
}

// seal begins the words that say of a file that it is as farend wrote it; the sum of all that stands above them follows.
const seal = "farend drew this; sha256 of all above: "

// sealed is a file with its seal.
func (k drawn) sealed(text []byte) []byte {
	body, ok := bytes.CutSuffix(text, []byte(k.tail))
	if !ok {
		return text // no file of this kind: it stays without
	}
	words := fmt.Sprintf("%s%x", seal, sha256.Sum256(body))
	return slices.Concat(body, k.remark(words), []byte(k.tail))
}

// remark is a comment in that kind of file. That of a PNG is a chunk of text (ISO/IEC 15948, 11.3.4.3).
func (k drawn) remark(words string) []byte {
	if k.ending != ".png" {
		return []byte(k.begin + words + k.end)
	}
	chunk := []byte("tEXtComment\x00" + words)
	out := binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-len("tEXt")))
	return binary.BigEndian.AppendUint32(append(out, chunk...), crc32.ChecksumIEEE(chunk))
}

// drewIt reports whether a file is as farend wrote it. One that somebody has changed since is theirs.
func (k drawn) drewIt(text []byte) bool {
	before := len(k.begin)
	if k.ending == ".png" {
		before = len("0000tEXtComment\x00") // of the chunk: its length, its kind, its keyword
	}
	at := bytes.LastIndex(text, []byte(seal)) - before
	return at >= 0 && bytes.Equal(k.sealed(slices.Concat(text[:at], []byte(k.tail))), text)
}

// elsewhere is the hint where a file cannot be written.
func elsewhere(option string) string { return "name another file: " + option + " FILE" }

// free says why a file may not be written: somebody else's stands there.
func (k drawn) free(path, option string) error {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	old, err := contents(path)
	switch {
	case err != nil:
		return usage(err.Error(), elsewhere(option))
	case !k.drewIt(old):
		return usage(path+" is there already, and is not a file as farend wrote it", elsewhere(option))
	}
	return nil
}

// keep writes a file where nothing is, or over an earlier one of its own.
func (k drawn) keep(path, option string, page []byte) error {
	err := save.New(path, page)
	if errors.Is(err, fs.ErrExist) {
		if err := k.free(path, option); err != nil {
			return err
		}
		old, unread := contents(path)
		if unread != nil {
			return usage(unread.Error(), elsewhere(option))
		}
		if bytes.Equal(old, page) {
			return nil
		}
		err = save.Over(path, old, page)
	}
	if err != nil {
		return usage(fmt.Sprintf("%s cannot be written: %v", path, cause(err)), elsewhere(option))
	}
	return nil
}
