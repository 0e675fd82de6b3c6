package backup

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"corymb/server/store"
)

func TestARestoredFarmIsTheFarm(t *testing.T) {
	g := newGround(t)
	made := g.make()
	parent := t.TempDir()
	empty := filepath.Join(parent, "empty")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{filepath.Join(parent, "a", "farm"), empty} {
		m, err := Restore(context.Background(), made.Path, dir, g.clock.now)
		if err != nil {
			t.Fatal(err)
		}
		if m.Arrival != 21 || m.Farm != g.farm.Farm() {
			t.Errorf("restored %+v", m)
		}
		files := filesIn(t, dir)
		if len(files) != len(m.Files) {
			t.Errorf("%d files, want %d", len(files), len(m.Files))
		}
		for name, text := range filesIn(t, g.farm.Dir()) {
			if there, ok := files[name]; ok && name != store.FileName && there != text {
				t.Errorf("%s differs", name)
			}
		}
		checkModes(t, dir)
		s := g.openFarm(dir)
		if !s.Restored() || s.Epoch() == g.farm.Epoch() || s.Farm() != g.farm.Farm() || s.Newest() != 21 {
			t.Errorf("opened it is restored: %v, of epoch %s after %s, with %d changes", s.Restored(), s.Epoch(), g.farm.Epoch(), s.Newest())
		}
	}
	if entries, err := os.ReadDir(parent); err != nil || len(entries) != 2 {
		t.Errorf("beside it lie %v (%v)", entries, err)
	}
}

// checkModes finds everything for its owner alone: there are keys.
func checkModes(t *testing.T, dir string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err == nil && info.Mode().Perm()&0o077 != 0 && runtime.GOOS != "windows" {
			t.Errorf("%s has mode %v", path, info.Mode())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestARestoreNeverWritesOverAnything(t *testing.T) {
	g := newGround(t)
	made := g.make()
	parent := t.TempDir()
	full, left := filepath.Join(parent, "full"), filepath.Join(parent, "left")
	for _, path := range []string{filepath.Join(full, "x"), filepath.Join(left+".partial", "x")} {
		if err := os.MkdirAll(path, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	tests := []struct{ name, dir, says string }{
		{"a folder that holds something", full, "is not empty"},
		{"the farm itself", g.farm.Dir(), "move it away"},
		{"a file", made.Path, "name an empty folder"},
		{"a folder where an earlier restore was broken off", left, "broken off"},
	}
	before := filesIn(t, g.farm.Dir())
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Restore(context.Background(), made.Path, tt.dir, g.clock.now); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v", err)
			}
		})
	}
	if entries, err := os.ReadDir(parent); err != nil || len(entries) != 2 || len(filesIn(t, g.farm.Dir())) != len(before) {
		t.Errorf("something was written: %v (%v)", entries, err)
	}
}

// One bit anywhere, or an end that is missing, or one that is too much.
func TestAnyDamageIsNoticed(t *testing.T) {
	const seed = 20_261_129
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	g := newGround(t)
	whole, err := os.ReadFile(g.make().Path)
	if err != nil {
		t.Fatal(err)
	}
	damages := map[string]func() []byte{
		"a bit": func() []byte {
			at := rnd.IntN(8 * len(whole))
			damaged := bytes.Clone(whole)
			damaged[at/8] ^= 1 << (at % 8)
			return damaged
		},
		"a bit of the last 2,000 bytes": func() []byte {
			at := 8*(len(whole)-2000) + rnd.IntN(8*2000)
			damaged := bytes.Clone(whole)
			damaged[at/8] ^= 1 << (at % 8)
			return damaged
		},
		"an end that is missing": func() []byte { return whole[:rnd.IntN(len(whole))] },
		"bytes after the end":    func() []byte { return append(bytes.Clone(whole), make([]byte, 1+rnd.IntN(100))...) },
		"a hole of zeros": func() []byte {
			damaged := bytes.Clone(whole)
			from := rnd.IntN(len(whole) - 1000)
			clear(damaged[from : from+1000])
			return damaged
		},
	}
	dir := t.TempDir()
	for name, damage := range damages {
		t.Run(name, func(t *testing.T) {
			for range 150 {
				damaged := damage()
				if bytes.Equal(damaged, whole) {
					continue // the hole was one
				}
				expectNotRestored(t, dir, damaged)
			}
		})
	}
}

// expectNotRestored finds bytes refused as a backup, and nothing written.
func expectNotRestored(t *testing.T, dir string, bytes []byte, says ...string) {
	t.Helper()
	path := filepath.Join(dir, "corymb-x-2026-11-29-0300.zip")
	if err := os.WriteFile(path, bytes, 0o600); err != nil {
		t.Fatal(err)
	}
	_, verified := Verify(context.Background(), path, (&clock{at: night}).now)
	_, restored := Restore(context.Background(), path, filepath.Join(dir, "farm"), (&clock{at: night}).now)
	for _, err := range []error{verified, restored} {
		if codeOf(err) != CodeBad {
			t.Errorf("%v", err)
			continue
		}
		for _, words := range says {
			if !strings.Contains(err.Error(), words) {
				t.Errorf("%v, want %q", err, words)
			}
		}
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("something was written: %v (%v)", entries, err)
	}
}

// packed is a backup made by somebody who means harm: its seal is right, what it holds is not.
func packed(t *testing.T, m Manifest, files ...packedFile) []byte {
	t.Helper()
	var b bytes.Buffer
	seal := newSealing(&b)
	z := zip.NewWriter(seal)
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range append(files, packedFile{manifestName, string(text)}) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Store})
		if err == nil {
			_, err = w.Write([]byte(f.text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.SetComment(sealComment()); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if err := seal.seal(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

type packedFile struct{ name, text string }

func (f packedFile) entry() Entry {
	sum := sha256.Sum256([]byte(f.text))
	return Entry{Name: f.name, Size: int64(len(f.text)), SHA256: hex.EncodeToString(sum[:])}
}

func TestABackupThatMeansHarmIsRefused(t *testing.T) {
	database := packedFile{store.FileName, "?"}
	photo := packedFile{"photos/ab/" + strings.Repeat("ab", 32), "?"}
	holding := func(files ...packedFile) Manifest {
		m := Manifest{Format: 1, Farm: "f1"}
		for _, f := range files {
			m.Files = append(m.Files, f.entry())
		}
		return m
	}
	type harm struct {
		name string
		m    Manifest
		in   []packedFile
		says string
	}
	tests := []harm{
		{"a file that its manifest does not name", holding(database), []packedFile{database, photo}, "1 files more"},
		{"a file that is not there", holding(database, photo), []packedFile{database}, "is not in it"},
		{"a file twice", holding(database), []packedFile{database, database}, "twice"},
		{"a file that is named twice", holding(database, database), []packedFile{database}, "twice"},
		{"two files that are one on some systems", holding(database, packedFile{"A.json", ""}, packedFile{"a.json", ""}),
			[]packedFile{database, {"A.json", ""}, {"a.json", ""}}, "twice"},
		{"other bytes", holding(database), []packedFile{{store.FileName, "!"}}, "is not what it was"},
		{"more bytes than it says", holding(database), []packedFile{{store.FileName, strings.Repeat("?", 1<<20)}}, "has 1048576 bytes, not 1"},
		{"no database", holding(photo), []packedFile{photo}, "does not hold a farm's database"},
		{"no farm", Manifest{Format: 1, Files: []Entry{database.entry()}}, []packedFile{database}, "does not hold a farm's database"},
		{"a later format", Manifest{Format: 2, Farm: "f1"}, nil, "newer version"},
		{"no format", Manifest{Farm: "f1"}, nil, "not that of a backup"},
		{"a negative size", Manifest{Format: 1, Farm: "f1", Files: []Entry{{store.FileName, -1, database.entry().SHA256}}}, []packedFile{database}, "does not say what"},
		{"no hash", Manifest{Format: 1, Farm: "f1", Files: []Entry{{store.FileName, 1, ""}}}, []packedFile{database}, "does not say what"},
	}
	for _, name := range []string{
		"../corymb.db", "photos/../../x", "/etc/passwd", `..\x`, `C:\x`, "C:x", "//host/x", "x/y", "photos/ab/x", "photos/zz/" + strings.Repeat("ab", 32), "photos/unnamed/" + strings.Repeat("ab", 32), "removed/" + strings.Repeat("ab", 32),
		"certs/../x", "certs/a/b/c", "certs//x", "./x", "", ".", "..", "x\x00y", "x\ny", "corymb.mark", "corymb.lock", "corymb.db-wal", "backup.json",
		"photos", "certs", "x.partial", "é", " x", "x.", "photos/ab/" + strings.Repeat("AB", 32),
	} {
		f := packedFile{name, "?"}
		tests = append(tests, harm{"the name " + name, holding(database, f), []packedFile{database, f}, "no file of a farm"})
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { expectNotRestored(t, t.TempDir(), packed(t, tt.m, tt.in...), tt.says) })
	}
}

// A file that is a good backup but for its database.
func TestABackupOfSomethingElseIsNotRestored(t *testing.T) {
	g := newGround(t)
	files := map[string]func() []byte{
		"no database at all": func() []byte {
			f := packedFile{store.FileName, strings.Repeat("?", 4096)}
			return packed(t, Manifest{Format: 1, Farm: "f1", Files: []Entry{f.entry()}}, f)
		},
		"the database of another farm": func() []byte {
			path := filepath.Join(t.TempDir(), store.FileName)
			if _, err := g.farm.CopyTo(context.Background(), path); err != nil {
				t.Fatal(err)
			}
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			f := packedFile{store.FileName, string(text)}
			return packed(t, Manifest{Format: 1, Farm: "f1", Arrival: 21, Files: []Entry{f.entry()}}, f)
		},
	}
	for name, make := range files {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "x.zip")
			if err := os.WriteFile(path, make(), 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := Restore(context.Background(), path, filepath.Join(dir, "farm"), g.clock.now)
			if code := codeOf(err); !slices.Contains([]Code{CodeBad, CodeFaults}, code) {
				t.Errorf("%v", err)
			}
			if files := filesIn(t, dir); len(files) != 1 {
				t.Errorf("%d files are left", len(files))
			}
		})
	}
}

func TestVerifyingTellsWhatABackupHolds(t *testing.T) {
	g := newGround(t)
	v, err := Verify(context.Background(), g.make().Path, g.clock.now)
	if err != nil || v.Arrival != 21 || v.Log.Changes != 21 || v.Name != "Larkfield Ñandú & Co." {
		t.Errorf("%+v (%v)", v, err)
	}
}

// More files than a ZIP without its 64-bit extension can hold.
func TestMoreFilesThanAnOldZIPHolds(t *testing.T) {
	const many = 1<<16 + 10
	files := make([]packedFile, many)
	m := Manifest{Format: 1, Farm: "f1"}
	for i := range files {
		files[i] = packedFile{name: photoOf(i)}
		m.Files = append(m.Files, files[i].entry())
	}
	files[0].name, m.Files[0].Name = store.FileName, store.FileName
	path := filepath.Join(t.TempDir(), "x.zip")
	if err := os.WriteFile(path, packed(t, m, files...), 0o600); err != nil {
		t.Fatal(err)
	}
	a, err := open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	if len(a.Manifest.Files) != many {
		t.Errorf("%d files, want %d", len(a.Manifest.Files), many)
	}
}

func photoOf(i int) string {
	sum := sha256.Sum256([]byte{byte(i), byte(i >> 8), byte(i >> 16)})
	digest := hex.EncodeToString(sum[:])
	return "photos/" + digest[:2] + "/" + digest
}
