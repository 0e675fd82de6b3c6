package drift

import (
	"math"
	"slices"
	"testing"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// knownDifference is one whose covariance is known well, seen alike on so many days.
func knownDifference(by vector, cov square, days int) difference {
	const df = mostDF
	d := difference{shift: shift{by: by, cov: cov}, df: df, scale: cov.scale((df - 2.0) / df), wider: 1}
	for i := range days {
		d.days = append(d.days, dayShift{date: crop.Date("2025-06-0" + string(rune('1'+i))), by: by, cov: cov})
	}
	return d
}

func TestADriftIsFlaggedByTheThreeComponentsTogether(t *testing.T) {
	// Lightness and a* go together, so that to move apart is what ordinary years never do.
	related := square{{4, 3.8, 0}, {3.8, 4, 0}, {0, 0, 1}}
	unrelated := diagonal(vector{4, 4, 1})
	for _, c := range []struct {
		name    string
		by      vector
		cov     square
		flagged bool
	}{
		{"each within 2 standard errors, and against what they do together", vector{3.5, -3.5, 0}, related, true},
		{"the same, if they did not go together", vector{3.5, -3.5, 0}, unrelated, false},
		{"more than 3 standard errors of one, as they go together", vector{6.2, 6.2, 0}, related, false},
		{"each within 3, of all three", vector{5.8, 5.8, 2.9}, unrelated, true},
		{"within 3 of one alone", vector{5.8, 0, 0}, unrelated, false},
		{"far beyond", vector{12, 0, 0}, unrelated, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := judge(knownDifference(c.by, c.cov, 2), heads[3], nil)
			if !j.visible || j.flagged() != c.flagged {
				t.Errorf("visible %t, flagged %t with p %.5f, want %t", j.visible, j.flagged(), j.p, c.flagged)
			}
		})
	}
}

func TestADriftThatCannotBeSeenIsNotFlagged(t *testing.T) {
	for _, from := range heads {
		for _, c := range []struct {
			size    float64
			flagged bool
		}{{visibleFrom - 0.05, false}, {visibleFrom + 0.05, true}} {
			by := reach(from, frameAt(labVector(from)).axes().of(vector{-1, 0, 0}), c.size)
			j := judge(knownDifference(by, identity.scale(0.01), 2), from, nil)
			if j.p > 1e-6 || j.flagged() != c.flagged {
				t.Errorf("from %+v by %.2f units: flagged %t with p %.2g", from, c.size, j.flagged(), j.p)
			}
		}
	}
}

func TestADriftIsConfirmedByTwoDaysEachOnItsOwn(t *testing.T) {
	lighter := func(units float64) vector { // seen in full at a lightness of 50
		return reach(middling, vector{1, 0, 0}, math.Abs(units)).times(math.Copysign(1, units))
	}
	sure, unsure := identity.scale(0.25), identity.scale(9)
	for _, c := range []struct {
		name      string
		days      []dayShift
		earlier   []dayShift // of seasons between the baseline and this one
		confirmed bool
	}{
		{"both days", []dayShift{{by: lighter(6), cov: sure}, {by: lighter(6), cov: sure}}, nil, true},
		{"one day alone", []dayShift{{by: lighter(6), cov: sure}}, nil, false},
		{"the other the wrong way", []dayShift{{by: lighter(12), cov: sure}, {by: lighter(-1), cov: sure}}, nil, false},
		{"the other too little to be seen", []dayShift{{by: lighter(10), cov: sure}, {by: lighter(1.4), cov: sure}}, nil, false},
		{"the other just enough", []dayShift{{by: lighter(10), cov: sure}, {by: lighter(1.6), cov: sure}}, nil, true},
		{"the other within its own uncertainty", []dayShift{{by: lighter(8), cov: sure}, {by: lighter(4), cov: unsure}}, nil, false},
		{"the other beyond its own uncertainty", []dayShift{{by: lighter(8), cov: sure}, {by: lighter(5.5), cov: unsure}}, nil, true},
		{"the other across it", []dayShift{{by: lighter(10), cov: sure}, {by: vector{0, 0, 8}, cov: sure}}, nil, false},
		{"two of three", []dayShift{{by: lighter(8), cov: sure}, {by: lighter(8), cov: sure}, {by: lighter(0), cov: sure}}, nil, true},
		{"one day, and one of an earlier season", []dayShift{{by: lighter(6), cov: sure}}, []dayShift{{by: lighter(5), cov: sure}}, true},
		{"one day, and an earlier season's shows nothing", []dayShift{{by: lighter(6), cov: sure}}, []dayShift{{by: lighter(0.5), cov: sure}}, false},
		{"one day, and an earlier season's the wrong way", []dayShift{{by: lighter(6), cov: sure}}, []dayShift{{by: lighter(-6), cov: sure}}, false},
		{"days of earlier seasons alone", []dayShift{{by: lighter(1), cov: sure}}, []dayShift{{by: lighter(6), cov: sure}, {by: lighter(6), cov: sure}}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := knownDifference(lighter(6), sure, 0)
			d.days = c.days
			if j := judge(d, middling, c.earlier); j.confirmed != c.confirmed {
				t.Errorf("%d days agree, so confirmed is %t", j.agreeing, j.confirmed)
			}
		})
	}
}

var middling = colour.Lab{L: 50, A: 20, B: 10}

// The same drift beside the same later photos: what it is held against must be known too.
func TestADriftFromABaselineOfOnePoorPhotoIsNotCalledOne(t *testing.T) {
	for _, c := range []struct {
		name  string
		se    float64
		drift bool
	}{{"a baseline of four good photos", 0, true}, {"of one that says little", 5, false}} {
		t.Run(c.name, func(t *testing.T) {
			g := quiet(3).grow()
			g.move(paler(t, g, 8), func(r Reading) bool { return r.Plant == mover && r.Season > 2021 })
			first := true
			g.Readings = slices.DeleteFunc(g.Readings, func(r Reading) bool {
				drop := c.se > 0 && r.Plant == mover && r.Season == 2021 && !first
				first = first && !(r.Plant == mover && r.Season == 2021)
				return drop
			})
			for i, r := range g.Readings {
				if c.se > 0 && r.Plant == mover && r.Season == 2021 {
					g.Readings[i].SE = [3]float64{c.se, c.se, c.se}
				}
			}
			s := find(t, mustJudge(t, g.Stand).PlantSeasons, mover, 2022)
			if (s.State == StateDrift) != c.drift {
				t.Errorf("%s: %+v", s.State, s.Shift)
			}
			if c.se > 0 && min(s.Shift.Cov.LL, s.Shift.Cov.AA, s.Shift.Cov.BB) < c.se*c.se {
				t.Errorf("the covariance %+v is smaller than the baseline's own, %g", s.Shift.Cov, c.se*c.se)
			}
		})
	}
}

func TestWhatTheTestShowsBelowTheThresholdIsSaidSo(t *testing.T) {
	m := quiet(5)
	m.wobble, m.day, m.head, m.apparatus = vector{0.1, 0.1, 0.1}, vector{0.1, 0.1, 0.1}, vector{0.2, 0.2, 0.2}, vector{0.1, 0.1, 0.1}
	m.photos, m.days = 12, 3
	g := m.grow()
	g.move(paler(t, g, 2.3), func(r Reading) bool { return r.Plant == mover && r.Season == 2023 })
	s := find(t, mustJudge(t, g.Stand).PlantSeasons, mover, 2023)
	if s.State != StateNone || s.Shift.P > testLevel || s.Shift.Visible || !slices.Contains(s.Reasons, ReasonNotVisible) {
		t.Errorf("%s, p %.4f, %v: %+v", s.State, s.Shift.P, s.Reasons, s.Shift.Total)
	}
}

// The parts are those of CIEDE2000, and come to the whole.
func TestAShiftIsToldInThePartsOfItsDifference(t *testing.T) {
	for _, from := range heads {
		by := vector{2, -5, 4}
		j := judge(knownDifference(by, identity, 2), from, nil)
		s := j.shift(frameAt(labVector(from)).axes())
		want := colour.Between(from, labVector(from).plus(by).lab())
		if s.Lightness.Value != want.Lightness || s.Chroma.Value != want.Chroma || s.Hue.Value != want.Hue || s.Total.Mean != want.Total {
			t.Errorf("from %+v: %+v, want %+v", from, s, want)
		}
		whole := math.Sqrt(s.Lightness.Value*s.Lightness.Value + s.Chroma.Value*s.Chroma.Value + s.Hue.Value*s.Hue.Value + want.Rotation*s.Chroma.Value*s.Hue.Value)
		near(t, "the whole", whole, s.Total.Mean, 1e-9)
	}
}

// Who takes one photo a year sees a drift confirmed by the second year that shows it, and by nothing before.
func TestOnePhotoAYearIsConfirmedByAnotherYear(t *testing.T) {
	m := quiet(3)
	m.seasons, m.photos, m.days = 4, 1, 1
	g := m.grow()
	g.move(paler(t, g, 14), func(r Reading) bool { return r.Plant == mover && r.Season > 2021 })
	r := mustJudge(t, g.Stand)
	for season, state := range map[crop.Season]State{2022: StateWatch, 2023: StateDrift, 2024: StateDrift} {
		s := find(t, r.PlantSeasons, mover, season)
		if s.State != state || slices.Contains(s.Reasons, ReasonOneDay) != (state == StateWatch) {
			t.Errorf("%d: %s %v, want %s: %+v", season, s.State, s.Reasons, state, s.Shift)
		}
	}
}
