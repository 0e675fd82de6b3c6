// Package drift says what colour each plant's heads have by readings of photos, and whether a plant drifts from
// what it was, or only seems to by light, camera, day or an ordinary year.
//
// # Model
//
// A reading is CIELAB, three numbers y at once:
//
//	y = level of the plant
//	  + wobble of the plant in the season + the plant on that day + the plant by that camera or indoors
//	  + session + camera + card + stage + light + what the stand did in the season (not of reference plants)
//	  + head + the photo's own stated uncertainty
//
// The level has a flat prior; all else is normal about 0. What plants do for themselves (the first line and the
// last) has covariances along lightness, chroma and hue at the plant's own colour, which differ from plant to plant
// in L*, a*, b*; those of wobble and day are full, since what shades a head or pales it moves lightness and chroma
// together. Those of wobble, day and head grow or shrink with the plant's chroma, by as much as readings say: reds may be
// more restless than whites. Three components are fitted jointly because a joint test needs their correlations. Sessions, cameras,
// cards and light move all plants alike in L*, a*, b*; stage moves them along their own lightness, chroma and
// hue; and the stand in a season does both, since a hot summer takes chroma from reds and from yellows, which lie in
// different directions, and from both more than from whites. A session is a day of one camera.
//
// Covariances are estimated by restricted likelihood with weakly informative priors (components.go lists them, and
// effects.go those of causes): the mode by average information, then draws about it. Plants are taken out one by
// one, so that what remains to be solved has the size of sessions, cameras and seasons. Wobble is what keeps
// ordinary years from being flagged, so those that drift must not inflate it: robust.go.
//
// # Baseline and drift
//
// A reading is firm when it is of full bloom, not in sun, and with a card. A plant's baseline is its firm readings
// of the first season in which it has any. Its shift in a later season is estimated as a number of its own (shift.go),
// from firm readings alone, with everything in its covariance: photos, days, sessions, cameras, the wobble of both
// seasons, that the covariances are estimated (uncertain.go), and that a plant may be more restless than others
// (restless.go). It is the plant's own shift beside the rest of the
// stand, which without reference plants is all that can be told; reference plants are held against each other. What
// the stand itself did is told apart, where at least two reference plants were read in both seasons (stand.go).
//
// A season shows a drift where the joint test of all three components flags it (level 0.5 %), and its CIEDE2000 total
// is at or above the threshold. It is confirmed where two days agree, each on its own: along the season's shift,
// a day's firm readings alone show at least half the threshold, and more than 1.645 of their own standard errors against
// the baseline. The second may be of an earlier season since the baseline, or one photo a year would never confirm. Confirmed is drift, else watch. Where nothing is shown, "none" is said only if a
// drift of twice the threshold would have been noticed with a chance of 80 %, else that it cannot be told
// (verdict.go). chance.go works out such chances, and plan.go what photos are worth.
package drift

import "fmt"

// Judge fits a stand's readings and says of every plant and season whether the plant drifted. The same stand gives
// the same report to the last bit, in whichever order its readings come. An error means that a reading cannot be
// one, or that the numbers could not be found, never that there are few of them.
func Judge(stand Stand) (Report, error) {
	if err := stand.check(); err != nil {
		return Report{}, err
	}
	l := layOut(stand)
	report := emptyReport()
	if len(l.blocks) == 0 {
		report.Power = guessing().table()
		report.Notes = notes(l, &report, plannedDF)
		return report, nil
	}
	w := &workspace{}
	f, err := l.fitRobustly(w)
	if err != nil {
		return Report{}, fmt.Errorf("judge drift: %w", err)
	}
	u, err := l.uncertain(f, w)
	if err != nil {
		return Report{}, fmt.Errorf("judge drift: %w", err)
	}
	colours, err := l.colours(f, w)
	if err != nil {
		return Report{}, fmt.Errorf("judge drift: %w", err)
	}
	if err := l.tell(&report, f, u, colours); err != nil {
		return Report{}, fmt.Errorf("judge drift: %w", err)
	}
	report.Notes = notes(l, &report, u.df)
	return report, nil
}

func emptyReport() Report {
	return Report{
		Level: Level, Threshold: visibleFrom, Test: testLevel,
		Variances: []Variance{}, Sessions: []Session{}, Stand: []StandShift{}, References: []PlantSeason{},
		PlantSeasons: []PlantSeason{}, Colours: []PlantColour{}, Power: []Power{}, Notes: []Note{},
	}
}
