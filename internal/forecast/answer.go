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
}

// Dated is a week that says when it begins.
type Dated struct {
	Week
	First crop.Date `json:"first"`
}

// All is the answer of a day: for its season, and once nothing more is to come of that, for the next. kept are weeks scored
// before, as Score has them; those of use come back.
func All(farm crop.Farm, asOf crop.Date, kept map[string]Scored) (Answer, map[string]Scored, error) {
	evening := asOf
	f, draws, err := of(farm, asOf)
	if err == nil && f.over() {
		// What is known on the day is asked about on the next season's first evening: between the two nothing grows.
		evening = farm.Calendar.Span(farm.Calendar.SeasonOf(asOf) + 1).From
		f, draws, err = of(known(farm, asOf), evening)
		f.AsOf = asOf
	}
	if err != nil {
		return Answer{}, nil, err
	}
	scores, kept, err := Score(farm, asOf, kept)
	if err != nil {
		return Answer{}, nil, err
	}
	a := Answer{Season: farm.Calendar.SeasonOf(evening), Forecast: f, Dated: []Dated{}, Scores: scores}
	mondays := weeksLeft(farm.Calendar, evening)
	a.Draws = draws.packed(evening.Add(1), mondays)
	for _, week := range f.Weeks {
		a.Dated = append(a.Dated, Dated{week, week.First})
	}
	return a, kept, nil
}

// over tells that not one stem is expected any more.
func (f Forecast) over() bool {
	stems := 0.0
	for _, week := range f.Weeks {
		stems += week.Total.Mean
	}
	return stems < 1
}
