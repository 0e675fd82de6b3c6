package certs

import (
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"corymb/server/disk"
)

func newPair(t *testing.T) pair {
	t.Helper()
	p, err := newAuthority([]string{"corymb.local"}, []netip.Prefix{netip.MustParsePrefix("192.168.7.0/24")}, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A power cut between the two must leave the key, whatever the file system does of itself.
func TestTheNameOfAKeyIsOnTheDiskBeforeItsCertificateIs(t *testing.T) {
	dir := t.TempDir()
	var found [][]string
	syncFolder = func(path string) error {
		entries, err := os.ReadDir(path)
		var names []string
		for _, e := range entries {
			names = append(names, e.Name())
		}
		found = append(found, names)
		return err
	}
	t.Cleanup(func() { syncFolder = disk.SyncFolder })
	if err := newPair(t).write(filepath.Join(dir, "a.pem"), filepath.Join(dir, "key.pem")); err != nil {
		t.Fatal(err)
	}
	if want := [][]string{{"key.pem"}, {"a.pem", "key.pem"}}; !slices.EqualFunc(found, want, slices.Equal[[]string]) {
		t.Errorf("synced were %q, want %q", found, want)
	}
}

// With one, the next start would ask for a key that never was.
func TestWithoutItsKeyThereIsNoCertificate(t *testing.T) {
	dir := t.TempDir()
	key := filepath.Join(dir, "key.pem")
	if err := os.MkdirAll(filepath.Join(key, "in the way"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := newPair(t).write(filepath.Join(dir, "a.pem"), key); err == nil {
		t.Error("the key was written over a folder")
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("left are %v (%v)", entries, err)
	}
}
