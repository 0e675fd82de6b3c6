package drift

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// tell writes a report.
func (l *layout) tell(report *Report, f *fitted, u *uncertain, colours map[*block][]measured) error {
	var err error
	if report.Variances, err = f.variances(); err != nil {
		return err
	}
	report.Readings, report.Plants = len(l.ordered), len(l.blocks)
	report.Sessions = l.sessions(f.solution)
	report.Stand = l.standShifts(u, colours)
	for _, b := range l.blocks {
		for i, season := range b.seasons {
			c := PlantColour{Plant: b.plant, Season: season, Now: i == len(b.seasons)-1}
			c.Lab, c.Cov = jsonLab(colours[b][i].at), jsonCov(colours[b][i].cov.scale(u.wider))
			c.Readings, c.Firm = b.readIn(i)
			report.Firm += c.Firm
			report.Colours = append(report.Colours, c)
			switch {
			case i == b.baseline:
			case b.reference:
				report.References = append(report.References, b.judged(i, u, colours[b]))
			default:
				report.PlantSeasons = append(report.PlantSeasons, b.judged(i, u, colours[b]))
			}
		}
	}
	report.Power = (&planner{f.spreads, l.typical(u, colours)}).table()
	return nil
}

// readIn counts the readings of a season, and the firm ones of them.
func (b *block) readIn(season int) (all, firm int) {
	for _, o := range b.readings {
		if o.season == season {
			all++
			firm += one(o.firm)
		}
	}
	return all, firm
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// judged says what became of the plant by a season that is not its baseline.
func (b *block) judged(i int, u *uncertain, colours []measured) PlantSeason {
	s := PlantSeason{Plant: b.plant, Season: b.seasons[i], State: StateCannotTell, Reasons: []Reason{}}
	var before, now, firm []Reading
	days := map[crop.Date]bool{}
	for _, r := range b.photos {
		switch {
		case r.Season == s.Season:
			now = append(now, r)
			if r.Firm() {
				firm = append(firm, r)
				days[r.Date] = true
			}
		case b.baseline >= 0 && r.Season == b.seasons[b.baseline] && r.Firm():
			before = append(before, r)
		}
	}
	s.Readings, s.Days = len(firm), len(days)
	if b.baseline >= 0 && b.baseline < i {
		s.Baseline = b.seasons[b.baseline]
	} else {
		s.Reasons = append(s.Reasons, ReasonNoBaseline)
	}
	if len(firm) == 0 {
		s.Reasons = append(s.Reasons, unfitReason(now))
	}
	at := slices.IndexFunc(u.differences[b], func(d difference) bool { return d.season == i })
	if at < 0 {
		return s
	}
	var earlier []dayShift
	for _, before := range u.differences[b][:at] {
		earlier = append(earlier, before.days...)
	}
	j := judge(u.differences[b][at], colours[b.baseline].at.lab(), earlier)
	s.Shift = j.shift(b.frame.axes())
	s.State, s.Reasons = j.state(s.Shift)
	s.Reasons = append(s.Reasons, apparatusReasons(before, firm)...)
	if s.State == StateCannotTell && u.beside(b.reference, s.Baseline, s.Season) < enoughPlants {
		s.Reasons = append(s.Reasons, ReasonFewPlants)
	}
	return s
}

// enoughPlants is how few others leave it open whether the plant moved or they did.
const enoughPlants = 5

// variances are told as standard deviations of a plant of middlingChroma, with the interval of each by the normal about the mode.
func (f *fitted) variances() ([]Variance, error) {
	var root mat.Cholesky
	var covariance mat.SymDense
	if !root.Factorize(f.precision) {
		return nil, errNotPositive
	}
	if err := root.InverseTo(&covariance); err != nil {
		return nil, fmt.Errorf("how well the variances of readings are known: %w", err)
	}
	var list []Variance
	for i, c := range components {
		v := Variance{Name: c.name, Text: variancesInWords[c.name]}
		for axis, to := range []*Interval{&v.First, &v.Second, &v.Third} {
			at := c.first
			if c.shape != even {
				at += axis
			}
			sd := math.Sqrt(f.of[i][axis][axis])
			spread := math.Exp(normalEnd * math.Sqrt(covariance.At(at, at)))
			*to = Interval{Mean: sd, Lo: sd / spread, Hi: sd * spread}
		}
		list = append(list, v)
	}
	return list, nil
}

var variancesInWords = map[ComponentName]string{
	Wobble:       "from season to season a plant's own colour moves by about this much without drifting",
	PlantDay:     "readings of one plant on different days differ by about this much",
	Apparatus:    "another camera, or indoors, shows single plants otherwise by about this much",
	Head:         "photos of different heads of a plant on one day differ by about this much, beyond what each photo says of itself",
	Unfit:        "photos in sun, without a card, or of heads that are not full differ by about this much more",
	SessionShift: "sessions move all their readings by about this much, with the card",
}

// sessions are told in the order of seasons and days.
func (l *layout) sessions(sol *solution) []Session {
	at := map[string]*Session{}
	plants := map[string]map[crop.PlantID]bool{}
	references := map[string]map[crop.PlantID]bool{}
	isReference := map[crop.PlantID]bool{}
	days := map[crop.PlantID]int{}
	for _, b := range l.blocks {
		isReference[b.plant] = b.reference
		days[b.plant] = len(b.days)
	}
	var keys []string
	for _, r := range l.ordered {
		key := sessionKey(r)
		s := at[key]
		if s == nil {
			s = &Session{Season: r.Season, Day: r.Date, Camera: r.Camera, Card: r.Card != ""}
			at[key], plants[key], references[key] = s, map[crop.PlantID]bool{}, map[crop.PlantID]bool{}
			keys = append(keys, key)
		}
		s.Readings++
		plants[key][r.Plant] = true
		if r.Firm() && isReference[r.Plant] && days[r.Plant] > 1 {
			references[key][r.Plant] = true
		}
	}
	var list []Session
	for _, key := range keys {
		s := at[key]
		s.Plants, s.References = len(plants[key]), len(references[key])
		s.Tied = s.References >= enoughReferences
		e := l.list[l.at[effectName(ofSession, key)]]
		s.Effect = jsonLab(vector(sol.effects[e.at : e.at+3]))
		cov := sol.covariance.part(e.at)
		s.SE = Lab{math.Sqrt(cov[0][0]), math.Sqrt(cov[1][1]), math.Sqrt(cov[2][2])}
		list = append(list, *s)
	}
	slices.SortStableFunc(list, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.Season, b.Season), cmp.Compare(a.Day, b.Day), cmp.Compare(a.Camera, b.Camera))
	})
	return list
}

// standShifts tell what the stand did since its first season.
func (l *layout) standShifts(u *uncertain, colours map[*block][]measured) []StandShift {
	list := []StandShift{}
	seasons, _ := l.standSeasons()
	for i, d := range u.stand {
		s := StandShift{Season: seasons[i+1], Since: seasons[0]}
		s.Told = l.referencesIn(s.Since, s.Season) >= enoughReferences
		if !s.Told {
			s.Reason = ReasonStandUntold
		}
		j := judge(d, l.middleColour(colours), nil)
		cov := j.covariance()
		s.Shift, s.SE = jsonLab(d.by), Lab{math.Sqrt(cov[0][0]), math.Sqrt(cov[1][1]), math.Sqrt(cov[2][2])}
		s.Total, s.P, s.Moved = j.total(), j.p, s.Told && j.flagged()
		list = append(list, s)
	}
	return list
}

// middleColour is the mean of what the plants of the stand were in their first seasons.
func (l *layout) middleColour(colours map[*block][]measured) colour.Lab {
	var sum vector
	n := 0.0
	for _, b := range l.blocks {
		if !b.reference {
			sum, n = sum.plus(colours[b][0].at), n+1
		}
	}
	return sum.times(1 / max(1, n)).lab()
}
