package backup

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"time"

	"corymb/server/store"
)

// format is the version of the layout of a backup.
const format = 1

// Manifest says what a backup holds. It is the file manifest.json in it.
type Manifest struct {
	Format  int       `json:"corymb_backup"`
	Farm    string    `json:"farm"`
	Name    string    `json:"name"` // of the farm
	Made    time.Time `json:"made"` // whole seconds, UTC
	Version string    `json:"version"`
	Epoch   string    `json:"epoch"`   // of the database then
	Life    string    `json:"life"`    // and its life
	Arrival int64     `json:"arrival"` // of the last change in it
	Files   []Entry   `json:"files"`
	// Damaged names photos whose bytes were not those that they are named by. They are in the backup as
	// they were found.
	Damaged []string `json:"damaged,omitempty"`
	// LeftOut names what lies in the data folder and is not in the backup.
	LeftOut []string `json:"left_out,omitempty"`
}

// Entry is a file in a backup.
type Entry struct {
	Name   string `json:"name"` // as in the data folder, with slashes
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"` // lower-case hexadecimal
}

var digits = regexp.MustCompile(`^[0-9a-f]{64}$`)

// readManifest reads and checks one: of what passes, a restore can write every file, and no other.
func readManifest(text []byte) (m Manifest, err error) {
	var of struct {
		Format int `json:"corymb_backup"`
	}
	if err := json.Unmarshal(text, &of); err != nil {
		return m, fmt.Errorf("its %s cannot be read: %w", manifestName, err)
	}
	if of.Format > format {
		return m, errors.New("it was made by a newer version of Corymb: use that version")
	}
	if of.Format < 1 {
		return m, fmt.Errorf("its %s is not that of a backup", manifestName)
	}
	if err := json.Unmarshal(text, &m); err != nil {
		return m, fmt.Errorf("its %s cannot be read: %w", manifestName, err)
	}
	return m, m.check()
}

func (m Manifest) check() error {
	seen := map[string]bool{}
	for _, f := range m.Files {
		if !mayHold(f.Name) {
			return fmt.Errorf("it holds %q, which is no file of a farm", f.Name)
		}
		if f.Size < 0 || !digits.MatchString(f.SHA256) {
			return fmt.Errorf("its %s does not say what %s is", manifestName, f.Name)
		}
		if name := strings.ToLower(f.Name); seen[name] {
			return fmt.Errorf("it holds %s twice", f.Name)
		} else {
			seen[name] = true
		}
	}
	if m.Farm == "" || !seen[store.FileName] {
		return errors.New("it does not hold a farm's database")
	}
	return nil
}

func (m Manifest) equal(o Manifest) bool {
	return m.Made.Equal(o.Made) && reflect.DeepEqual(m.at(o.Made), o)
}

func (m Manifest) at(made time.Time) Manifest {
	m.Made = made
	return m
}
