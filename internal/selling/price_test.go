package selling_test

import (
	"encoding/json"
	"os"
	"slices"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

type priceVectors struct {
	Lists []struct {
		ID, Channel, Buyer, Colour, Bunch, Since string
		Cents                                    crop.Cents
	}
	Quotes []struct {
		Name, Buyer, Bunch, Due, Price string
		Colours, Without               []crop.ColourID
		Cents                          crop.Cents
		Several                        bool
	}
	Floors []struct {
		Name         string
		Cents, Floor crop.Cents
		Stems        int
		Below        bool
	}
}

func readPriceVectors(t *testing.T) priceVectors {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/sales.json")
	if err != nil {
		t.Fatal(err)
	}
	var v priceVectors
	if err := json.Unmarshal(data, &v); err != nil || len(v.Lists) == 0 || len(v.Quotes) == 0 || len(v.Floors) == 0 {
		t.Fatal(err, "or no prices, quotes or floors")
	}
	return v
}

func TestABunchIsLookedUpInThePriceLists(t *testing.T) {
	v := readPriceVectors(t)
	s := crop.NewSales()
	for _, id := range []crop.BuyerID{"cafe", "studio"} {
		s.Buyers[id] = crop.Buyer{ID: id, Channel: "ch"}
	}
	s.Buyers["stray"] = crop.Buyer{ID: "stray"}
	s.Gone.Buyers["gone"] = crop.Buyer{ID: "gone", Channel: "ch"}
	for _, p := range v.Lists {
		s.Prices[crop.PriceID(p.ID)] = crop.Price{
			ID: crop.PriceID(p.ID), Channel: crop.ChannelID(p.Channel), Buyer: crop.BuyerID(p.Buyer), Colour: crop.ColourID(p.Colour),
			Bunch: crop.BunchID(p.Bunch), From: crop.Date(p.Since), Cents: p.Cents,
		}
	}
	for _, q := range v.Quotes {
		line := crop.Line{Bunch: crop.BunchID(q.Bunch), Colours: q.Colours}
		got, ok := selling.PriceOf(s, crop.BuyerID(q.Buyer), line.Bunch, q.Colours, crop.Date(q.Due))
		if ok != (q.Price != "") || string(got.Price) != q.Price || got.Cents != q.Cents || got.Several != q.Several || !slices.Equal(got.Without, q.Without) {
			t.Errorf("%s: %+v, %v", q.Name, got, ok)
		}
		if cents := selling.LinePrice(s, crop.BuyerID(q.Buyer), line, crop.Date(q.Due)); cents != q.Cents {
			t.Errorf("%s: a line goes for %d", q.Name, cents)
		}
	}
	if cents := selling.LinePrice(s, "cafe", crop.Line{Bunch: "ten", Price: 7}, "2026-06-03"); cents != 7 {
		t.Errorf("an agreed price gave way to the list's %d", cents)
	}
}

func TestAPriceIsHeldAgainstTheFloorInWholeCents(t *testing.T) {
	for _, v := range readPriceVectors(t).Floors {
		if got := selling.BelowFloor(v.Cents, v.Floor, v.Stems); got != v.Below {
			t.Errorf("%s: below the floor %v", v.Name, got)
		}
	}
	c := crop.Channel{Floor: map[crop.Grade]crop.Cents{crop.GradeSecond: 20, crop.GradeExtra: 60}}
	for grade, want := range map[crop.Grade]crop.Cents{"": 20, crop.GradeSecond: 20, crop.GradeFirst: 0, crop.GradeExtra: 60} {
		if got := selling.FloorOf(c, grade); got != want {
			t.Errorf("the floor of %q is %d, want %d", grade, got, want)
		}
	}
}
