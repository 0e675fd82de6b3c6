package forecast

import (
	"encoding/json"
	"testing"
)

func TestTheSameFarmAndDayGiveTheSameAnswerToTheBit(t *testing.T) {
	said := func() string {
		farm := large(60, "2026-05-28")
		for id, plant := range farm.Plants {
			if id < "B0-3" {
				plant.Colour = ""
				farm.Plants[id] = plant
			}
		}
		for id, plant := range twoSpecies().Plants {
			farm.Plants[id] = plant
		}
		for id, planting := range twoSpecies().Plantings {
			farm.Plantings[id], farm.Stocks[planting.Stock] = planting, twoSpecies().Stocks[planting.Stock]
		}
		f, draws, err := of(farm, "2026-05-28")
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal([]any{f, draws.packed("2026-05-29", weeksLeft(farm.Calendar, "2026-05-28"))})
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	if first, second := said(), said(); first != second {
		t.Errorf("first it said\n%.3000s\nand then\n%.3000s", first, second)
	}
}
