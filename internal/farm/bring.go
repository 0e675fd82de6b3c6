package farm

import (
	"fmt"
	"maps"
	"slices"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

// Bring gives the nouns of a farm that was read from elsewhere the ids of this farm: those of the
// noun with the same name where there is one, else an id derived from the farm and the name, so
// that bringing the same again meets itself. Plants are the same by code, plantings by stock, bed
// and date. Visits become those of the given incarnation.
func Bring(incoming, here crop.Farm, incarnation uuid.UUID) (crop.Farm, error) {
	space, err := uuid.Parse(string(here.ID))
	if err != nil {
		return crop.Farm{}, fmt.Errorf("bringing records into farm %q: its id is not a UUID: %w", here.ID, err)
	}
	b := bringing{
		space: space, incarnation: incarnation, here: here, out: crop.NewFarm(),
		people: map[crop.PersonID]crop.PersonID{}, colours: map[crop.ColourID]crop.ColourID{},
		beds: map[crop.BedID]crop.BedID{}, stocks: map[crop.StockID]crop.StockID{},
		plantings: map[crop.PlantingID]crop.PlantingID{}, plants: map[crop.PlantID]crop.PlantID{},
	}
	b.out.ID = here.ID
	b.names(incoming)
	b.ground(incoming)
	for _, v := range incoming.Visits {
		b.visit(v)
	}
	return b.out, nil
}

type bringing struct {
	space       uuid.UUID
	incarnation uuid.UUID
	here        crop.Farm
	out         crop.Farm
	people      map[crop.PersonID]crop.PersonID
	colours     map[crop.ColourID]crop.ColourID
	beds        map[crop.BedID]crop.BedID
	stocks      map[crop.StockID]crop.StockID
	plantings   map[crop.PlantingID]crop.PlantingID
	plants      map[crop.PlantID]crop.PlantID
}

func derived[ID ~string](b *bringing, kind, name string) ID {
	return ID(uuid.NewSHA1(b.space, []byte(kind+"\n"+name)).String())
}

// resolve finds the id of the noun here that is the same, else derives one.
func resolve[ID ~string, T any](b *bringing, kind, name string, here map[ID]T, same func(T) bool) ID {
	for _, id := range slices.Sorted(maps.Keys(here)) {
		if same(here[id]) {
			return id
		}
	}
	return derived[ID](b, kind, name)
}

func (b *bringing) names(in crop.Farm) {
	for old, p := range in.People {
		p.ID = resolve(b, TypePerson, p.Name, b.here.People, func(o crop.Person) bool { return o.Name == p.Name })
		b.people[old], b.out.People[p.ID] = p.ID, p
	}
	for old, c := range in.Colours {
		c.ID = resolve(b, TypeColour, c.Name, b.here.Colours, func(o crop.Colour) bool { return o.Name == c.Name })
		b.colours[old], b.out.Colours[c.ID] = c.ID, c
	}
	for old, bed := range in.Beds {
		bed.ID = resolve(b, TypeBed, bed.Name, b.here.Beds, func(o crop.Bed) bool { return o.Name == bed.Name })
		b.beds[old], b.out.Beds[bed.ID] = bed.ID, bed
	}
	for old, s := range in.Stocks {
		s.ID = resolve(b, TypeStock, s.Name, b.here.Stocks, func(o crop.Stock) bool { return o.Name == s.Name })
		b.stocks[old], b.out.Stocks[s.ID] = s.ID, s
	}
}

func (b *bringing) ground(in crop.Farm) {
	for old, p := range in.Plantings {
		p.Stock, p.Bed = b.stocks[p.Stock], b.beds[p.Bed]
		name := string(p.Stock) + "\n" + string(p.Bed) + "\n" + string(p.Planted)
		p.ID = resolve(b, TypePlanting, name, b.here.Plantings, func(o crop.Planting) bool {
			return o.Stock == p.Stock && o.Bed == p.Bed && o.Planted == p.Planted
		})
		b.plantings[old], b.out.Plantings[p.ID] = p.ID, p
	}
	byCode := map[string]crop.PlantID{}
	for id, p := range b.here.Plants {
		byCode[p.Code] = id
	}
	for old, p := range in.Plants {
		id, known := byCode[p.Code]
		if !known {
			id = derived[crop.PlantID](b, TypePlant, p.Code)
		}
		b.plants[old] = id
	}
	for old, p := range in.Plants {
		p.ID, p.Planting, p.Colour = b.plants[old], b.plantings[p.Planting], b.colours[p.Colour]
		p.Parents = slices.Clone(p.Parents)
		for i, parent := range p.Parents {
			p.Parents[i] = b.plants[parent]
		}
		b.out.Plants[p.ID] = p
	}
}

func (b *bringing) visit(v crop.Visit) {
	v.Plant, v.Bed = b.plants[v.Plant], b.beds[v.Bed]
	v.Planting, v.Person = b.plantings[v.Planting], b.people[v.Person]
	counts := slices.Clone(v.Counts)
	for i := range counts {
		counts[i].Colour = b.colours[counts[i].Colour]
	}
	v.Counts = counts
	v.ID = VisitID(b.incarnation, v.Person, SubjectOf(v), v.Date, v.Purpose)
	b.out.Visits[v.ID] = v
}

// SubjectOf is what a visit's id is derived from: the plant, else the planting, else the bed, with
// the age where a bench total was narrowed to one without naming its planting.
func SubjectOf(v crop.Visit) string {
	switch {
	case v.Plant != "":
		return string(v.Plant)
	case v.Planting != "":
		return string(v.Planting)
	case v.Age > 0:
		return fmt.Sprintf("%s#%d", v.Bed, v.Age)
	default:
		return string(v.Bed)
	}
}

// Operations says a whole farm as facts, an operation for each noun, so that what belongs together
// is kept or refused together. What others point to comes first.
func Operations(f crop.Farm) [][]changelog.Fact {
	var ops [][]changelog.Fact
	ops = append(ops, each(f.People, PersonFacts)...)
	ops = append(ops, each(f.Colours, ColourFacts)...)
	ops = append(ops, each(f.Beds, BedFacts)...)
	ops = append(ops, each(f.Stocks, StockFacts)...)
	ops = append(ops, each(f.Plantings, PlantingFacts)...)
	ops = append(ops, each(f.Plants, PlantFacts)...)
	return append(ops, each(f.Visits, VisitFacts)...)
}

func each[ID ~string, T any](nouns map[ID]T, facts func(T) []changelog.Fact) [][]changelog.Fact {
	var ops [][]changelog.Fact
	for _, id := range slices.Sorted(maps.Keys(nouns)) {
		ops = append(ops, facts(nouns[id]))
	}
	return ops
}
