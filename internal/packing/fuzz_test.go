package packing

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var examples = filepath.Join("..", "..", "testdata", "packing")

// FuzzPack has whatever bytes read as a day and planned: there is a sentence, or a plan that breaks no rule.
func FuzzPack(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(examples, "*.json"))
	if err != nil || len(files) == 0 {
		f.Fatal("no examples", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		if len(text) < 10_000 {
			f.Add(text)
		}
	}
	for i := range uint64(8) {
		text, err := json.Marshal(written(tinyDay(rand.New(rand.NewPCG(1, i)))))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		d, notes, err := Read(bytes.NewReader(text))
		ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
		defer cancel()
		var plan Plan
		if err == nil {
			plan, err = Solve(ctx, d, Options{OneMore: true})
		}
		var faults Faults
		switch {
		case err == nil:
			if wrong := broken(d, plan); len(wrong) > 0 {
				t.Fatal(wrong)
			}
			notes = append(notes, plan.Warnings...)
		case errors.As(err, &faults):
			notes = append(notes, faults...)
		default:
			t.Fatal(err)
		}
		for _, note := range notes {
			if note.Code == "" || strings.TrimSpace(note.Text) == "" {
				t.Fatalf("a note says nothing: %+v", note)
			}
		}
	})
}

func TestExamplesAreReadWithoutANoteAndPlanned(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(examples, "*.json"))
	if err != nil || len(files) < 3 {
		t.Fatal("examples are missing", files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, notes, err := Read(bytes.NewReader(text))
		if err != nil || len(notes) > 0 {
			t.Fatalf("%s: %v %v", file, notes, err)
		}
		solved(t, d, Options{})
	}
}
