package backup

import (
	"archive/zip"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"corymb/server/store"
)

func TestABackupHoldsTheFarmAndNothingOfThisMachine(t *testing.T) {
	g := newGround(t)
	g.put("photos/unfinished/ab12", "half of one")
	g.put("photos/ab/ab12.partial", "half of one")
	g.put("photos/note.txt", "?")
	g.put("certs/new-123", "half of one")
	g.put("backup.json", "{}")
	g.put("corymb.answer-ages", "{}")
	g.put("corymb.address", "http://127.0.0.1:8420")
	g.put("demo/corymb.db", "another farm's")
	g.put("a file with spaces", "?")
	g.put("huge.csv", strings.Repeat("x", mostSettings+1))
	made := g.make()
	if name := filepath.Base(made.Path); name != "corymb-larkfield-nandu-co-2026-11-29-0300.zip" {
		t.Errorf("it is called %s", name)
	}
	var names []string
	for _, e := range made.Manifest.Files {
		names = append(names, e.Name)
	}
	slices.Sort(names)
	want := []string{"certs/authority-key.pem", "certs/authority.pem", "corymb.db", "names.json"}
	for name := range filesIn(t, filepath.Join(g.farm.Dir(), "photos")) {
		if len(name) == 2+1+64 {
			want = append(want, "photos/"+name)
		}
	}
	slices.Sort(want)
	if len(want) != 7 || !slices.Equal(names, want) {
		t.Errorf("it holds %q, want %q", names, want)
	}
	slices.Sort(made.Manifest.LeftOut)
	if left := []string{"a file with spaces", "demo", "huge.csv"}; !slices.Equal(made.Manifest.LeftOut, left) {
		t.Errorf("it says that %q are left out, want %q", made.Manifest.LeftOut, left)
	}
	m := made.Manifest
	if m.Farm != g.farm.Farm() || m.Name != "Larkfield Ñandú & Co." || m.Arrival != 21 || m.Epoch != g.farm.Epoch() ||
		m.Life != g.farm.Life() || !m.Made.Equal(night) || m.Version != "v1" {
		t.Errorf("its manifest is %+v", m)
	}
	if info, err := os.Stat(made.Path); err != nil || info.Mode().Perm() != 0o600 || info.Size() != made.Size {
		t.Errorf("%v (%v)", info, err)
	}
	for _, dir := range []string{g.folder, g.farm.Dir()} {
		for name := range filesIn(t, dir) {
			if strings.HasPrefix(name, scratchName) || strings.HasSuffix(name, ".zip.partial") {
				t.Errorf("%s is left in %s", name, dir)
			}
		}
	}
}

// What a backup holds is there for whoever has another program that reads ZIP files: Go's own reads it
// without our help, as do Info-ZIP and Python (tried by hand).
func TestABackupIsAnOrdinaryZIPFile(t *testing.T) {
	g := newGround(t)
	z, err := zip.OpenReader(g.make().Path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, name := range []string{"manifest.json", "names.json"} {
		text, err := fs.ReadFile(z, name)
		if err != nil || !strings.Contains(string(text), `"`) {
			t.Errorf("%s reads %q (%v)", name, text, err)
		}
	}
	for _, f := range z.File {
		if stored := strings.HasPrefix(f.Name, "photos/"); stored != (f.Method == zip.Store) {
			t.Errorf("%s is packed by method %d", f.Name, f.Method)
		}
	}
}

func TestWhatCannotBeABackupFolderIsRefusedWithASentence(t *testing.T) {
	g := newGround(t)
	data := g.farm.Dir()
	link := filepath.Join(t.TempDir(), "link")
	inside := filepath.Join(data, "photos")
	if err := os.Symlink(inside, link); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(g.folder, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, folder string
		code         Code
		says         string
	}{
		{"a folder that is not there", filepath.Join(g.folder, "usb", "corymb"), CodeNoFolder, "not plugged in"},
		{"a file", file, CodeNoFolder, "is not there"},
		{"the data folder", data, CodeInside, "would be lost with it"},
		{"a folder in the data folder", inside, CodeInside, "would be lost with it"},
		{"a link to a folder in the data folder", link, CodeInside, "would be lost with it"},
	}
	before := filesIn(t, data)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := g.making()
			m.Folder = tt.folder
			_, err := Make(context.Background(), m)
			if codeOf(err) != tt.code || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v", err)
			}
		})
	}
	if len(filesIn(t, data)) != len(before) || len(filesIn(t, g.folder)) != 1 {
		t.Error("something was written")
	}
	if _, err := os.Stat(filepath.Join(g.folder, "usb")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder was made: %v", err)
	}
}

func TestADamagedPhotoIsKeptAsItIsAndNamed(t *testing.T) {
	g := newGround(t)
	name := g.putPhoto("a head")
	g.put(name, "a he?d")
	made := g.make()
	if !slices.Equal(made.Manifest.Damaged, []string{name}) {
		t.Errorf("damaged: %q, want %s", made.Manifest.Damaged, name)
	}
	dir := filepath.Join(t.TempDir(), "farm")
	if _, err := Restore(context.Background(), made.Path, dir, g.clock.now); err != nil {
		t.Fatal(err)
	}
	if filesIn(t, dir)[name] != "a he?d" {
		t.Error("it is not as it was found")
	}
}

// A backup of a database with faults is better than none, and does not count as one.
func TestADatabaseWithFaultsMakesNoGoodBackup(t *testing.T) {
	g := newGround(t)
	good := g.make().Path
	g.spoil("UPDATE incarnations SET hash = zeroblob(32)")
	for range 2 {
		g.clock.pass(400 * 24 * 60 * 60e9) // by far: nothing would be kept but for it
		_, err := Make(context.Background(), g.making())
		if codeOf(err) != CodeFaults || !strings.Contains(err.Error(), "chain value") || !strings.Contains(err.Error(), "verify") {
			t.Errorf("%v", err)
		}
	}
	files := filesIn(t, g.folder)
	if len(files) != 2 || files[filepath.Base(good)] == "" || files["corymb-larkfield-nandu-co-with-faults.zip"] == "" {
		t.Errorf("the folder holds %d files, want the good one and one with faults", len(files))
	}
	if listed, err := List(g.folder, g.farm.Farm()); err != nil || len(listed) != 1 {
		t.Errorf("%d count as backups (%v)", len(listed), err)
	}
}

// spoil alters the farm's database from outside.
func (g *ground) spoil(text string) {
	g.t.Helper()
	if err := execute(filepath.Join(g.farm.Dir(), store.FileName), text); err != nil {
		g.t.Fatal(err)
	}
}

func TestABackupThatIsCalledOffLeavesNothing(t *testing.T) {
	g := newGround(t)
	before := filesIn(t, g.farm.Dir())
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Make(ctx, g.making()); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if files := filesIn(t, g.folder); len(files) != 0 || len(filesIn(t, g.farm.Dir())) != len(before) {
		t.Errorf("it left %d files", len(files))
	}
}

// What a killed program left is replaced, and is none.
func TestWhatAKilledProgramLeftIsReplaced(t *testing.T) {
	g := newGround(t)
	left := filepath.Join(g.folder, unfinishedName(g.farm))
	if err := os.WriteFile(left, []byte("half a backup"), 0o600); err != nil {
		t.Fatal(err)
	}
	g.put(scratchName+"/"+store.FileName, "half a copy")
	if listed, err := List(g.folder, g.farm.Farm()); err != nil || len(listed) != 0 {
		t.Errorf("%d are listed (%v)", len(listed), err)
	}
	g.make()
	if files := filesIn(t, g.folder); len(files) != 1 {
		t.Errorf("the folder holds %d files, want the backup", len(files))
	}
}

func TestTwoBackupsInAMinuteHaveNamesOfTheirOwn(t *testing.T) {
	g := newGround(t)
	first := g.make()
	g.clock.pass(1e9)
	second := g.make()
	if second.Path != strings.TrimSuffix(first.Path, ".zip")+"-2.zip" || !slices.Equal(second.Dropped, []string{first.Path}) {
		t.Errorf("%s after %s, dropped %v: the last of a day is kept", second.Path, first.Path, second.Dropped)
	}
}

// Only what is named like a backup and is one of this farm is ever deleted, and never what was just made.
func TestOnlyTheFarmsOwnBackupsAreDeleted(t *testing.T) {
	g, other := newGround(t), newGround(t)
	other.folder = g.folder
	other.clock.pass(-1e9)
	theirs := other.make().Path
	mine := g.make().Path
	renamed := filepath.Join(g.folder, "before the flood.zip")
	copyFile(t, renamed, mine)
	broken := filepath.Join(g.folder, "corymb-larkfield-2020-01-01-0300.zip")
	if err := os.WriteFile(broken, []byte("?"), 0o600); err != nil {
		t.Fatal(err)
	}
	g.clock.set(night.AddDate(0, 0, -4000)) // its clock is wrong: what it makes is the oldest
	for range 25 {
		g.clock.pass(31 * 24 * 60 * 60e9)
		made := g.make()
		for _, path := range []string{made.Path, mine, theirs, renamed, broken} {
			if _, err := os.Stat(path); err != nil {
				t.Fatalf("deleted: %v", err)
			}
		}
	}
	listed, err := List(g.folder, g.farm.Farm())
	if err != nil || len(listed) > 7+4+12+1 {
		t.Errorf("%d are kept (%v)", len(listed), err)
	}
}

func copyFile(t testing.TB, to, from string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// Changes come while the backup is made: what was acknowledged before is in it, and its log is the log.
func TestABackupIsMadeWhileChangesCome(t *testing.T) {
	g := newGround(t)
	var writing sync.WaitGroup
	stop := make(chan struct{})
	writing.Go(func() {
		for i := 0; ; i++ {
			g.record(fact("bed", "b1", "name", strings.Repeat("North ", i%50)))
			select {
			case <-stop:
				return
			default:
			}
		}
	})
	for range 3 {
		acknowledged := g.farm.Newest()
		made := g.make()
		if made.Manifest.Arrival < acknowledged {
			t.Errorf("it covers %d changes, %d were acknowledged", made.Manifest.Arrival, acknowledged)
		}
		dir := filepath.Join(t.TempDir(), "farm")
		if _, err := Restore(context.Background(), made.Path, dir, g.clock.now); err != nil {
			t.Fatal(err)
		}
		was, is := logOf(t, g.farm.Dir(), made.Manifest.Arrival), logOf(t, dir, 1<<60)
		if len(is) == 0 || !slices.Equal(was, is) {
			t.Errorf("the log that was restored has %d segments, and not the %d that it had up to %d", len(is), len(was), made.Manifest.Arrival)
		}
		g.clock.pass(1e9)
	}
	close(stop)
	writing.Wait()
}

// What was removed may still lie there, where a system deletes no file that somebody reads.
func TestABackupLacksWhatWasRemovedAndSaysSo(t *testing.T) {
	g := newGround(t)
	gone := g.putPhoto("a photo that was removed")
	note := "photos/removed/" + filepath.Base(gone)
	g.put(note, "")
	g.put("photos/unnamed/"+filepath.Base(gone), "2026-01-01T00:00:00Z")
	made := g.make()
	if len(made.Manifest.Damaged) > 0 || len(made.Manifest.LeftOut) > 0 {
		t.Errorf("damaged are %q, left out %q", made.Manifest.Damaged, made.Manifest.LeftOut)
	}
	dir := filepath.Join(t.TempDir(), "farm")
	if _, err := Restore(context.Background(), made.Path, dir, g.clock.now); err != nil {
		t.Fatal(err)
	}
	files := filesIn(t, dir)
	_, noted := files[note]
	_, there := files[gone]
	if !noted || there || len(files) != len(made.Manifest.Files) {
		t.Errorf("noted %v, there %v, %d files of %d", noted, there, len(files), len(made.Manifest.Files))
	}
}
