package simnet

import (
	"errors"
	"fmt"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// cellsOf are the count cells that are counted in.
var cellsOf = []string{"extra|500|600", "first|500|600", "out|0|0"}

// unique makes the facts of every change differ from those of any other.
const unique = "note"

// record lets a phone record something that phones record, of a farm so small that they meet.
func (s *sim) record(d *device) {
	if d.phone == nil {
		return
	}
	origins := map[string]syncproto.Origin{}
	facts := s.facts(d, origins)
	for i := range facts {
		s.facted++
		facts[i].Extra = withExtra(facts[i].Extra, unique, syncproto.Int(s.facted))
	}
	s.recordAll(d, origins, facts)
}

// recordAll records facts as one operation.
func (s *sim) recordAll(d *device, origins map[string]syncproto.Origin, facts []changelog.Fact) {
	changes, err := d.phone.Record(d.at(s.now), origins, facts...)
	if err != nil {
		if !errors.Is(err, ErrFull) {
			s.fail("%s cannot record: %v", d.name, err)
		}
		return
	}
	if stamp := changes[0].Stamp; stamp.Compare(d.last) <= 0 {
		s.fail("the clock of %s went from %v to %v", d.name, d.last, stamp)
	}
	d.last = changes[0].Stamp
	s.checkStamp(d)
	d.own = append(d.own, changes...)
	s.trace("%s records %s+%d at %v: %s %s %s", d.name, changes[0].Identity(), len(changes)-1, d.last, facts[0].Op, facts[0].Type, facts[0].Field)
}

func (s *sim) facts(d *device, origins map[string]syncproto.Origin) []changelog.Fact {
	switch n := s.rnd.IntN(100); {
	case n < 45:
		return s.visit(d, origins)
	case n < 60:
		return s.correction(d)
	case n < 72:
		return []changelog.Fact{s.set()}
	case n < 80:
		return []changelog.Fact{s.member()}
	case n < 85:
		return []changelog.Fact{s.withdrawal()}
	case n < 90:
		return []changelog.Fact{s.unknown()}
	case n < 94:
		return s.refusable(d, origins)
	case n < 97:
		return []changelog.Fact{s.set(), s.member(), s.unknown()}
	default:
		return []changelog.Fact{s.scoped()}
	}
}

// visit counts at a plant; the same plant on the same day is the same visit.
func (s *sim) visit(d *device, origins map[string]syncproto.Origin) []changelog.Fact {
	o := syncproto.Origin{
		Namespace: d.disk.kept.Incarnation, Person: d.person, Subject: s.plant(),
		Recorded: fmt.Sprintf("2026-06-%02d", 1+s.rnd.IntN(3)), Purpose: "cut",
	}
	id, _ := o.ID()
	origins[id] = o
	facts := []changelog.Fact{
		field("visit", id, "plant", syncproto.Text(o.Subject)), field("visit", id, "date", syncproto.Text(o.Recorded)),
		field("visit", id, "purpose", syncproto.Text(o.Purpose)),
	}
	for _, cell := range cellsOf[:1+s.rnd.IntN(len(cellsOf))] {
		facts = append(facts, s.count(id, cell, 1+s.rnd.Int64N(9)))
	}
	s.noteVisit(id)
	// Later taps at the same plant are counts alone.
	return facts[s.rnd.IntN(2)*3:]
}

func (s *sim) count(visit, cell string, n int64) changelog.Fact {
	return changelog.Fact{
		Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: visit, Field: cell, Value: syncproto.Int(n),
	}
}

func (s *sim) noteVisit(id string) {
	if len(s.visits) == 0 || s.visits[len(s.visits)-1] != id {
		s.visits = append(s.visits, id)
	}
}

// correction corrects a count that the phone knows, or counts on in an older visit of its own.
func (s *sim) correction(d *device) []changelog.Fact {
	for range min(5, len(s.visits)) {
		id := s.visits[s.rnd.IntN(len(s.visits))]
		entity := d.phone.State().Entity("visit", id)
		if entity == nil || len(entity.Cells()) == 0 {
			continue
		}
		cells := entity.Cells()
		cell := cells[s.rnd.IntN(len(cells))]
		if _, own := d.phone.lastCount(cellAt("visit", id, cell)); own {
			return []changelog.Fact{s.count(id, cell, 1+s.rnd.Int64N(9))}
		}
		count := entity.Count(cell)
		var after []string
		for _, tip := range count.Tips {
			after = append(after, string(tip))
		}
		f := s.count(id, cell, s.rnd.Int64N(5)-2)
		f.Op = syncproto.OpCorrect
		f.Extra = map[string]syncproto.Value{syncproto.ExtraSaw: syncproto.Int(count.Total)}
		if len(after) > 0 {
			f.Extra[syncproto.ExtraAfter] = syncproto.List(after...)
		}
		return []changelog.Fact{f}
	}
	return []changelog.Fact{s.set()}
}

func cellAt(entity, id, field string) cell { return cell{entity, id, field} }

func field(entity, id, name string, v syncproto.Value) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: entity, ID: id, Field: name, Value: v}
}

func (s *sim) plant() string { return uuid.NewSHA1(uuid.Nil, fmt.Append(nil, s.rnd.IntN(4))).String() }

func (s *sim) set() changelog.Fact {
	name := syncproto.Text(fmt.Sprintf("name %d ñ", s.rnd.IntN(1000)))
	if s.rnd.IntN(2) == 0 {
		return field("bed", fmt.Sprint("bed ", s.rnd.IntN(3)), "name", name)
	}
	return field("plant", s.plant(), "code", name)
}

func (s *sim) member() changelog.Fact {
	f := field("plant", s.plant(), "parents", syncproto.Text(s.plant()))
	f.Op = []syncproto.Op{syncproto.OpAdd, syncproto.OpRemove}[s.rnd.IntN(2)]
	return f
}

func (s *sim) withdrawal() changelog.Fact {
	return field("plant", s.plant(), changelog.FieldWithdrawn, syncproto.Int(s.rnd.Int64N(2)))
}

// unknown is of a later version.
func (s *sim) unknown() changelog.Fact {
	f := field("weather", fmt.Sprint("day ", s.rnd.IntN(3)), "rain", syncproto.List("a", s.plant()))
	f.Op = "paint"
	f.Extra = map[string]syncproto.Value{"hue": syncproto.Text("teal"), "layers": syncproto.List("x", "y")}
	return f
}

// refusable is refused with everything in its operation.
func (s *sim) refusable(d *device, origins map[string]syncproto.Origin) []changelog.Fact {
	facts := s.visit(d, origins)
	id := facts[0].ID
	return append(facts, []changelog.Fact{
		field("visit", id, "date", syncproto.Text("2026-02-30")), s.count(id, cellsOf[0], 5_000),
		field("bed", "bed 1", "length", syncproto.Int(-1)),
	}[s.rnd.IntN(3)])
}

// scoped is of the shed or of money, and refused where the person may not write that.
func (s *sim) scoped() changelog.Fact {
	scope := syncproto.Scopes[1+s.rnd.IntN(2)]
	f := field("paper of "+string(scope), fmt.Sprint(s.rnd.IntN(3)), "text", syncproto.Text(fmt.Sprint(s.rnd.IntN(1000))))
	f.Scope = scope
	return f
}

// large records an operation of more than a frame can hold.
func (s *sim) large(d *device) {
	if d.phone == nil {
		return
	}
	facts := make([]changelog.Fact, 2_001+s.rnd.IntN(4_000))
	for i := range facts {
		s.facted++
		facts[i] = field("plant", fmt.Sprint("row ", i%1500), fmt.Sprint("code ", i/1500), syncproto.Text(fmt.Sprint("p", s.facted)))
		facts[i].Extra = map[string]syncproto.Value{unique: syncproto.Int(s.facted)}
	}
	if s.rnd.IntN(4) == 0 {
		bad := &facts[s.rnd.IntN(len(facts))]
		bad.Type, bad.Field, bad.Value = "bed", "length", syncproto.Int(-1)
	}
	s.recordAll(d, nil, facts)
}
