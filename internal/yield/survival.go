package yield

import (
	"fmt"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Survival is how plants last, as it is printed and sent. Every number in it is finite.
type Survival struct {
	Level float64 `json:"level"`
	// Ages run from 1 without a gap to the oldest season in the ground that any plant began.
	Ages []SurvivalAge `json:"ages"`
	// Denominators stand by age and then season.
	Denominators []Denominators `json:"denominators"`
	Notes        []Note         `json:"notes"`
}

// SurvivalAge is the chance that a plant which stands at the start of one season in the ground still
// stands at the start of the next.
type SurvivalAge struct {
	Age int `json:"age"`
	// AtStart plants stood when such a season began and Lost of them were gone when the next one did.
	// Seasons that still run, plantings that were cleared and plants that were divided are in neither.
	AtStart int `json:"at_start"`
	Lost    int `json:"lost"`
	// PlantingSeasons are the plantings behind them, each once for each season: what befalls one plant
	// of a planting in a season befalls its neighbours, so that these count more than plants do.
	PlantingSeasons int `json:"planting_seasons"`
	// P is the posterior median of the mean chance over plantings and seasons, Lo and Hi its interval.
	P  float64 `json:"p"`
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
	// NewLo and NewHi are the range of the chance in one more planting, one season ahead. The share of
	// few plants that live strays further, by the luck of each.
	NewLo float64 `json:"new_lo"`
	NewHi float64 `json:"new_hi"`
}

// The prior of the mean chance, on the logit scale. Published cut-flower trials with a figure: of
// echinacea half died in its first year and 94 % of the rest lived through the second (North Carolina
// State, planted 2004); of euphorbia 42 % died, then 75 % of the rest lived (the same, 2011). Other
// trials of those lists give no loss, and a loss is told because it was large: so the centres lie on
// the better side of their figures (0.54 and 0.87, averaged as logits). A first season is held between
// 0.16 and 0.96 nine times in ten and a later one between 0.43 and 0.99.
var (
	firstSeasonLasts = stats.Normal{Mean: 0.8, SD: 1.5}
	laterSeasonLasts = stats.Normal{Mean: 2.2, SD: 1.5}
	// likenessPrior is of the logit of rho, the correlation of two plants of one planting in one
	// season: from 0.02 (plants die each for itself) to 0.37 (a hard winter takes most or none) nine
	// times in ten. Common practice, no source.
	likenessPrior = stats.Normal{Mean: -2.2, SD: 1}
)

func lasts(age int) stats.Normal {
	if age == 1 {
		return firstSeasonLasts
	}
	return laterSeasonLasts
}

// FitSurvival reads from the farm's records which plants stood at the start of each season and fits
// the chance of standing at the start of the next: beta-binomial over plantings and seasons (see
// stats.BetaBinPosterior), a mean of its own for each age, one likeness for all. The same farm and
// options give the same answer to the last bit. An error means that the numbers could not be found,
// never that there are few of them.
//
// Options.AsOf empty, as for files, is the last day of which they tell.
func FitSurvival(farm crop.Farm, options Options) (Survival, error) {
	return fitSurvival(read(farm, options))
}

func fitSurvival(r *records) (Survival, error) {
	l := newRoll(r)
	rows := l.standings()
	survival := Survival{Level: Level, Ages: survivalAges(rows), Denominators: denominators(rows)}
	if err := fitLasting(survival.Ages, rows); err != nil {
		return Survival{}, fmt.Errorf("fit survival by age: %w", err)
	}
	survival.Notes = survivalNotes(l, survival.Ages, rows)
	return survival, nil
}

// survivalAges sums what is told, by age.
func survivalAges(rows []standing) []SurvivalAge {
	ages := make([]SurvivalAge, oldest(rows))
	for i := range ages {
		ages[i].Age = i + 1
	}
	for _, r := range rows {
		if r.told() {
			a, lasted := &ages[r.age-1], r.lasted()
			a.AtStart += lasted.Of
			a.Lost += lasted.Of - lasted.Hits
			a.PlantingSeasons++
		}
	}
	return ages
}

// oldest is the greatest age that any plant began.
func oldest(rows []standing) int {
	age := 0
	for _, r := range rows {
		if r.start > 0 {
			age = max(age, r.age)
		}
	}
	return age
}

func fitLasting(ages []SurvivalAge, rows []standing) error {
	posterior, err := lastingOf(ages, rows)
	if err != nil {
		return err
	}
	const tail = (1 - Level) / 2
	for i := range ages {
		a := &ages[i]
		a.P, a.Lo, a.Hi = posterior.Mean(i, 0.5), posterior.Mean(i, tail), posterior.Mean(i, 1-tail)
		a.NewLo, a.NewHi = posterior.NewShare(i, tail), posterior.NewShare(i, 1-tail)
	}
	return nil
}

func lastingOf(ages []SurvivalAge, rows []standing) (*stats.BetaBinPosterior, error) {
	shares, priors := make([][]stats.Share, len(ages)), make([]stats.Normal, len(ages))
	for i, a := range ages {
		priors[i] = lasts(a.Age)
	}
	for _, r := range rows {
		if r.told() {
			shares[r.age-1] = append(shares[r.age-1], r.lasted())
		}
	}
	return stats.NewBetaBinPosterior(shares, priors, likenessPrior)
}
