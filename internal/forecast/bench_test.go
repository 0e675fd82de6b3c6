package forecast

import (
	"os"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/sheets"
)

// sample is the small farm of testdata/sheets/good on the evening of a day.
func sample(t testing.TB, asOf crop.Date) crop.Farm {
	t.Helper()
	open := func(name string) sheets.Source {
		file, err := os.Open("../../testdata/sheets/good/" + name)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { file.Close() })
		return sheets.Source{Name: name, Reader: file}
	}
	contents, err := sheets.Read(open("plants.csv"), open("cuts.csv"), "2026-01-01", sheets.UpTo(asOf))
	if err != nil {
		t.Fatal(err)
	}
	return contents.Farm
}

func BenchmarkForecastOfASmallFarm(b *testing.B) {
	farm := sample(b, "2025-05-28")
	for b.Loop() {
		if _, err := Of(farm, "2025-05-28"); err != nil {
			b.Fatal(err)
		}
	}
}
