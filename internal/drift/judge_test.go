package drift

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
)

// quiet is a stand of one camera in which one plant, p0010, is moved in its last seasons.
func quiet(seed uint64) *made {
	m := ordinaryStand(seed)
	m.seasons, m.cameras = 3, [][]string{{"one"}}
	return m
}

// move changes the readings that are chosen.
func (g *grown) move(by vector, of func(Reading) bool) {
	for i, r := range g.Readings {
		if of(r) {
			g.Readings[i].Lab = labVector(r.Lab).plus(by).lab()
		}
	}
}

const mover = crop.PlantID("p0010")

func (g grown) readings(of func(Reading) bool) []Reading {
	var list []Reading
	for _, r := range g.Readings {
		if of(r) {
			list = append(list, r)
		}
	}
	return list
}

func find(t *testing.T, list []PlantSeason, plant crop.PlantID, season crop.Season) PlantSeason {
	t.Helper()
	for _, s := range list {
		if s.Plant == plant && s.Season == season {
			return s
		}
	}
	t.Fatalf("nothing is said of %s in %d", plant, season)
	return PlantSeason{}
}

// paler is a loss of chroma of p0010, which is pink or red, by so many units.
func paler(t *testing.T, g grown, size float64) vector {
	t.Helper()
	var of []Reading
	for _, r := range g.Readings {
		if r.Plant == mover && r.Season == 2021 {
			of = append(of, r)
		}
	}
	c := middleOf(of)
	return along(c, frameAt(c).axes().of(vector{0, -1, 0}), size)
}

func TestAPlantThatFadesIsSaidToDriftAndHow(t *testing.T) {
	g := quiet(3).grow()
	g.move(paler(t, g, 8), func(r Reading) bool { return r.Plant == mover && r.Season > 2021 })
	r := mustJudge(t, g.Stand)
	for _, season := range []crop.Season{2022, 2023} {
		s := find(t, r.PlantSeasons, mover, season)
		if s.State != StateDrift || s.Baseline != 2021 || s.Days != 2 || s.Readings != 4 {
			t.Errorf("%d: %+v", season, s)
		}
		if s.Shift.Chroma.Value > -5 || math.Abs(s.Shift.Lightness.Value) > 3*s.Shift.Lightness.SE || math.Abs(s.Shift.Hue.Value) > 3*s.Shift.Hue.SE {
			t.Errorf("%d: a loss of chroma is told as lightness %+v, chroma %+v, hue %+v", season, s.Shift.Lightness, s.Shift.Chroma, s.Shift.Hue)
		}
		// Three standard errors, of which the interval has 1.645 on either side.
		if off := math.Abs(s.Shift.Total.Mean - 8); off > 3/1.645*(s.Shift.Total.Hi-s.Shift.Total.Lo)/2 {
			t.Errorf("%d: 8 units are told as %+v", season, s.Shift.Total)
		}
	}
	for _, s := range r.PlantSeasons {
		if s.Plant != mover && s.State == StateDrift {
			t.Errorf("%s in %d is dragged along: %+v", s.Plant, s.Season, s.Shift)
		}
	}
}

// edited judges one season of a plant after its readings were changed.
func TestWhatIsSaidOfAPlantsSeason(t *testing.T) {
	last := func(r Reading) bool { return r.Plant == mover && r.Season == 2023 }
	each := func(g *grown, of func(Reading) bool, change func(*Reading)) {
		for i := range g.Readings {
			if of(g.Readings[i]) {
				change(&g.Readings[i])
			}
		}
	}
	keep := func(g *grown, of func(Reading) bool) {
		g.Readings = slices.DeleteFunc(g.Readings, func(r Reading) bool { return last(r) && !of(r) })
	}
	firstDay := func(r Reading) bool { return strings.HasSuffix(string(r.Date), "-03") }
	for _, c := range []struct {
		name    string
		edit    func(t *testing.T, g *grown)
		state   State
		reasons []Reason
	}{
		{"nothing happened", func(*testing.T, *grown) {}, StateNone, nil},
		{"seen on one day alone", func(t *testing.T, g *grown) {
			keep(g, firstDay)
			g.move(paler(t, *g, 12), last)
		}, StateWatch, []Reason{ReasonOneDay}},
		{"seen on one of two days", func(t *testing.T, g *grown) {
			by := paler(t, *g, 8)
			g.move(by.times(2.2), func(r Reading) bool { return last(r) && firstDay(r) })
			g.move(by.times(-0.1), func(r Reading) bool { return last(r) && !firstDay(r) })
		}, StateWatch, []Reason{ReasonDaysApart}},
		{"all fading", func(_ *testing.T, g *grown) { each(g, last, func(r *Reading) { r.Stage = crop.StageFading }) }, StateCannotTell, []Reason{ReasonNoFullBloom}},
		{"stage untold", func(_ *testing.T, g *grown) { each(g, last, func(r *Reading) { r.Stage = "" }) }, StateCannotTell, []Reason{ReasonNoFullBloom}},
		{"all in sun", func(_ *testing.T, g *grown) { each(g, last, func(r *Reading) { r.Light = crop.LightSun }) }, StateCannotTell, []Reason{ReasonOnlySun}},
		{"no card", func(_ *testing.T, g *grown) { each(g, last, func(r *Reading) { r.Card = "" }) }, StateCannotTell, []Reason{ReasonNoCard}},
		{"no full bloom before", func(_ *testing.T, g *grown) {
			each(g, func(r Reading) bool { return r.Plant == mover && !last(r) }, func(r *Reading) { r.Stage = crop.StageOpening })
		}, "", nil},
		{"photos that say next to nothing", func(_ *testing.T, g *grown) {
			each(g, last, func(r *Reading) { r.SE = [3]float64{9, 9, 9} })
		}, StateCannotTell, []Reason{ReasonFewReadings}},
		{"another camera", func(_ *testing.T, g *grown) {
			each(g, func(r Reading) bool { return r.Season == 2023 }, func(r *Reading) { r.Camera = "two" })
			each(g, last, func(r *Reading) { r.SE = [3]float64{9, 9, 9} })
		}, StateCannotTell, []Reason{ReasonFewReadings, ReasonOtherCamera}},
		{"indoors", func(_ *testing.T, g *grown) {
			each(g, last, func(r *Reading) { r.Light, r.SE = crop.LightIndoors, [3]float64{9, 9, 9} })
		}, StateCannotTell, []Reason{ReasonFewReadings, ReasonOtherLight}},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := quiet(4).grow()
			c.edit(t, &g)
			r := mustJudge(t, g.Stand)
			if c.state == "" { // its first full bloom is then where it begins
				for _, s := range r.PlantSeasons {
					if s.Plant == mover && (s.Season == 2023 || s.State != StateCannotTell || !slices.Contains(s.Reasons, ReasonNoBaseline)) {
						t.Errorf("%+v", s)
					}
				}
				return
			}
			s := find(t, r.PlantSeasons, mover, 2023)
			if s.State != c.state {
				t.Errorf("%s, want %s: %+v %+v", s.State, c.state, s, s.Shift)
			}
			for _, reason := range c.reasons {
				if !slices.Contains(s.Reasons, reason) {
					t.Errorf("reasons are %v, want %s among them", s.Reasons, reason)
				}
			}
			if s.State == StateNone && (s.Shift.Noticeable == nil || *s.Shift.Noticeable > enoughPower*r.Threshold) {
				t.Errorf("no drift is said where a drift of %v would have been noticed", s.Shift.Noticeable)
			}
		})
	}
}

func TestTheStandsOwnShiftIsToldByReferencesAndNoPlantsFault(t *testing.T) {
	by := vector{3, -8, 5}
	for _, c := range []struct {
		name       string
		references int
		told       bool
	}{{"with references", 6, true}, {"with one, which may drift itself", 1, false}, {"without", 0, false}} {
		t.Run(c.name, func(t *testing.T) {
			m := quiet(8)
			m.references, m.shiftsLab = c.references, []vector{{}, {}, by}
			r := mustJudge(t, m.grow().Stand)
			if len(r.Stand) != 2 {
				t.Fatalf("%d seasons of the stand, want 2", len(r.Stand))
			}
			s := r.Stand[1]
			if s.Told != c.told || (s.Reason == ReasonStandUntold) == c.told || s.Moved != c.told {
				t.Errorf("%+v", s)
			}
			if c.told {
				for axis, got := range []float64{s.Shift.L, s.Shift.A, s.Shift.B} {
					if se := []float64{s.SE.L, s.SE.A, s.SE.B}[axis]; math.Abs(got-by[axis]) > 3*se || se > 2 {
						t.Errorf("along axis %d the stand moved by %.2f, told as %.2f within %.2f", axis, by[axis], got, se)
					}
				}
			}
			if r.Stand[0].Moved {
				t.Errorf("a season in which nothing happened: %+v", r.Stand[0])
			}
			drift := 0
			for _, p := range r.PlantSeasons {
				drift += is(p.State == StateDrift)
			}
			if drift > 1 {
				t.Errorf("%d plant-seasons are called drifting where all moved together", drift)
			}
			has := slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Code == NoteStandUntold })
			if has == c.told {
				t.Errorf("notes say stand_shift_untold: %t", has)
			}
		})
	}
}

// The others are told as if the reference had stayed, to within what leaving it out would change.
func TestAReferenceThatDriftsIsFoundAndDragsNobody(t *testing.T) {
	const bad = crop.PlantID("p0001")
	g := quiet(9).grow()
	before := mustJudge(t, g.Stand)
	g.move(vector{4, -12, 6}, func(r Reading) bool { return r.Plant == bad && r.Season > 2021 })
	after := mustJudge(t, g.Stand)
	if s := find(t, after.References, bad, 2022); s.State != StateDrift {
		t.Errorf("the reference is said to be %s: %+v", s.State, s.Shift)
	}
	if !slices.ContainsFunc(after.Notes, func(n Note) bool { return n.Code == NoteReferenceDrifts && n.Args["plant"] == string(bad) }) {
		t.Errorf("no note names the reference: %+v", after.Notes)
	}
	for _, s := range after.References {
		if s.Plant != bad && s.State == StateDrift {
			t.Errorf("reference %s is blamed", s.Plant)
		}
	}
	for i := range before.Stand {
		a, b := before.Stand[i].Shift, after.Stand[i].Shift
		if math.Abs(a.L-b.L) > 1 || math.Abs(a.A-b.A) > 1 || math.Abs(a.B-b.B) > 1 {
			t.Errorf("the stand's shift went from %+v to %+v", a, b)
		}
	}
	for i := range before.PlantSeasons {
		a, b := before.PlantSeasons[i], after.PlantSeasons[i]
		if a.State != b.State && (a.State == StateDrift || b.State == StateDrift) {
			t.Errorf("%s in %d went from %s to %s", a.Plant, a.Season, a.State, b.State)
		}
	}
}

// Of two that part nobody knows which moved, so neither tells what the stand did.
func TestReferencesThatPartTellNothingOfTheStand(t *testing.T) {
	for _, c := range []struct {
		references int
		told       bool
	}{{2, false}, {5, true}} {
		m := quiet(9)
		m.references = c.references
		g := m.grow()
		g.move(vector{4, -14, 6}, func(r Reading) bool { return r.Plant == "p0001" && r.Season == 2023 })
		r := mustJudge(t, g.Stand)
		if s := r.Stand[1]; s.Told != c.told || s.Moved {
			t.Errorf("%d references, of which one moved: %+v", c.references, s)
		}
		if s := r.Stand[0]; !s.Told {
			t.Errorf("%d references, of which none had moved yet: %+v", c.references, s)
		}
	}
}

func TestTheOrderOfReadingsChangesNothing(t *testing.T) {
	m := quiet(10)
	m.plants, m.odd = 12, 0.2
	g := m.grow()
	twin := g.Readings[40] // alike but in how sure it is
	twin.SE = [3]float64{2, 2, 2}
	g.Readings = append(g.Readings, twin)
	want := mustJudge(t, g.Stand)
	source := rand.New(rand.NewPCG(10, 0))
	source.Shuffle(len(g.Readings), func(i, j int) { g.Readings[i], g.Readings[j] = g.Readings[j], g.Readings[i] })
	if got := mustJudge(t, g.Stand); !reflect.DeepEqual(got, want) {
		t.Error("the report changed")
	}
}

func TestReportsAreNumbersThroughout(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(m *made)
		cut  func(r Reading) bool
	}{
		{"an ordinary stand", func(*made) {}, nil},
		{"one photo of one plant", func(m *made) { m.plants, m.references, m.seasons, m.photos, m.days = 1, 0, 1, 1, 1 }, nil},
		{"one plant in two seasons", func(m *made) { m.plants, m.references, m.seasons, m.photos = 1, 0, 2, 2 }, nil},
		{"references alone", func(m *made) { m.plants, m.references, m.seasons = 0, 3, 2 }, nil},
		{"one season", func(m *made) { m.seasons = 1 }, nil},
		{"nothing firm", func(m *made) { m.odd, m.seasons = 1, 2 }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := ordinaryStand(11)
			m.plants = 10
			c.make(m)
			r := mustJudge(t, m.grow().Stand)
			if _, err := json.Marshal(r); err != nil {
				t.Error(err)
			}
			if len(r.Colours) == 0 || len(r.Power) == 0 {
				t.Error("colours or power are missing")
			}
			for _, s := range r.PlantSeasons {
				if s.State == StateNone && m.seasons == 1 {
					t.Errorf("%+v", s)
				}
			}
		})
	}
	empty := mustJudge(t, Stand{})
	if len(empty.Notes) != 1 || empty.Notes[0].Code != NoteNothing || len(empty.Power) == 0 {
		t.Errorf("of nothing: %+v", empty)
	}
}

func TestReadingsThatCannotBeAreRefused(t *testing.T) {
	good := Reading{Plant: "p", Season: 2025, Date: "2025-06-01", Lab: heads[0], SE: [3]float64{1, 1, 1}}
	for name, change := range map[string]func(*Reading){
		"no number":      func(r *Reading) { r.Lab.A = math.NaN() },
		"beyond all":     func(r *Reading) { r.Lab.L = 5000 },
		"no uncertainty": func(r *Reading) { r.SE[1] = 0 },
		"no plant":       func(r *Reading) { r.Plant = "" },
		"no such day":    func(r *Reading) { r.Date = "2025-02-30" },
	} {
		r := good
		change(&r)
		if _, err := Judge(Stand{Readings: []Reading{r}}); err == nil || !strings.HasPrefix(err.Error(), "judge drift: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Judge(Stand{Readings: []Reading{good}}); err != nil {
		t.Error(err)
	}
}

// Colours are of full bloom as the farm's cameras and cards read on average, so what all of those have in common
// stays in them.
func TestColoursHoldWhatIsTrue(t *testing.T) {
	held, of := 0, 0
	stands := 6 * max(1, *driftStands)
	for i := range stands {
		m := ordinaryStand(*driftSeed + 100 + uint64(i))
		m.plants, m.odd, m.seasons = 12, 0.2, 3
		g := m.grow()
		r := mustJudge(t, g.Stand)
		var off vector
		for _, c := range r.Colours {
			off = off.plus(vector{c.Lab.L, c.Lab.A, c.Lab.B}.minus(labVector(g.truth[plantSeason{c.Plant, c.Season}])))
		}
		off = off.times(1 / float64(len(r.Colours)))
		for _, c := range r.Colours {
			d := vector{c.Lab.L, c.Lab.A, c.Lab.B}.minus(labVector(g.truth[plantSeason{c.Plant, c.Season}])).minus(off)
			of++
			held += is(squareOf(c.Cov).inverse().within(d) <= 6.2514) // the 90 % quantile of chi-square of 3
		}
	}
	part := float64(held) / float64(of)
	t.Logf("%.3f of %d regions of 90 %% hold the plant's colour, %d stands from seed %d on", part, of, stands, *driftSeed+100)
	// Colours of one stand are wrong together, so few stands say little.
	if part < 0.82 || part > 0.97 {
		t.Error("that is not 9 in 10")
	}
}

func squareOf(c Cov) square {
	return square{{c.LL, c.LA, c.LB}, {c.LA, c.AA, c.AB}, {c.LB, c.AB, c.BB}}
}

// A large stand's covariances come from a part of it, and the rest is judged all the same.
func TestALargeStandIsJudgedByASampleOfIt(t *testing.T) {
	m := quiet(12)
	m.plants, m.seasons, m.photos = mostSample+150, 2, 2
	g := m.grow()
	last := crop.PlantID(fmt.Sprintf("p%04d", m.plants))
	g.move(vector{10, 10, 10}, func(r Reading) bool { return r.Plant == last && r.Season == 2022 })
	r := mustJudge(t, g.Stand)
	var c tally
	c.add(r, func(s plantSeason) bool { return s.plant == last })
	if c.of != m.plants-1 || c.drift > 10 {
		t.Errorf("%d plants are judged, %d of them called drifting", c.of, c.drift)
	}
	if s := find(t, r.PlantSeasons, last, 2022); s.State != StateDrift {
		t.Errorf("%+v", s)
	}
}

func BenchmarkJudge(b *testing.B) {
	for _, plants := range []int{40, 5000} {
		b.Run(fmt.Sprint(plants, " plants, 4 seasons, 2 readings"), func(b *testing.B) {
			m := ordinaryStand(1)
			m.plants, m.photos, m.references = plants, 2, 8
			g := m.grow()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Judge(g.Stand); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(g.Readings)), "readings")
		})
	}
}
