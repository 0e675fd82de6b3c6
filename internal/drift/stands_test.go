package drift

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// made is a made-up stand: what is true of it, and how it is photographed.
type made struct {
	plants, references int
	seasons            int
	cameras            [][]string // by season; the last one stays
	photos, days       int        // a plant and season

	wobble, day, apparatus, head vector  // standard deviations along lightness, chroma, hue
	wobbleLab                    vector  // besides, along L*, a*, b*
	wobbleTails                  float64 // degrees of freedom; 0 is normal
	unlike                       float64 // standard deviation of the logarithm of how restless a plant is
	session, camera              float64
	shifts                       []vector  // of the whole stand, by season, along lightness, chroma and hue
	shiftsLab                    []vector  // the same along L*, a*, b*
	fades                        []float64 // by season, by which part the stand's chroma grows
	shared                       bool      // the reference plants shift with the stand
	cameraGain, sessionGain      float64   // standard deviations of the part by which a camera or a session has chroma grow
	strong                       float64   // how much more restless plants are for each 20 units of chroma, against one of 20
	swap                         bool      // between two days of the second season one camera takes the place of all
	firstPhotos                  int       // of the first season, all on one day; 0 is as in the others
	halves                       bool      // every second plant is photographed four weeks later, the references with the others
	bare                         float64   // the part of sessions without a card
	lights                       float64   // the part of photos in another light than open shade

	tails float64 // degrees of freedom of the noise; 0 is normal
	wrong float64 // how many times as large the noise is as stated; 0 is once

	drifters float64   // the part of plants that drift
	sizes    []float64 // by how many units of CIEDE2000, from the second season on; each plant by one of them
	odd      float64   // the part of photos that are of heads not full, or in sun

	source *rand.Rand
}

// ordinaryStand is a stand as the tests take it where nothing else is said.
func ordinaryStand(seed uint64) *made {
	return &made{
		plants: 24, references: 4, seasons: 4, cameras: [][]string{{"one", "two"}, {"one", "two"}, {"one", "three"}},
		photos: 4, days: 2,
		wobble: vector{0.8, 1.1, 0.7}, day: vector{0.7, 0.8, 0.5}, apparatus: vector{0.5, 0.5, 0.5}, head: vector{0.6, 0.7, 0.5},
		session: 1.2, camera: 2,
		source: rand.New(rand.NewPCG(seed, 20)),
	}
}

// grown is a made stand's readings, and which plant-seasons truly drift.
type grown struct {
	Stand
	drifting map[plantSeason]float64    // by how much
	truth    map[plantSeason]colour.Lab // without what sessions and cameras do
}

type plantSeason struct {
	plant  crop.PlantID
	season crop.Season
}

func (m *made) normal(sd vector) vector {
	var v vector
	for i := range v {
		v[i] = sd[i] * m.source.NormFloat64()
	}
	return v
}

// noise has variance 1, with tails of a t where that is asked.
func (m *made) noise() float64 {
	return m.source.NormFloat64() * m.stretch(m.tails)
}

// stretch makes a normal a t of variance 1.
func (m *made) stretch(df float64) float64 {
	if df == 0 {
		return 1
	}
	chi := 0.0
	for range int(df) {
		g := m.source.NormFloat64()
		chi += g * g
	}
	return math.Sqrt((df - 2) / chi)
}

// heads are colours of yarrow as a mixed strain has them: white, cream, yellow, pink, red, terracotta.
var heads = []colour.Lab{{L: 90, A: -1, B: 6}, {L: 86, A: -3, B: 22}, {L: 82, A: 2, B: 55}, {L: 70, A: 22, B: 0}, {L: 48, A: 42, B: 12}, {L: 62, A: 28, B: 32}}

func (m *made) head0(i int) vector {
	base := labVector(heads[i%len(heads)])
	return base.plus(m.normal(vector{3, 4, 4}))
}

// along goes from a colour along a direction until it is so far off.
func along(from vector, direction vector, size float64) vector {
	step := 0.0
	for range 60 {
		step += 0.05 * size / 3
		to := from.plus(direction.times(step))
		if d := colour.Between(from.lab(), to.lab()).Total; d >= size {
			return direction.times(step * size / d)
		}
		if step > 60 {
			break
		}
	}
	for colour.Between(from.lab(), from.plus(direction.times(step)).lab()).Total < size {
		step *= 1.02
	}
	return direction.times(step)
}

func (m *made) grow() grown {
	g := grown{drifting: map[plantSeason]float64{}, truth: map[plantSeason]colour.Lab{}}
	seen := &causes{sessions: map[string]cause{}, cameras: map[string]cause{}, lights: map[crop.Light]vector{}}
	for i := range m.plants + m.references {
		id, reference := crop.PlantID(fmt.Sprintf("p%04d", i)), i < m.references
		if reference {
			g.References = append(g.References, id)
		}
		m.photograph(&g, id, i, reference, seen)
	}
	return g
}

// photograph makes a plant's readings of all seasons.
func (m *made) photograph(g *grown, id crop.PlantID, i int, reference bool, seen *causes) {
	p := &madePlant{made: m, id: id, reference: reference, base: m.head0(i), apparatus: map[string]vector{}, answers: map[crop.Light]vector{}}
	p.axes = frameAt(p.base).axes()
	p.restless = math.Exp(m.unlike*m.source.NormFloat64()) * (1 + m.strong*(frameChroma(p.base)/20-1))
	var moved vector
	var size float64
	if !reference && m.source.Float64() < m.drifters {
		direction := p.axes.of([]vector{{0, -1, 0}, {0, 1, 0}, {0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {-1, 0, 0}}[m.source.IntN(6)])
		size = m.sizes[m.source.IntN(len(m.sizes))]
		moved = along(p.base, direction, size)
	}
	for s := range m.seasons {
		season := crop.Season(2021 + s)
		c := p.ofSeason(s)
		if s > 0 && moved != (vector{}) {
			c = c.plus(moved)
			g.drifting[plantSeason{id, season}] = size
		}
		g.truth[plantSeason{id, season}] = c.lab()
		photos, days := m.photos, m.days
		if s == 0 && m.firstPhotos > 0 {
			photos, days = m.firstPhotos, 1
		}
		late := is(m.halves && !reference) * 28 * (i % 2)
		for d := range days {
			date := crop.Date(time.Date(int(season), 6, 3+7*d+late, 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
			taken := photos/days + is(d < photos%days)
			p.onDay(g, s, d, season, date, taken, c, seen)
		}
	}
}

// ofSeason is the plant's colour in a season, if it does not drift.
func (p *madePlant) ofSeason(s int) vector {
	m := p.made
	c := p.base.plus(p.axes.of(m.normal(m.wobble)).plus(m.normal(m.wobbleLab)).times(p.restless * m.stretch(m.wobbleTails)))
	if p.reference && !m.shared {
		return c
	}
	if s < len(m.shifts) {
		c = c.plus(p.axes.of(m.shifts[s]))
	}
	if s < len(m.shiftsLab) {
		c = c.plus(m.shiftsLab[s])
	}
	if s < len(m.fades) {
		c = stronger(c, m.fades[s])
	}
	return c
}

// stronger has a colour's chroma grow by a part of it.
func stronger(c vector, by float64) vector { return c.plus(vector{0, by * c[1], by * c[2]}) }

// onDay makes the readings of one day.
func (p *madePlant) onDay(g *grown, s, d int, season crop.Season, date crop.Date, photos int, c vector, seen *causes) {
	m := p.made
	c = c.plus(p.axes.of(m.normal(m.day).times(p.restless)))
	used := m.cameras[min(s, len(m.cameras)-1)]
	if m.swap && s >= 2 || m.swap && s == 1 && d > 0 {
		used = []string{"swapped"}
	}
	if p.reference {
		photos = len(used)
	}
	camera := m.source.IntN(len(used))
	for k := range photos {
		if p.reference {
			camera = k
		}
		g.Readings = append(g.Readings, p.photo(used[camera], season, date, c, seen))
	}
}

func (p *madePlant) photo(camera string, season crop.Season, date crop.Date, c vector, seen *causes) Reading {
	m := p.made
	if _, known := p.apparatus[camera]; !known {
		p.apparatus[camera] = p.axes.of(m.normal(m.apparatus))
	}
	r := Reading{Plant: p.id, Season: season, Date: date, Camera: camera, Stage: crop.StageFull, Light: crop.LightShade, Card: "a"}
	session := seen.session(m, string(date)+camera)
	if session.bare {
		r.Card = ""
	}
	y := c.plus(p.axes.of(m.normal(m.head).times(p.restless)))
	if m.source.Float64() < m.odd {
		r.Stage = crop.StageFading
		y = y.plus(p.axes.of(vector{4, -0.2 * frameChroma(p.base), 2})).plus(m.normal(vector{2, 2, 2}))
	}
	if m.source.Float64() < m.lights {
		r.Light = []crop.Light{crop.LightOvercast, crop.LightIndoors, crop.LightSun}[m.source.IntN(3)]
		y = y.plus(seen.light(m, r.Light)).plus(p.answer(r.Light))
	}
	of := seen.camera(m, camera)
	y = stronger(y, of.gain+session.gain).plus(of.by).plus(p.apparatus[camera]).plus(session.by)
	for axis := range 3 {
		r.SE[axis] = 0.4 + 0.8*m.source.Float64()
		y[axis] += r.SE[axis] * max(m.wrong, is2(m.wrong == 0)) * m.noise()
	}
	r.Lab = y.lab()
	return r
}

// answer is how the plant's petals show otherwise in a light than others do.
func (p *madePlant) answer(light crop.Light) vector {
	if _, known := p.answers[light]; !known {
		p.answers[light] = p.made.normal(vector{0.5, 0.5, 0.5})
	}
	return p.answers[light]
}

// madePlant is one plant of a made stand.
type madePlant struct {
	*made
	id        crop.PlantID
	reference bool
	base      vector
	axes      square
	restless  float64 // how many times as much it varies as the stand's plants do
	apparatus map[string]vector
	answers   map[crop.Light]vector
}

// cause is what a camera or a session does to all colours.
type cause struct {
	by   vector
	gain float64 // by which part chroma grows
	bare bool    // without a card
}

// causes are those that were met.
type causes struct {
	sessions, cameras map[string]cause
	lights            map[crop.Light]vector
}

func (c *causes) session(m *made, name string) cause {
	if _, known := c.sessions[name]; !known {
		one := cause{by: m.normal(vector{m.session, m.session, m.session}), gain: m.sessionGain * m.source.NormFloat64()}
		if one.bare = m.source.Float64() < m.bare; one.bare {
			one.by = one.by.plus(m.normal(vector{8, 8, 8}))
		}
		c.sessions[name] = one
	}
	return c.sessions[name]
}

func (c *causes) camera(m *made, name string) cause {
	if _, known := c.cameras[name]; !known {
		c.cameras[name] = cause{by: m.normal(vector{m.camera, m.camera, m.camera}), gain: m.cameraGain * m.source.NormFloat64()}
	}
	return c.cameras[name]
}

func (c *causes) light(m *made, name crop.Light) vector {
	if _, known := c.lights[name]; !known {
		sd := map[crop.Light]float64{crop.LightOvercast: 1, crop.LightIndoors: 4, crop.LightSun: 4}[name]
		c.lights[name] = m.normal(vector{sd, sd, sd})
	}
	return c.lights[name]
}

func frameChroma(c vector) float64 { return math.Hypot(c[1], c[2]) }

func is(b bool) int {
	if b {
		return 1
	}
	return 0
}

func is2(b bool) float64 { return float64(is(b)) }
