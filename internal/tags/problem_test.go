package tags_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/tags"
)

func TestWhatCannotBePrintedIsToldAndNothingIsPrinted(t *testing.T) {
	good := tags.Tag{Code: "E-010"}
	tests := []struct {
		name string
		tag  tags.Tag
		want []string // "" for none
	}{
		{"no code", tags.Tag{}, []string{"has no code"}},
		{"a code that is too long", tags.Tag{Code: strings.Repeat("ñ", 65)}, []string{"is 130 bytes long, and a tag holds 128"}},
		{"a code in letters that there are none of", tags.Tag{Code: "花-1"}, []string{`the code "花-1" has the character '花' (U+82B1)`}},
		{"a code that is no text", tags.Tag{Code: "a\xffb"}, []string{"bytes that are no text"}},
		{"a line end in a code", tags.Tag{Code: "a\nb"}, []string{`'\n' (U+000A)`}},
		{"a hyphen that shows at the end of lines alone", tags.Tag{Code: "a\u00adb"}, []string{`(U+00AD)`}},
		{"a letter of no width", tags.Tag{Code: "a\u200bb"}, []string{`(U+200B)`}},
		{"a mark that is right to left", tags.Tag{Code: "\u202ea"}, []string{`(U+202E)`}},
		{"names", tags.Tag{Code: "A", Stock: "花", Bed: "🌼 east"}, []string{`on the tag of "A" the name of the stock, "花"`, `the name of the bed, "🌼 east", has the character '🌼' (U+1F33C)`}},
		{"an accent that stands by itself and is one with its letter", tags.Tag{Code: "e\u0301"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var out bytes.Buffer
			err := tags.Write(&out, tags.A4, []tags.Tag{good, tt.tag})
			var problems tags.Problems
			if errors.As(err, &problems) != (tt.want != nil) || len(problems) != len(tt.want) {
				t.Fatalf("it says %v", err)
			}
			for i, want := range tt.want {
				if !strings.Contains(problems[i].String(), want) || !strings.Contains(err.Error(), want) {
					t.Errorf("it says %q, want %q", err, want)
				}
			}
			if (out.Len() == 0) != (tt.want != nil) {
				t.Errorf("%d bytes were written", out.Len())
			}
		})
	}
	if err := tags.Write(&bytes.Buffer{}, tags.A4, nil); err == nil || !strings.Contains(err.Error(), "no plant") {
		t.Errorf("of no tag it says %v", err)
	}
	many := make([]tags.Tag, 30)
	if err := tags.Write(&bytes.Buffer{}, tags.A4, many); err == nil || !strings.Contains(err.Error(), "problems: 30") || !strings.HasSuffix(err.Error(), "and 20 more") {
		t.Errorf("of many it says %v", err)
	}
}

func TestTagsAreTakenFromTheFarm(t *testing.T) {
	f := crop.NewFarm()
	f.Beds["b"] = crop.Bed{ID: "b", Name: "East"}
	f.Stocks["s"] = crop.Stock{ID: "s", Name: "Evening strain"}
	f.Plantings["g"] = crop.Planting{ID: "g", Stock: "s", Bed: "b"}
	f.Plants["p"] = crop.Plant{ID: "p", Code: "E-010", Planting: "g", Line: 2, Number: 3}
	f.Plants["q"] = crop.Plant{ID: "q", Code: "lost"}
	f.Beds["b2"] = crop.Bed{ID: "b2", Name: "West"}
	f.Plants["moved"] = crop.Plant{ID: "moved", Code: "E-011", Planting: "g", Bed: "b2", Line: 1, Number: 4}
	known, unknown := tags.Of(f, []crop.PlantID{"q", "x", "p", "moved"})
	want := []tags.Tag{
		{Code: "lost"}, {Code: "E-010", Stock: "Evening strain", Bed: "East", Line: 2, Number: 3},
		{Code: "E-011", Stock: "Evening strain", Bed: "West", Line: 1, Number: 4},
	}
	if !slices.Equal(known, want) || len(unknown) != 1 || unknown[0] != "x" {
		t.Errorf("known %+v, unknown %v", known, unknown)
	}
}
