// Package save writes files in one piece: whoever reads one sees the old text or the new one, never a part of either, and
// a full disk or a killed process leaves the old one as it was. A process killed in the middle leaves a hidden file beside
// it, .NAME.farend- and a number, which may be removed.
package save

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrChanged is the error of Over where the file no longer holds what was read from it.
var ErrChanged = errors.New("it has changed since it was read")

// New writes a file that is not there yet; the error is fs.ErrExist where it is.
func New(path string, text []byte) error {
	return through(path, 0o644, text, func(written string) error {
		err := os.Link(written, path) // unlike a rename it replaces nothing
		if err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
		if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) { // a file system without links
			return fs.ErrExist
		}
		return os.Rename(written, path)
	})
}

// Over replaces the text of a file that still holds what was read from it. Its mode stays, and so does a symbolic link:
// the file it leads to is replaced. The file then belongs to who runs the program.
func Over(path string, read, text []byte) error {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return err
	}
	mode, err := writable(real, read)
	if err != nil {
		return err
	}
	return through(real, mode, text, func(written string) error { return os.Rename(written, real) })
}

// writable is the mode of a file that may be written to and still holds a text. A rename would ask for neither.
func writable(path string, text []byte) (fs.FileMode, error) {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return 0, err
	}
	if !info.Mode().IsRegular() {
		return 0, &fs.PathError{Op: "replace", Path: path, Err: errors.New("it is not a plain file")}
	}
	now, err := os.ReadFile(path)
	if err == nil && !bytes.Equal(now, text) {
		err = &fs.PathError{Op: "replace", Path: path, Err: ErrChanged}
	}
	return info.Mode(), err
}

// through writes the text to a hidden file beside path, down to the disk, and has it put in place.
func through(path string, mode fs.FileMode, text []byte, place func(written string) error) error {
	dir := filepath.Dir(path)
	file, err := os.CreateTemp(dir, "."+filepath.Base(path)+".farend-*")
	if err != nil {
		return err
	}
	defer os.Remove(file.Name())
	_, err = file.Write(text)
	if err := errors.Join(err, file.Chmod(mode.Perm()), file.Sync(), file.Close()); err != nil {
		return err
	}
	if err := place(file.Name()); err != nil {
		return err
	}
	return settle(dir)
}

// settle writes the folder itself to the disk, where the system can.
func settle(dir string) error {
	folder, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("the folder of a file that was saved cannot be read: %w", err)
	}
	defer folder.Close()
	folder.Sync() // not every file system can; the file itself is safe either way
	return nil
}
