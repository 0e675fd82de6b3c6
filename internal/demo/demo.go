// Package demo grows the made-up farm: a place, stocks, people and three seasons of counts of our
// own invention, and readings of colour, from a fixed seed, told as the changes of three devices. The scenario is written
// for the years 2024 to 2026 and moved to the last three that are over.
package demo

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/syncproto"
)

// seed fixes everything that chance decides here.
const seed = 20_260_319

// Device is one of the made-up farm's phones or tablets and everything it recorded, in order. Each
// operation is to be pushed whole.
type Device struct {
	ID          string
	Incarnation string
	Person      string
	Operations  [][]syncproto.Change
}

// LastSeasonOver is the last season that is over on a day: seasons of this farm end with October.
func LastSeasonOver(today crop.Date) crop.Season {
	if string(today)[5:] < "11-01" {
		return crop.Season(today.Year() - 1)
	}
	return crop.Season(today.Year())
}

// LastSeasonTold is the last season of a farm that was told already, by the first change of its log.
func LastSeasonTold(first syncproto.Change) crop.Season {
	founded := time.UnixMilli(first.Stamp.L).UTC().Year()
	return crop.Season(founded) + 1 + lastSeason - firstSeason
}

// Changes tells the made-up farm under the given farm id, up to the given season.
func Changes(id crop.FarmID, last crop.Season) []Device {
	rnd := rand.New(rand.NewPCG(seed, 1))
	g := &grower{rnd: rnd, farm: crop.NewFarm(), later: int(last - lastSeason)}
	g.farm.ID = id
	g.people()
	g.plantAll()
	g.liveThroughSeasons()
	g.walkAndMark()
	g.measureColours()
	g.tellWeather()
	g.beAsked(g.sell())
	return g.tell()
}

// grower makes up the farm's life.
type grower struct {
	rnd      *rand.Rand
	later    int // years between the scenario and the farm that is told
	farm     crop.Farm
	names    map[string]crop.PersonID
	colours  map[string]crop.ColourID
	vigour   map[crop.PlantID]float64 // a plant's own part of its log rate; it persists
	cuts     []crop.Visit
	standing []crop.PlantID // every plant in planting order
	codes    []string
	marks    []mark
}

// id draws a random UUID (version 4) from the seed.
func (g *grower) id() string { return randomID(g.rnd) }

func randomID(rnd *rand.Rand) string {
	var b [16]byte
	for i := range b {
		b[i] = byte(rnd.UintN(256))
	}
	b[6] = b[6]&0x0f | 0x40
	b[8] = b[8]&0x3f | 0x80
	return uuid.UUID(b).String()
}

// tell turns the farm into the changes of its devices: the owner's phone says what stands where,
// two phones and the shed's tablet what was cut.
func (g *grower) tell() []Device {
	devices := make([]*teller, 0, len(people))
	for _, p := range people {
		devices = append(devices, &teller{device: Device{
			ID: g.id(), Incarnation: g.id(), Person: string(g.names[p]),
		}})
	}
	founded := time.Date(int(firstSeason)-1+g.later, 9, 1, 8, 0, 0, 0, time.UTC)
	ground := g.farm
	ground.Visits = nil
	devices[0].say(founded, farm.FarmFacts(g.farm))
	for _, facts := range farm.Operations(ground) {
		devices[0].say(founded, facts)
	}
	marks := g.marks
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(a.day, b.day) })
	markUntil := func(day crop.Date) {
		for len(marks) > 0 && marks[0].day <= day {
			devices[marks[0].by].say(morningOf(marks[0].day), marks[0].facts)
			marks = marks[1:]
		}
	}
	slices.SortStableFunc(g.cuts, func(a, b crop.Visit) int { return cmp.Compare(a.Date, b.Date) })
	for _, v := range g.cuts {
		i := slices.IndexFunc(devices, func(t *teller) bool { return t.device.Person == string(v.Person) })
		markUntil(v.Date)
		devices[i].visit(v)
	}
	markUntil(onDay(lastSeason+crop.Season(g.later), "12-31"))
	told := make([]Device, len(devices))
	for i, t := range devices {
		told[i] = t.device
	}
	return told
}

// teller is a device while it records.
type teller struct {
	device   Device
	recorder changelog.Recorder
}

func (t *teller) say(at time.Time, facts []changelog.Fact) {
	t.recorder.Incarnation, t.recorder.Person = t.device.Incarnation, t.device.Person
	t.device.Operations = append(t.device.Operations, t.recorder.Operation(at.UnixMilli(), facts...))
}

// visit records a visit as it would have been on its day, a few seconds after the one before.
func (t *teller) visit(v crop.Visit) {
	v.ID = farm.VisitID(uuid.MustParse(t.device.Incarnation), v.Person, farm.SubjectOf(v), v.Date, v.Purpose)
	t.say(morningOf(v.Date), farm.VisitFacts(v))
}

func morningOf(d crop.Date) time.Time {
	day, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		panic(err) // every date here is made from a time
	}
	return day.Add(7 * time.Hour)
}
