package farm

import (
	"maps"
	"slices"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/syncproto"
)

// Renewal is what a writer that brings a farm again has to say, an operation for each noun.
type Renewal struct {
	Operations [][]changelog.Fact
	// Differs counts what was said before and somebody has changed since: it stays changed.
	Differs int
}

// Renew compares what a writer brings with what it said before. Of the nouns that it brings,
// whatever it does not tell any more is taken back; of the days at a plant or bed that it brings,
// so are visits that it does not tell any more. Nouns and days that it does not bring are left
// alone: they may have come in another file. assumed says that the counted plants were assumed.
func Renew(brought crop.Farm, assumed bool, said, state *changelog.State, writer string) Renewal {
	var r Renewal
	operations := Operations(brought)
	if assumed {
		operations = append(operations, AssumedFacts(brought.ID))
	} else if e := said.Entity(TypeFarm, string(brought.ID)); e != nil && e.Int(FieldAssumed) == 1 {
		declared := entity{scope: syncproto.ScopeField, kind: TypeFarm, id: string(brought.ID)}
		declared.number(FieldAssumed, 0)
		operations = append(operations, declared.facts)
	}
	for _, facts := range operations {
		if facts[0].Type != TypeFarm {
			facts = append(facts, changelog.TakenBack(facts, said, writer)...)
		}
		r.say(facts, said, state, writer)
	}
	for _, facts := range goneVisits(brought, Read(brought.ID, said)) {
		r.say(facts, said, state, writer)
	}
	return r
}

func (r *Renewal) say(facts []changelog.Fact, said, state *changelog.State, writer string) {
	fresh, differs := state.Unsaid(facts, said, writer)
	r.Differs += differs
	if len(fresh) > 0 {
		r.Operations = append(r.Operations, fresh)
	}
}

// spot is a day at a plant, or at a bed as a whole.
type spot struct {
	plant crop.PlantID
	bed   crop.BedID
	day   crop.Date
}

func spotOf(v crop.Visit) spot {
	if v.Plant != "" {
		return spot{plant: v.Plant, day: v.Date}
	}
	return spot{bed: v.Bed, day: v.Date}
}

// goneVisits withdraws the visits that were told before and that the same days do not tell now.
func goneVisits(brought, before crop.Farm) [][]changelog.Fact {
	told := map[spot]bool{}
	for _, v := range brought.Visits {
		told[spotOf(v)] = true
	}
	var operations [][]changelog.Fact
	for _, id := range slices.Sorted(maps.Keys(before.Visits)) {
		v := before.Visits[id]
		if _, still := brought.Visits[id]; still || !told[spotOf(v)] {
			continue
		}
		gone := entity{scope: VisitScope(v.Purpose), kind: TypeVisit, id: string(id)}
		gone.number(changelog.FieldWithdrawn, 1)
		operations = append(operations, gone.facts)
	}
	return operations
}
