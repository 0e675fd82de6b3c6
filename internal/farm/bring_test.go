package farm_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

const farmID = "f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2"

// bringer brings farms as an importer does, again and again.
type bringer struct {
	t           *testing.T
	state, said *changelog.State
	recorder    changelog.Recorder
	wall        int64
}

func newBringer(t *testing.T) *bringer {
	return &bringer{t: t, state: changelog.NewState(), said: changelog.NewState(), recorder: changelog.Recorder{Incarnation: inc}}
}

func (b *bringer) bring(f crop.Farm, assumed bool) farm.Renewal {
	b.t.Helper()
	brought, err := farm.Bring(f, farm.Read(farmID, b.state), uuid.MustParse(inc))
	if err != nil {
		b.t.Fatal(err)
	}
	r := farm.Renew(brought, assumed, b.said, b.state, inc)
	for _, facts := range r.Operations {
		b.wall++
		for _, c := range b.recorder.Operation(b.wall, facts...) {
			if code, why := farm.Check(c, "2026-11-25"); code != "" {
				b.t.Errorf("%s %s would be refused as %s: %s", c.Type, c.Field, code, why)
			}
			b.state.Merge(c, c.Stamp)
			b.said.Merge(c, c.Stamp)
		}
	}
	return r
}

func (b *bringer) stems() int {
	n := 0
	for _, v := range farm.Read(farmID, b.state).Visits {
		n += v.Stems()
	}
	return n
}

func TestBringingTheSameAgainSaysNothing(t *testing.T) {
	b := newBringer(t)
	if len(b.bring(small(), true).Operations) == 0 {
		t.Fatal("the first bringing said nothing")
	}
	if again := b.bring(small(), true); len(again.Operations) != 0 {
		t.Errorf("the second bringing said %v", again.Operations)
	}
}

func TestACorrectedFileReplacesWhatItSaidBefore(t *testing.T) {
	visit := func(f crop.Farm, change func(*crop.Visit)) crop.Farm {
		v := f.Visits["v"]
		v.Counts = slices.Clone(v.Counts)
		change(&v)
		f.Visits["v"] = v
		return f
	}
	tests := []struct {
		name  string
		again crop.Farm
		stems int
	}{
		{"another grade", visit(small(), func(v *crop.Visit) { v.Counts[0].Grade = crop.GradeFirst }), 130},
		{"another length", visit(small(), func(v *crop.Visit) { v.Counts[0].Length = crop.TenCentimetres(60) }), 130},
		{"a row less", visit(small(), func(v *crop.Visit) { v.Counts = v.Counts[:1] }), 127},
		{"another grader", visit(small(), func(v *crop.Visit) { v.Person = "" }), 130},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBringer(t)
			b.bring(small(), false)
			b.bring(tt.again, false)
			if got := b.stems(); got != tt.stems {
				t.Errorf("%d stems, want %d", got, tt.stems)
			}
			b.bring(small(), false)
			if got := b.stems(); got != 130 {
				t.Errorf("with the first file again %d stems, want 130", got)
			}
		})
	}
}

func TestAnotherFileLeavesTheDaysOfTheFirstAlone(t *testing.T) {
	b := newBringer(t)
	b.bring(small(), false)
	later := small()
	later.Visits = map[crop.VisitID]crop.Visit{"w": {ID: "w", Plant: "k", Date: "2026-10-09", Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 5}}}}
	b.bring(later, false)
	if got := b.stems(); got != 135 {
		t.Errorf("%d stems, want those of both files, 135", got)
	}
}

func TestDeclaringCountedPlantsLaterUncountsTheOthers(t *testing.T) {
	b := newBringer(t)
	b.bring(small(), true)
	declared := small()
	k := declared.Plants["k"]
	k.Counted, k.Removed = nil, ""
	declared.Plants["k"] = k
	b.bring(declared, false)
	f := farm.Read(farmID, b.state)
	if f.AssumedCounted {
		t.Error("the farm still says that counted plants were assumed")
	}
	for _, p := range f.Plants {
		if len(p.Counted) > 0 || p.Removed != "" {
			t.Errorf("%s is still counted %v, removed %q", p.Code, p.Counted, p.Removed)
		}
	}
}

func TestWhatThePhoneChangedSinceStays(t *testing.T) {
	b := newBringer(t)
	b.bring(small(), false)
	var bed crop.Bed
	for _, bed = range farm.Read(farmID, b.state).Beds {
	}
	bed.Width = 900
	phone := changelog.Recorder{Incarnation: "5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6"}
	for _, c := range phone.Operation(1_000_000, farm.BedFacts(bed)...) {
		b.state.Merge(c, c.Stamp)
	}
	r := b.bring(small(), false)
	if len(r.Operations) != 0 || r.Differs != 1 {
		t.Errorf("said %v, differs %d; want nothing said and one difference", r.Operations, r.Differs)
	}
}

func TestBringingMeetsWhatIsThereByName(t *testing.T) {
	here := crop.NewFarm()
	here.ID = farmID
	here.Beds["own bed"] = crop.Bed{ID: "own bed", Name: "North"}
	here.Plants["own plant"] = crop.Plant{ID: "own plant", Code: "R4K 7M"}
	brought, err := farm.Bring(small(), here, uuid.MustParse(inc))
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := brought.Beds["own bed"]; !ok {
		t.Error("the bed of the same name became another bed")
	}
	if _, ok := brought.Plants["own plant"]; !ok {
		t.Error("the plant with the same code became another plant")
	}
	for _, v := range brought.Visits {
		if v.Plant != "" && v.Plant != "own plant" || v.Bed != "" && v.Bed != "own bed" {
			t.Errorf("visit %+v points elsewhere", v)
		}
	}
}
