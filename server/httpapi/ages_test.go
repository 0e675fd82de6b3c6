package httpapi_test

import (
	"context"
	"encoding/json"
	"testing"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/yield"
	"corymb/server/httpapi"
	"corymb/server/joining"
)

// deskOf takes everybody for the person of one grant.
type deskOf struct {
	*joining.Desk
	grant access.Grant
}

func (d *deskOf) Who(context.Context, string) (access.Device, access.Grant, error) {
	return access.Device{ID: "d1", Person: d.grant.Person}, d.grant, nil
}

func TestHowOthersGradeIsForTheOwnerAlone(t *testing.T) {
	graders := []yield.Grader{{Person: "ana", Stems: 40}, {Person: "ben", Stems: 60}, {Person: "", Stems: 5}}
	desk := &deskOf{}
	h := handler(t, newGround(), func(c *httpapi.Config) {
		c.Desk = desk
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			return []httpapi.SpeciesAges{
				{Species: "graded", Report: yield.Report{Spread: &yield.Spread{Totals: 3, Graders: graders}}},
				{Species: "without a spread"},
			}, nil
		}
	})
	tests := []struct {
		name  string
		grant access.Grant
		want  []crop.PersonID
	}{
		{"crew see how they grade themselves", access.Grant{Role: access.Crew, Person: "ben"}, []crop.PersonID{"ben"}},
		{"a viewer who once graded too", access.Grant{Role: access.Viewer, Person: "ana"}, []crop.PersonID{"ana"}},
		{"crew who never graded see nobody", access.Grant{Role: access.Crew, Person: "cora"}, nil},
		{"a device of no person sees nobody", access.Grant{Role: access.Crew}, nil},
		{"an owner sees everybody, after others asked", access.Grant{Role: access.Owner, Person: "olga"}, []crop.PersonID{"ana", "ben", ""}},
		{"crew again, after an owner asked", access.Grant{Role: access.Crew, Person: "ana"}, []crop.PersonID{"ana"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			desk.grant = tt.grant
			got := spreadTold(t, call(h, "GET", "/api/ages").Body.Bytes())
			if got.Totals != 3 {
				t.Errorf("the rest of the spread is not told: %+v", got)
			}
			if len(got.Graders) != len(tt.want) {
				t.Fatalf("told of %v, want %v", got.Graders, tt.want)
			}
			for i, person := range tt.want {
				if got.Graders[i].Person != person {
					t.Errorf("told of %q, want %q", got.Graders[i].Person, person)
				}
			}
		})
	}
}

func spreadTold(t *testing.T, body []byte) yield.Spread {
	t.Helper()
	var answer struct {
		Species []struct{ Report yield.Report }
	}
	if err := json.Unmarshal(body, &answer); err != nil || len(answer.Species) != 2 || answer.Species[0].Report.Spread == nil {
		t.Fatalf("%s (%v)", body, err)
	}
	if answer.Species[1].Report.Spread != nil {
		t.Error("a spread was made up where there is none")
	}
	return *answer.Species[0].Report.Spread
}
