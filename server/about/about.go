// Package about says what this program is: its version, and every library in it with its licence.
package about

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
)

// version is set by the linker (-X corymb/server/about.version=1.2.3) in a binary that is handed out.
var version string

// Version is what this program calls itself.
func Version() string {
	if version != "" {
		return version
	}
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

// Dependency is a library, compiler or typeface of which something is in the program.
type Dependency struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Licence string `json:"licence"` // an SPDX identifier, or SeeText
	Text    string `json:"text"`    // the licence and what notices come with it
}

const (
	// SeeText stands for a licence that has no SPDX identifier or was not recognised.
	SeeText = "see text"
	// GoName is the entry of the Go language, whose version is the compiler's.
	GoName = "Go"
)

// listed is written by `go run ./server/release -licences`, and compared with what is linked by a test
// there.
//
//go:embed dependencies.json
var listed []byte

// Dependencies lists them by name.
var Dependencies = sync.OnceValue(func() []Dependency {
	all, err := Read(listed)
	if err != nil {
		panic(err) // a test reads it
	}
	for i := range all {
		if all[i].Name == GoName {
			all[i].Version = strings.TrimPrefix(runtime.Version(), "go")
		}
	}
	return all
})

// Read reads a list of dependencies.
func Read(list []byte) ([]Dependency, error) {
	var all []Dependency
	if err := json.Unmarshal(list, &all); err != nil {
		return nil, fmt.Errorf("reading the list of dependencies: %w", err)
	}
	return all, nil
}

// WriteLicences writes every licence in full.
func WriteLicences(w io.Writer) error {
	for _, d := range Dependencies() {
		_, err := fmt.Fprintf(w, "%s\n%s %s (%s)\n\n%s\n\n", strings.Repeat("-", 72), d.Name, d.Version, d.Licence, strings.TrimSpace(d.Text))
		if err != nil {
			return fmt.Errorf("writing the licences: %w", err)
		}
	}
	return nil
}
