package answers

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

type said struct {
	Stems float64           `json:"stems"`
	Of    map[string]string `json:"of"`
}

var told = said{1.0 / 3, map[string]string{"a": "<b> & c"}}

func TestWhatIsNotWholeOrOfThisBuildIsNotThere(t *testing.T) {
	inPlace := func(old, new string) func(string) error {
		return func(path string) error {
			text, err := os.ReadFile(path)
			if err != nil || !bytes.Contains(text, []byte(old)) {
				t.Fatalf("%q is not in %s (%v)", old, text, err)
			}
			return os.WriteFile(path, bytes.Replace(text, []byte(old), []byte(new), 1), 0o600)
		}
	}
	as := func(text string) func(string) error {
		return func(path string) error { return os.WriteFile(path, []byte(text), 0o600) }
	}
	tests := []struct {
		name  string
		spoil func(path string) error
		build string
		there bool
	}{
		{"as it was written", func(string) error { return nil }, "build 1", true},
		{"by another build", func(string) error { return nil }, "build 2", false},
		{"said to be of this build, and of another", inPlace("build 1", "build 2"), "build 2", false},
		{"a digit that became another", inPlace("0.333", "0.334"), "build 1", false},
		{"a letter of its sum that became another", inPlace(`"sha256":"`, `"sha256":"0`), "build 1", false},
		{"cut off", func(path string) error { return os.Truncate(path, 120) }, "build 1", false},
		{"empty", as(""), "build 1", false},
		{"zeroes, as after a power cut", as(string(make([]byte, 200))), "build 1", false},
		{"another file", as(`{"name":"a farm"}`), "build 1", false},
		{"deleted", os.Remove, "build 1", false},
		{"a folder in its place", func(path string) error { return errors.Join(os.Remove(path), os.Mkdir(path, 0o700)) }, "build 1", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := In(dir, "build 1").Write("ages", told); err != nil {
				t.Fatal(err)
			}
			f := In(dir, tt.build)
			if err := tt.spoil(f.Path("ages")); err != nil {
				t.Fatal(err)
			}
			var got said
			there := f.Read("ages", &got)
			if there != tt.there || there && (got.Stems != told.Stems || got.Of["a"] != told.Of["a"]) {
				t.Errorf("there: %v, %v", there, got)
			}
		})
	}
}

func TestAnAnswerTakesThePlaceOfTheOneBefore(t *testing.T) {
	dir := t.TempDir()
	for _, build := range []string{"old", "new"} {
		for stems := range 3 {
			if err := In(dir, build).Write("ages", said{Stems: float64(stems)}); err != nil {
				t.Fatal(err)
			}
		}
	}
	var got said
	if !In(dir, "new").Read("ages", &got) || got.Stems != 2 {
		t.Errorf("read %v", got)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("it left %v (%v)", entries, err)
	}
}

func TestAnAnswerOfAnotherFormIsNotThere(t *testing.T) {
	f := In(t.TempDir(), "build")
	if err := f.Write("ages", map[string]any{"stems": 1, "of": nil, "more": true}); err != nil {
		t.Fatal(err)
	}
	if f.Read("ages", &said{}) {
		t.Error("it was read")
	}
}

func TestThatItCannotBeKeptIsSaid(t *testing.T) {
	if err := In(filepath.Join(t.TempDir(), "gone"), "build").Write("ages", told); err == nil {
		t.Error("in a folder that is not there")
	}
	if err := In(t.TempDir(), "build").Write("ages", func() {}); err == nil {
		t.Error("of what has no form")
	}
}
