package store

import (
	"strings"
	"testing"
)

func seriesOf(t *testing.T, s *Store, begun map[string]bool) string {
	t.Helper()
	series, err := s.InvoiceSeries(t.Context(), begun)
	if err != nil {
		t.Fatal(err)
	}
	return series
}

func TestAnEpochNumbersInvoicesInOneSeries(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	first := seriesOf(t, s, nil)
	if len(first) != 3 || strings.Trim(first, seriesSigns) != "" {
		t.Errorf("the series is %q", first)
	}
	closeStore(t, s)
	s = open(t, dir)
	if again := seriesOf(t, s, map[string]bool{first: true}); again != first {
		t.Errorf("after a restart it is %s, before it was %s", again, first)
	}
}

func TestASeriesIsDrawnThatNobodyBegan(t *testing.T) {
	n := 0
	one, ok := drawSeries(func(series string) bool { n++; return series != "ZZB" })
	if !ok || one != "ZZB" || n > 8_000 {
		t.Errorf("%q, %v after %d draws", one, ok, n)
	}
	if one, ok := drawSeries(func(string) bool { return true }); ok {
		t.Errorf("%q is drawn though all are taken", one)
	}
}

func TestADatabaseOfVersion5LearnsToNumberInvoices(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	for _, text := range []string{"DROP TABLE invoice_series", "UPDATE schema SET version = 5"} {
		if err := s.orm.Exec(text).Error; err != nil {
			t.Fatal(err)
		}
	}
	closeStore(t, s)
	s = open(t, dir)
	if seriesOf(t, s, nil) == "" {
		t.Error("there is no series")
	}
}

func TestASeriesThatAnInvoiceBeginsWithIsNotOpened(t *testing.T) {
	begun := map[string]bool{}
	for _, a := range seriesSigns {
		for _, b := range seriesSigns {
			for _, c := range seriesSigns {
				begun[string([]rune{a, b, c})] = true
			}
		}
	}
	delete(begun, "QZB")
	if got := seriesOf(t, open(t, t.TempDir()), begun); got != "QZB" {
		t.Errorf("it is %q, and only QZB was never begun", got)
	}
}
