// Package answers keeps on disk what took long to work out, from one run of the program to the next. Nothing rests on
// it: what cannot be read back whole, or was written by another build, is as good as not there.
package answers

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
)

// Folder holds answers beside a farm's database, a file each.
type Folder struct {
	dir   string
	build string // of the program: another may have come to other answers
}

// In is the answers of a build in a data folder.
func In(dir, build string) Folder { return Folder{dir, build} }

// file is what a file holds: whatever damages it shows in its sum.
type file struct {
	Sum    string          `json:"sha256"`
	Build  string          `json:"build"`
	Answer json.RawMessage `json:"answer"`
}

// Path is where an answer is kept. A backup leaves such names out, since a shed works them out again.
func (f Folder) Path(name string) string { return filepath.Join(f.dir, "corymb.answer-"+name) }

// Read reads an answer. Where it tells false there is none, and what it was read into is of no use.
func (f Folder) Read(name string, into any) bool {
	text, err := os.ReadFile(f.Path(name))
	if err != nil {
		return false
	}
	var found file
	if json.Unmarshal(text, &found) != nil || found.Build != f.build || found.Sum != sumOf(found) {
		return false
	}
	reader := json.NewDecoder(bytes.NewReader(found.Answer))
	reader.DisallowUnknownFields()
	return reader.Decode(into) == nil
}

// Write keeps an answer in the place of the one before, whole or not at all. It does not wait for the disk: what a
// power cut tears is not read.
func (f Folder) Write(name string, answer any) error {
	whole := file{Build: f.build}
	text, err := json.Marshal(answer)
	if err == nil {
		whole.Answer = text
		whole.Sum = sumOf(whole)
		text, err = json.Marshal(whole)
	}
	if err != nil {
		return fmt.Errorf("keeping the answer %s: %w", name, err)
	}
	path := f.Path(name)
	partial := path + ".partial"
	if err = os.WriteFile(partial, text, 0o600); err == nil {
		err = os.Rename(partial, path)
	}
	if err != nil {
		_ = os.Remove(partial) // the next one would be written over it
		return fmt.Errorf("keeping the answer %s: %w", name, err)
	}
	return nil
}

func sumOf(f file) string {
	sum := sha256.New()
	fmt.Fprintf(sum, "%q", f.Build)
	sum.Write(f.Answer)
	return hex.EncodeToString(sum.Sum(nil))
}
