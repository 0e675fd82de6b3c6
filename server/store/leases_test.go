package store

import (
	"os"
	"path/filepath"
	"testing"

	"corymb/internal/tags"
)

func lease(t *testing.T, s *Store, device string) int {
	t.Helper()
	block, err := s.LeaseCodes(t.Context(), device)
	if err != nil {
		t.Fatal(err)
	}
	return block
}

func TestNoBlockOfCodesIsLeasedTwice(t *testing.T) {
	s := open(t, t.TempDir())
	seen := map[int]bool{}
	for i := range 1_200 { // more than begin with one sign
		block := lease(t, s, []string{"a", "b"}[i%2])
		if seen[block] || block < 0 || block >= tags.Blocks {
			t.Fatalf("lease %d is block %d", i, block)
		}
		seen[block] = true
	}
	firsts := map[int]bool{}
	for block := range seen {
		firsts[block/tags.BlocksPerFirst] = true
	}
	if len(firsts) != 2 {
		t.Errorf("the blocks begin with %d signs, want 2", len(firsts))
	}
}

func TestAFarmPutBackFromAnOlderCopyLeasesNoBlockAgain(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	before := map[int]bool{lease(t, s, "a"): true}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	old, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	s = open(t, dir)
	for range 20 {
		before[lease(t, s, "b")] = true
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}

	other := t.TempDir() // the older copy, on another laptop
	if err := os.WriteFile(filepath.Join(other, FileName), old, 0o600); err != nil {
		t.Fatal(err)
	}
	s = open(t, other)
	for range 200 {
		if block := lease(t, s, "c"); before[block] {
			t.Fatalf("block %d was leased again", block)
		}
	}
}

func TestWhereEverySignHasBegunWhatIsLeftIsLeased(t *testing.T) {
	s := &Store{epoch: "now"}
	var leases []leaseRow
	for block := range tags.Blocks {
		if block != 7_777 {
			leases = append(leases, leaseRow{Block: block, Epoch: "before"})
		}
	}
	if block, ok := s.nextBlock(leases); !ok || block != 7_777 {
		t.Errorf("block %d, %v; want 7777", block, ok)
	}
	if _, ok := s.nextBlock(append(leases, leaseRow{Block: 7_777})); ok {
		t.Error("there is a block though all were given out")
	}
}
