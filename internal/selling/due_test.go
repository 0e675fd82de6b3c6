package selling_test

import (
	"encoding/json"
	"os"
	"slices"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

func TestAStandingOrderComesOnItsDays(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/sales.json")
	if err != nil {
		t.Fatal(err)
	}
	var vectors struct {
		Standings []struct {
			Name, Since, Last, Days, From, To string
			Every                             int
			Skips, Want                       []crop.Date
		}
	}
	if err := json.Unmarshal(data, &vectors); err != nil || len(vectors.Standings) == 0 {
		t.Fatal(err, "or no standing orders")
	}
	for _, v := range vectors.Standings {
		s := crop.NewSales()
		s.Standings["s"] = crop.StandingOrder{
			ID: "s", Buyer: "b", From: crop.Date(v.Since), Until: crop.Date(v.Last), Days: crop.Weekdays(v.Days), Every: v.Every, Skips: v.Skips,
		}
		got := []crop.Date{}
		for _, due := range selling.DueBetween(s, crop.Date(v.From), crop.Date(v.To)) {
			got = append(got, due.Day)
		}
		if !slices.Equal(got, v.Want) {
			t.Errorf("%s: %v, want %v", v.Name, got, v.Want)
		}
	}
}

func TestAnOrderThatWasWrittenStandsInPlaceOfTheStandingOrders(t *testing.T) {
	s := crop.NewSales()
	s.Buyers["z"] = crop.Buyer{ID: "z", Name: "Aster & Co"}
	s.Gone.Buyers["b"] = crop.Buyer{ID: "b", Name: "Studio"}
	s.Standings["s"] = crop.StandingOrder{ID: "s", Buyer: "b", From: "2026-06-01", Days: "1", Every: 1}
	s.Lines["l"] = crop.Line{ID: "l", Standing: "s", Bunches: 3, Stems: 10}
	s.Orders["s@2026-06-08"] = crop.Order{ID: "s@2026-06-08", Buyer: "b", Due: "2026-06-08"}
	s.Lines["l@2026-06-08"] = crop.Line{ID: "l@2026-06-08", Order: "s@2026-06-08", Bunches: 7, Stems: 10}
	s.Orders["a"] = crop.Order{ID: "a", Buyer: "z", Due: "2026-06-01"}
	due := selling.DueBetween(s, "2026-06-01", "2026-06-10")
	if len(due) != 3 || due[0].Order != "a" || due[1].Order != "s@2026-06-01" || due[2].Order != "s@2026-06-08" {
		t.Fatalf("due are %+v", due)
	}
	if line := due[1].Lines[0]; line.ID != "l@2026-06-01" || line.Order != "s@2026-06-01" || line.Standing != "" || line.Bunches != 3 {
		t.Errorf("the standing order's line is %+v", line)
	}
	if line := due[2].Lines[0]; line.Bunches != 7 {
		t.Errorf("the written order's line is %+v", line)
	}
	ended := s.Standings["s"]
	ended.Until = "2026-06-07"
	s.Standings["s"] = ended
	if left, ok := selling.DueOf(s, "s@2026-06-08"); !ok || len(left.Lines) != 1 || left.Lines[0].ID != "l@2026-06-08" {
		t.Errorf("once the standing order has ended, the written one is %+v", left)
	}
	if due[0].Promised("2026-06-01") || !due[0].Promised("2026-05-31") {
		t.Error("an order is promised until the day on which it is due")
	}
}

func TestOrdersCloseAtTheChannelsCutoff(t *testing.T) {
	for _, c := range []struct {
		name    string
		channel crop.Channel
		want    string
	}{
		{"never where none is named", crop.Channel{}, ""},
		{"two days before, in the evening", crop.Channel{CutoffDays: 2, CutoffTime: "18:30"}, "2026-06-02 18:30"},
		{"on the day itself", crop.Channel{CutoffTime: "05:00"}, "2026-06-04 05:00"},
		{"at the end of the day where no time is named", crop.Channel{CutoffDays: 1}, "2026-06-03 23:59"},
	} {
		at, ok := selling.Cutoff(c.channel, "2026-06-04", time.UTC)
		if got := at.Format("2006-01-02 15:04"); ok != (c.want != "") || ok && got != c.want {
			t.Errorf("%s: %s, want %q", c.name, got, c.want)
		}
	}
}

func TestALinesIdTellsItsStandingOrder(t *testing.T) {
	if id, day, ok := selling.OfStanding("a@b@2026-06-04"); !ok || id != "a@b" || day != "2026-06-04" {
		t.Error(id, day, ok)
	}
	if _, _, ok := selling.OfStanding("a@2026-06-31"); ok {
		t.Error("a day that there is not was taken for one")
	}
}
