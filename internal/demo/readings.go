package demo

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"corymb/internal/colour"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tags"
)

// The farm measures colours since its first season: two sessions a season, two phones, a batch of cards, five
// plants that every session photographs, three plants that drift, and a last season in which the whole stand was
// paler. All of it is invented, by a model like the one that judges it: a plant's own colour, what it does from season
// to season and from day to day, cameras, sessions and single photos.

// along is a colour or a difference of colours along lightness, chroma and hue, in CIELAB units.
type along [3]float64

// The standard deviations of what readings differ by.
var (
	ofPlants   = along{2.2, 2.6, 2.4} // about their class
	ofSeasons  = along{.6, .8, .6}
	ofDays     = along{.5, .6, .5}
	ofPhotos   = along{.5, .6, .5}
	ofSessions = along{.9, .9, .9} // along L*, a* and b*, as cameras
	ofCameras  = along{1.4, 1.4, 1.4}
	ofFading   = along{3, -6, 3} // what a fading head adds
	ofSun      = along{2.5, 1, 1.5}
)

// paler is what the last season did to the whole stand, but for the reference plants.
var paler = along{.8, -5.2, 0}

// drifts are those of three plants, from the last season on: one fades, one browns, one turns towards yellow. A
// fourth fades too, and is photographed on one day alone.
var (
	drifts    = []along{{3, -14, 0}, {-6, -5, 7}, {1, -2, 13}}
	seenDrift = along{4, -17, 0}
)

const cardBatch = "H4M7RE"

// measuredPlot says how plants of a plot are photographed.
type measuredPlot struct {
	plot, plants int
	photos       [2]int     // of each plant on the first and on the second day of a season
	light        crop.Light // where all are taken in one
	stage        crop.Stage
}

// The first of them has the reference plants. Some are photographed too little, or in sun, to tell much.
var measuredPlots = []measuredPlot{
	{plot: 0, plants: 24, photos: [2]int{2, 2}},
	{plot: 1, plants: 10, photos: [2]int{2, 2}},
	{plot: 1, plants: 2, photos: [2]int{1, 1}, stage: crop.StageFading},
	{plot: 3, plants: 12, photos: [2]int{2, 2}},
	{plot: 3, plants: 4, photos: [2]int{2, 0}},
	{plot: 3, plants: 4, photos: [2]int{1, 0}, light: crop.LightSun},
	{plot: 4, plants: 8, photos: [2]int{2, 1}},
}

// ofOneDay is the place in measuredPlots of plants that are photographed on one day a season.
const ofOneDay = 4

// sitter is a plant that is photographed.
type sitter struct {
	plant     crop.PlantID
	plot      *measuredPlot
	reference bool
	drift     along
	base      colour.Lab
	yearly    colour.Lab // what all photos of a season, and those of a day, share
	daily     colour.Lab
}

// measureColours photographs the sitters through all seasons and gives classes their measured colours. It draws from a
// source of its own.
func (g *grower) measureColours() {
	m := &measuring{grower: g, rnd: rand.New(rand.NewPCG(seed, 3)), cameras: map[int]colour.Lab{}}
	first, last := g.seasons()
	g.printCards(first)
	m.sitters = m.choose()
	for s := first; s <= last; s++ {
		for day := range 2 {
			m.session(s, day, s == last)
		}
	}
	m.giveClassesColours(last)
}

// printCards tells the batch of cards, measured beside a known grey.
func (g *grower) printCards(first crop.Season) {
	card := crop.Card{ID: cardBatch, Printed: onDay(first, "04-20"), Measured: onDay(first, "05-02"), How: "beside", SE: .7}
	rnd := rand.New(rand.NewPCG(seed, 4))
	for _, c := range tags.CardColours {
		lab := labOf(c.R, c.G, c.B)
		// A printer's ink is paler than it was told to be.
		card.Patches = append(card.Patches, colour.Lab{L: 4 + .93*lab.L + .8*rnd.NormFloat64(), A: .9*lab.A + .8*rnd.NormFloat64(), B: .9*lab.B + .8*rnd.NormFloat64()})
	}
	g.mark(card.Measured, farm.CardFacts(card))
}

type measuring struct {
	*grower
	rnd     *rand.Rand
	sitters []*sitter
	cameras map[int]colour.Lab
}

// choose takes the first plants of each measured plot that are still there, the reference plants before all.
func (m *measuring) choose() []*sitter {
	var sitters []*sitter
	for i := range measuredPlots {
		plot, taken := &measuredPlots[i], 0
		for _, id := range m.standingInPlot(plot.plot) {
			if taken == plot.plants || slices.ContainsFunc(sitters, func(s *sitter) bool { return s.plant == id }) {
				continue
			}
			taken++
			s := &sitter{plant: id, plot: plot, reference: i == 0 && taken%5 == 3}
			s.base = shifted(labOfSwatch(m.farm.Colours[m.farm.Plants[id].Colour].Swatch), m.drawn(ofPlants))
			sitters = append(sitters, s)
		}
	}
	coloured := slices.DeleteFunc(slices.Clone(sitters), func(s *sitter) bool { return s.reference || s.base.Chroma() < 25 })
	for i, drift := range drifts {
		coloured[3+7*i].drift = drift
	}
	for _, s := range coloured {
		if s.plot == &measuredPlots[ofOneDay] {
			s.drift = seenDrift
			break
		}
	}
	for _, s := range sitters {
		if s.reference {
			p := m.farm.Plants[s.plant]
			p.Reference = true
			m.farm.Plants[s.plant] = p
		}
	}
	return sitters
}

// standingInPlot lists the plants of a plot that never went, in planting order.
func (m *measuring) standingInPlot(plot int) []crop.PlantID {
	at := 0
	for _, p := range plots[:plot] {
		at += p.lines * p.number
	}
	of := m.standing[at : at+plots[plot].lines*plots[plot].number]
	return slices.DeleteFunc(slices.Clone(of), func(id crop.PlantID) bool { return m.farm.Plants[id].Removed != "" })
}

// session is a day of a season on which two phones photograph what blooms.
func (m *measuring) session(s crop.Season, day int, last bool) {
	var sessions [2]colour.Lab
	for camera := range sessions {
		if _, known := m.cameras[camera]; !known {
			m.cameras[camera] = plus(colour.Lab{}, m.drawn(ofCameras))
		}
		sessions[camera] = plus(m.cameras[camera], m.drawn(ofSessions))
	}
	date := onDay(s, []string{"05-26", "06-04"}[day]).Add(m.rnd.IntN(4))
	for _, sitter := range m.sitters {
		if m.farm.Plantings[m.farm.Plants[sitter.plant].Planting].AgeIn(s) < 1 {
			continue
		}
		if day == 0 {
			sitter.yearly = m.inSeason(sitter, last)
		}
		sitter.daily = shifted(sitter.yearly, m.drawn(ofDays))
		own := m.rnd.IntN(2)
		for i := range sitter.plot.photos[day] {
			camera := own
			if sitter.reference {
				camera = i % 2
			}
			m.photograph(sitter, date, camera, sessions[camera])
		}
	}
}

// inSeason is a plant's colour in a season.
func (m *measuring) inSeason(s *sitter, last bool) colour.Lab {
	c := shifted(s.base, m.drawn(ofSeasons))
	if last {
		c = shifted(c, s.drift)
	}
	if last && !s.reference {
		c = shifted(c, paler)
	}
	return c
}

// photograph measures one head in one photo.
func (m *measuring) photograph(s *sitter, day crop.Date, camera int, session colour.Lab) {
	seen := shifted(s.daily, m.drawn(ofPhotos))
	r := crop.Reading{
		ID: crop.ReadingID(m.id()), Plant: s.plant, Date: day, Person: m.names[people[camera]], Camera: people[camera] + "’s phone, back", Card: cardBatch,
		Stage: crop.StageFull, Light: crop.LightShade, Quality: 78 + m.rnd.IntN(20),
		Spread: 62 + 40*m.rnd.Float64(), SpreadSE: 1 + m.rnd.Float64(),
	}
	switch u := m.rnd.Float64(); {
	case s.plot.stage == crop.StageFading || u < .03 && !s.reference:
		r.Stage, seen = crop.StageFading, shifted(seen, ofFading)
	case s.plot.light == crop.LightSun || u < .06 && !s.reference:
		r.Light, seen = crop.LightSun, shifted(seen, ofSun)
		r.Quality -= 20
	case u < .3:
		r.Light = crop.LightOvercast
	}
	r.SE = crop.Lab{L: m.uncertainty(), A: m.uncertainty(), B: m.uncertainty()}
	noise := along{r.SE.L * m.rnd.NormFloat64(), r.SE.A * m.rnd.NormFloat64(), r.SE.B * m.rnd.NormFloat64()}
	r.Colour = plus(colour.Lab{L: seen.L + session.L, A: seen.A + session.A, B: seen.B + session.B}, noise)
	r.Colour.L = min(r.Colour.L, 100)
	m.marks = append(m.marks, mark{day: day, by: camera, facts: farm.ReadingFacts(r)})
}

// uncertainty is one as a card in good light leaves, in the hundredths that are kept.
func (m *measuring) uncertainty() float64 { return math.Round(100*(.4+.7*m.rnd.Float64())) / 100 }

// drawn draws from three normals.
func (m *measuring) drawn(sd along) along {
	return along{sd[0] * m.rnd.NormFloat64(), sd[1] * m.rnd.NormFloat64(), sd[2] * m.rnd.NormFloat64()}
}

// giveClassesColours sets the measured colour of most yarrow classes from the plant that is most like them; two wait
// for somebody to do so.
func (m *measuring) giveClassesColours(last crop.Season) {
	for _, c := range yarrowColours[:4] {
		class := labOfSwatch(c.swatch)
		likest := slices.MinFunc(m.sitters, func(a, b *sitter) int {
			return cmp.Compare(colour.Between(class, a.base).Total, colour.Between(class, b.base).Total)
		})
		m.mark(onDay(last, "06-20"), farm.ClassColourFacts(m.colours[c.name], likest.base, "plant/"+string(likest.plant), 0))
	}
}

// shifted goes from a colour along its own lightness, chroma and hue.
func shifted(c colour.Lab, by along) colour.Lab {
	chroma := cmp.Or(c.Chroma(), 1)
	cos, sin := c.A/chroma, c.B/chroma
	return colour.Lab{L: c.L + by[0], A: c.A + cos*by[1] - sin*by[2], B: c.B + sin*by[1] + cos*by[2]}
}

func plus(c colour.Lab, by along) colour.Lab {
	return colour.Lab{L: c.L + by[0], A: c.A + by[1], B: c.B + by[2]}
}

// labOfSwatch reads "#rrggbb".
func labOfSwatch(swatch string) colour.Lab {
	n, err := strconv.ParseUint(swatch[1:], 16, 32)
	if err != nil {
		panic(err) // every swatch here is the scenario's own
	}
	return labOf(uint8(n>>16), uint8(n>>8), uint8(n))
}

func labOf(r, g, b uint8) colour.Lab {
	light := func(v uint8) float64 { return colour.Decoded(float64(v) / 255) }
	return colour.SRGB.Lab(colour.RGB{R: light(r), G: light(g), B: light(b)})
}
