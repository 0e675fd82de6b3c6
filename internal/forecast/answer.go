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

// All is the answer of a day. kept are weeks scored before, as Score has them; those of use come back.
func All(farm crop.Farm, asOf crop.Date, kept map[string]Scored) (Answer, map[string]Scored, error) {
	f, draws, err := of(farm, asOf)
	if err != nil {
		return Answer{}, nil, err
	}
	scores, kept, err := Score(farm, asOf, kept)
	if err != nil {
		return Answer{}, nil, err
	}
	a := Answer{Season: farm.Calendar.SeasonOf(asOf), Forecast: f, Dated: []Dated{}, Scores: scores}
	mondays := weeksLeft(farm.Calendar, asOf)
	a.Draws = draws.packed(asOf.Add(1), mondays)
	for _, week := range f.Weeks {
		a.Dated = append(a.Dated, Dated{week, week.First})
	}
	return a, kept, nil
}
