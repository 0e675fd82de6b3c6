package farm_test

import (
	"testing"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

const farmID = "f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2"

func TestBringingTheSameAgainSaysNothingNew(t *testing.T) {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: inc}
	bring := func() (said int) {
		brought, err := farm.Bring(small(), farm.Read(farmID, state), uuid.MustParse(inc))
		if err != nil {
			t.Fatal(err)
		}
		for _, facts := range farm.Operations(brought) {
			fresh := state.Unsaid(facts, inc)
			said += len(fresh)
			for _, c := range recorder.Operation(1, fresh...) {
				state.Merge(c, c.Stamp)
			}
		}
		return said
	}
	if bring() == 0 {
		t.Fatal("the first bringing said nothing")
	}
	if again := bring(); again != 0 {
		t.Errorf("the second bringing said %d things", again)
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
