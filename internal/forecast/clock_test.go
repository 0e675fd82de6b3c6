package forecast

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// warm is a farm's weather: each season's days from spring to fall, at so many degree-days each.
func warm(seasons map[crop.Season]float64, days int) map[crop.Date]float64 {
	warmth := map[crop.Date]float64{}
	for season, degrees := range seasons {
		for day := range days {
			warmth[crop.NorthernYear.Spring(season).Add(day)] = degrees
		}
	}
	return warmth
}

func TestAClockTellsHowFarASeasonHasCome(t *testing.T) {
	usual := warmthsOf(warm(map[crop.Season]float64{2023: 10, 2024: 10}, 306), crop.NorthernYear, 2025)
	tests := []struct {
		name    string
		degrees float64
		day     int
		want    float64
	}{
		{"a usual season by its own days", 10, 99, 99},
		{"a season a tenth warmer, for which time counts a tenth too", 11.1, 99, 109},
		{"a season in which nothing grows, by time alone", 0, 109, 9},
		{"a day before spring", 11, -20, -20},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			year := make([]float64, 306)
			for k := range year {
				year[k] = test.degrees
			}
			c := usual.clock(year)
			if got := c.of(test.day); math.Abs(got-test.want) > 1e-9 {
				t.Errorf("day %d is as %v of a usual year, want %v", test.day, got, test.want)
			}
			if back := c.day(c.of(test.day)); math.Abs(back-float64(test.day)) > 1e-9 {
				t.Errorf("and that is reached on day %v", back)
			}
		})
	}
}

func TestClocksGoOnForEver(t *testing.T) {
	usual := warmthsOf(warm(map[crop.Season]float64{2024: 10}, 250), crop.NorthernYear, 2025)
	if usual == nil {
		t.Fatal("250 of 306 days are not enough")
	}
	src := rand.New(rand.NewPCG(3, 1))
	for range 20 {
		c := usual.clock(usual.toCome(src, make([]float64, 50)))
		for day := 1; day < 400; day++ {
			if !(c.of(day) > c.of(day-1)) {
				t.Fatalf("from day %d to %d it goes from %v to %v", day-1, day, c.of(day-1), c.of(day))
			}
		}
	}
}

func TestWhichSeasonsGoByWarmth(t *testing.T) {
	const asOf = "2025-06-30"
	tests := []struct {
		name    string
		weather map[crop.Season]int // days of it from spring on
		by      []crop.Season
	}{
		{"none without weather", nil, nil},
		{"none where no past season is there to be usual", map[crop.Season]int{2025: 120}, nil},
		{"those with weather", map[crop.Season]int{2023: 306, 2025: 120}, []crop.Season{2023, 2025}},
		{"none of which too little is known", map[crop.Season]int{2023: 306, 2024: 100, 2025: 60}, []crop.Season{2023}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			farm := crop.NewFarm()
			for season, days := range test.weather {
				giveWeather(&farm, season, days, 20)
			}
			r := read(farm, asOf)
			if got := sortedKeys(r.timing.clocks); !reflect.DeepEqual(got, test.by) {
				t.Errorf("by warmth go %v, want %v", got, test.by)
			}
		})
	}
}

// giveWeather gives days of a season from spring on, with an even temperature.
func giveWeather(farm *crop.Farm, season crop.Season, days int, degrees float64) {
	for day := range days {
		date := farm.Calendar.Spring(season).Add(day)
		farm.Ahead.Weather[date] = crop.Weather{Date: date, Min: degrees, Max: degrees}
	}
}

func TestTheUsualWarmthStandsInForDaysWithoutWeatherAndThatIsTold(t *testing.T) {
	farm := sample(t, "2025-05-28")
	giveWeather(&farm, 2024, 306, 20)
	giveWeather(&farm, 2025, 89, 20)
	for _, day := range []crop.Date{"2025-04-10", "2025-04-11", "2025-05-01"} {
		delete(farm.Ahead.Weather, day)
	}
	f, err := Of(farm, "2025-05-28")
	if err != nil {
		t.Fatal(err)
	}
	want := &Warmth{Seasons: 1, Filled: []Stretch{{"2025-04-10", "2025-04-11"}, {"2025-05-01", "2025-05-01"}}}
	if !reflect.DeepEqual(f.Warmth, want) {
		t.Errorf("told is %+v, want %+v", f.Warmth, want)
	}
}

func TestAFarmThatMeasuresNoWinterLacksNoDayOfIt(t *testing.T) {
	farm := sample(t, "2025-05-28")
	giveWeather(&farm, 2024, 245, 20) // to the end of October
	giveWeather(&farm, 2025, 89, 20)
	delete(farm.Ahead.Weather, "2024-10-30")
	f, err := Of(farm, "2025-05-28")
	if err != nil {
		t.Fatal(err)
	}
	if want := []Stretch{{"2024-10-30", "2024-10-30"}}; !reflect.DeepEqual(f.Warmth.Filled, want) {
		t.Errorf("told as missing are %v, want %v", f.Warmth.Filled, want)
	}
}

// What strayDay and strayNext say of a month and a season, times the square root of 2: the one past season strays as far.
func TestWarmthToComeStraysFromOneSeasonByMoreThanAFifthInAMonth(t *testing.T) {
	usual := warmthsOf(warm(map[crop.Season]float64{2024: 10}, 306), crop.NorthernYear, 2025)
	src := rand.New(rand.NewPCG(5, 1))
	var months, seasons []float64
	for range 4000 {
		year := usual.toCome(src, nil)
		months, seasons = append(months, mean(year[100:130])/10), append(seasons, mean(year[:120])/10)
	}
	for _, of := range []struct {
		name   string
		draws  []float64
		lo, hi float64
	}{{"a month", months, 0.24, 0.33}, {"four months", seasons, 0.11, 0.17}} {
		if spread := (stats.Quantile(of.draws, 0.84) - stats.Quantile(of.draws, 0.16)) / 2; spread < of.lo || spread > of.hi {
			t.Errorf("%s strays by %.3f", of.name, spread)
		}
		if m := mean(of.draws); math.Abs(m-1) > 0.02 {
			t.Errorf("%s is %.3f of the usual", of.name, m)
		}
	}
}
