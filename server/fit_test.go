package main

import (
	"context"
	"testing"
	"time"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/httpapi"
	"corymb/server/store"
)

func fitFolder(t *testing.T, data string) ([]httpapi.SpeciesAges, error) {
	t.Helper()
	s, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return fitAges(farm.Read(crop.FarmID(s.Farm()), state), "", nil)
}
