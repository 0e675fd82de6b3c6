package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"syscall"
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
	benchmarkOf(b, sample(b, "2025-05-28"), "2025-05-28")
}

// large is a farm of so many plants in beds of 200, of five colours and three stocks, a third of it set out in each of three
// falls: every stem of half of the beds is counted, of the others the bench totals, until a day in its fourth season.
func large(plants int, asOf crop.Date) crop.Farm {
	src := rand.New(rand.NewPCG(20260601, 1))
	m := newMaker(src)
	farm := crop.NewFarm()
	var grown [4][2][]float64
	for s := range grown {
		grown[s] = [2][]float64{m.grown(0), m.grown(1)}
	}
	for _, c := range []crop.ColourID{"c1", "c2", "c3", "c4", "c5"} {
		farm.Colours[c] = crop.Colour{ID: c}
	}
	for b := 0; b*200 < plants; b++ {
		bed := crop.BedID(fmt.Sprint("B", b))
		planting := crop.Planting{ID: crop.PlantingID(fmt.Sprint("P", b)), Stock: crop.StockID(fmt.Sprint("S", b%3)), Bed: bed, FirstSeason: crop.Season(2023 + b%3)}
		planting.Planted = crop.Date(fmt.Sprintf("%d-09-20", planting.FirstSeason-1))
		farm.Beds[bed], farm.Plantings[planting.ID], farm.Stocks[planting.Stock] = crop.Bed{ID: bed}, planting, crop.Stock{ID: planting.Stock}
		for k := range min(200, plants-b*200) {
			plant := crop.Plant{ID: crop.PlantID(fmt.Sprint("B", b, "-", k)), Planting: planting.ID, Colour: crop.ColourID(fmt.Sprint("c", 1+k%5)), Counted: map[crop.Season]crop.Window{}}
			for season := planting.FirstSeason; b%2 == 0 && season <= 2026; season++ {
				plant.Counted[season] = farm.Calendar.Span(season)
			}
			farm.Plants[plant.ID] = plant
			if b%2 == 0 {
				m.cutAlone(farm, plant, planting, grown, asOf)
			}
		}
		if b%2 == 1 {
			m.cutTogether(farm, planting, grown, asOf)
		}
	}
	return farm
}

// cutDays are every third day of a season on which a bed may be cut.
func cutDays(farm crop.Farm, planting crop.Planting, asOf crop.Date, cut func(season crop.Season, day int, date crop.Date)) {
	for season := planting.FirstSeason; season <= 2026; season++ {
		spring := farm.Calendar.Spring(season)
		for day := 41; day < 290; day += 3 {
			if date := spring.Add(day); date <= asOf {
				cut(season, day, date)
			}
		}
	}
}

func (m *maker) opened(planting crop.Planting, grown [4][2][]float64, season crop.Season, day int) (mean [2]float64) {
	for f := range mean {
		for _, g := range grown[season-2023][f][day-2 : day+1] {
			mean[f] += g * math.Exp(m.ages[season-planting.FirstSeason])
		}
	}
	mean[1] *= m.part
	return mean
}

func (m *maker) cutAlone(farm crop.Farm, plant crop.Plant, planting crop.Planting, grown [4][2][]float64, asOf crop.Date) {
	rate := m.gamma(m.size, m.size)
	cutDays(farm, planting, asOf, func(season crop.Season, day int, date crop.Date) {
		for f, mean := range m.opened(planting, grown, season, day) {
			if stems := m.poisson(rate * mean); stems > 0 {
				id := crop.VisitID(fmt.Sprint(plant.ID, date, f))
				farm.Visits[id] = crop.Visit{ID: id, Plant: plant.ID, Date: date, Purpose: crop.PurposeCut, Flush: flushes[f], Counts: m.counts(stems)}
			}
		}
	})
}

func (m *maker) cutTogether(farm crop.Farm, planting crop.Planting, grown [4][2][]float64, asOf crop.Date) {
	cutDays(farm, planting, asOf, func(season crop.Season, day int, date crop.Date) {
		for f, mean := range m.opened(planting, grown, season, day) {
			if stems := m.poisson(200 * mean); stems > 0 {
				id := crop.VisitID(fmt.Sprint(planting.Bed, date, f))
				farm.Visits[id] = crop.Visit{ID: id, Bed: planting.Bed, Date: date, Purpose: crop.PurposeBench, Flush: flushes[f], Counts: m.counts(stems)}
			}
		}
	})
}

// counts are stems of random grades, in length classes of ten centimetres.
func (m *maker) counts(stems int) []crop.Count {
	counts := []crop.Count{{Grade: crop.GradesLowToHigh[m.src.IntN(4)], Length: crop.TenCentimetres(30 + 10*m.src.IntN(4)), Stems: (stems + 1) / 2}}
	if stems > 1 {
		counts = append(counts, crop.Count{Grade: crop.GradesLowToHigh[m.src.IntN(4)], Length: crop.TenCentimetres(30 + 10*m.src.IntN(4)), Stems: stems / 2})
	}
	return counts
}

func benchmarkOf(b *testing.B, farm crop.Farm, asOf crop.Date) {
	var before, after syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &before)
	for b.Loop() {
		if _, err := Of(farm, asOf); err != nil {
			b.Fatal(err)
		}
	}
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &after)
	seconds := func(r syscall.Rusage) float64 {
		return float64(r.Utime.Sec+r.Stime.Sec) + float64(r.Utime.Usec+r.Stime.Usec)/1e6
	}
	b.ReportMetric((seconds(after)-seconds(before))/float64(b.N), "cpu-s/op")
	b.ReportMetric(float64(len(farm.Visits)), "visits")
}

func BenchmarkForecastOfALargeFarm(b *testing.B) {
	benchmarkOf(b, large(5_000, "2026-06-01"), "2026-06-01")
}
