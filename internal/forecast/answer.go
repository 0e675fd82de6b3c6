package forecast

import "corymb/internal/crop"

// Answer is all that phones are told: the forecast week by week, the joint draws behind it, and how good it was.
type Answer struct {
	Season crop.Season `json:"season"`
	Forecast
	// Dated are Forecast's weeks with their Mondays.
	Dated  []Dated `json:"weeks"`
	Draws  Packed  `json:"draws"`
	Scores Scores  `json:"scores"`
	// Silent is where the season looks half entered.
	Silent *Silence `json:"silent,omitempty"`
}

// Dated is a week that says when it begins.
type Dated struct {
	Week
	First crop.Date `json:"first"`
}

// All is the answer of a day: for its season, and once nothing more is to come of that, for the next. kept are weeks scored
// before, as Score has them; those of use come back.
func All(farm crop.Farm, asOf crop.Date, kept map[string]Scored) (Answer, map[string]Scored, error) {
	f, draws, evening, err := ofWhatComes(farm, asOf)
	if err != nil {
		return Answer{}, nil, err
	}
	scores, kept, err := Score(farm, asOf, kept)
	if err != nil {
		return Answer{}, nil, err
	}
	a := Answer{Season: farm.Calendar.SeasonOf(evening), Forecast: f, Dated: []Dated{}, Scores: scores, Silent: DoubtsOf(farm, asOf).Silent}
	mondays := weeksLeft(farm.Calendar, evening)
	a.Draws = draws.packed(evening.Add(1), mondays)
	for _, week := range f.Weeks {
		a.Dated = append(a.Dated, Dated{week, week.First})
	}
	return a, kept, nil
}

// ofWhatComes is the forecast of a day's season, or once nothing more is to come of that, of the next, with the evening on
// which it is asked about: what is known on the day is, on the next season's first, since between the two nothing grows.
func ofWhatComes(farm crop.Farm, asOf crop.Date) (f Forecast, d draws, evening crop.Date, err error) {
	f, d, err = of(farm, asOf)
	if err != nil || !f.over() {
		return f, d, asOf, err
	}
	evening = farm.Calendar.Span(farm.Calendar.SeasonOf(asOf) + 1).From
	f, d, err = of(known(farm, asOf), evening)
	f.AsOf = asOf
	return f, d, evening, err
}

// over tells that not one stem is expected any more.
func (f Forecast) over() bool {
	stems := 0.0
	for _, week := range f.Weeks {
		stems += week.Total.Mean
	}
	return stems < 1
}
