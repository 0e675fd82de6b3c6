package export

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

var evening = time.Date(2026, 9, 1, 20, 0, 0, 0, time.UTC)

func still() time.Time { return evening }

func openFarm(t testing.TB, dir string) *store.Store {
	t.Helper()
	s, err := store.OpenStill(dir, still)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // a test may have closed it already
	return s
}

// device records as one incarnation, with a clock of its own.
type device struct {
	changelog.Recorder
	wall int64
}

func newDevice() *device {
	return &device{Recorder: changelog.Recorder{Incarnation: uuid.NewString(), Person: "ana"}, wall: evening.UnixMilli() - 9_000_000}
}

func push(t testing.TB, s *store.Store, d *device, changes []syncproto.Change) {
	t.Helper()
	f, err := changelog.NewFrame(d.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	results, err := s.Append(context.Background(), []*changelog.Frame{f})
	if err != nil || results[0].Breach != nil {
		t.Fatal(err, results[0].Breach)
	}
}

func text(kind, id, field, value string) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: kind, ID: id, Field: field, Value: syncproto.Text(value)}
}

func count(visit, cell string, n int64) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: visit, Field: cell, Value: syncproto.Int(n)}
}

// grow records so many changes by several devices, some ahead of the server's clock, and things that are refused, held
// already, added to sets, and told in signs that JSON escapes.
func grow(t testing.TB, s *store.Store, changes int, rng *rand.Rand) {
	t.Helper()
	devices := []*device{newDevice(), newDevice(), newDevice()}
	devices[2].wall += 86_400_000
	push(t, s, devices[0], devices[0].Operation(devices[0].wall, text("farm", s.Farm(), "name", "Larkfield <&> \u2028 \"Ñandú\"\n=1+1")))
	for n := 0; int(s.Newest()) < changes; n++ {
		d := devices[n%len(devices)]
		var batch []syncproto.Change
		for range 50 {
			d.wall += rng.Int64N(60_000)
			id := fmt.Sprint("v", rng.IntN(changes/5+1))
			batch = append(batch, d.Operation(d.wall, text("visit", id, "date", "2026-06-01"), count(id, "extra|500|600", rng.Int64N(40)))...)
			batch = append(batch, d.Operation(d.wall, changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpAdd, Type: "plant", ID: id, Field: "flags", Value: syncproto.Text("look/2026-06-01/ana")})...)
		}
		push(t, s, d, batch)
	}
	refused := devices[1].Operation(devices[1].wall+1, text("plant", "p1", "code", "A1"), changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: "bed", ID: "b1", Field: "name", Value: syncproto.Int(1)})
	push(t, s, devices[1], refused)
	again := devices[0].Operation(devices[0].wall+1, text("bed", "b2", "name", "North"))
	push(t, s, devices[0], again)
	other := newDevice()
	same := again[0]
	same.Incarnation, same.Seq = other.Incarnation, 1
	same.Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text(string(again[0].Identity()))}
	push(t, s, other, []syncproto.Change{same})
	waiting := newDevice() // for the last part of an operation
	push(t, s, waiting, waiting.Operation(waiting.wall, text("bed", "b3", "name", "East")))
	var large []changelog.Fact
	for i := range syncproto.MaxFrameChanges + 1 {
		large = append(large, text("bed", fmt.Sprint("large ", i), "name", "A"))
	}
	push(t, s, waiting, waiting.Operation(waiting.wall+1, large...)[:syncproto.MaxFrameChanges])
	if _, err := s.LeaseCodes(context.Background(), "phone"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.InvoiceSeries(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
}

func putPhoto(t testing.TB, dir, contents string) string {
	t.Helper()
	sum := sha256.Sum256([]byte(contents))
	name := hex.EncodeToString(sum[:])
	putFile(t, filepath.Join(dir, "photos", name[:2], name), contents)
	return name
}

func putFile(t testing.TB, path, contents string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(contents), 0o600); err != nil {
		t.Fatal(err)
	}
}

func write(t testing.TB, s *store.Store) ([]byte, Told) {
	t.Helper()
	var out bytes.Buffer
	told, err := Write(context.Background(), s, &out)
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), told
}

func read(t testing.TB, file []byte) (dir string, told Told, err error) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "farm")
	from := filepath.Join(t.TempDir(), "export.zip")
	putFile(t, from, string(file))
	told, err = Read(context.Background(), from, dir, still)
	return dir, told, err
}

func dump(t testing.TB, s *store.Store) []byte {
	t.Helper()
	state, _, err := s.State(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return state.Dump()
}

// comesBack exports a farm, imports that, and compares the two.
func comesBack(t testing.TB, s *store.Store) {
	t.Helper()
	file, told := write(t, s)
	dir, got, err := read(t, file)
	if err != nil {
		t.Fatal(err)
	}
	if got.Changes != told.Changes || got.Photos != told.Photos || got.Changes != s.Newest() || len(got.Damaged) != len(told.Damaged) {
		t.Errorf("read %+v, wrote %+v of %d", got, told, s.Newest())
	}
	other := openFarm(t, dir)
	if other.Farm() != s.Farm() || other.Epoch() == s.Epoch() || other.Restored() {
		t.Errorf("the farm is %s of epoch %s, restored: %v", other.Farm(), other.Epoch(), other.Restored())
	}
	if !bytes.Equal(dump(t, other), dump(t, s)) {
		t.Error("the state is another")
	}
	found, err := other.Verify(context.Background())
	if err != nil || len(found.Faults) > 0 || found.Changes != s.Newest() {
		t.Errorf("verified: %+v (%v)", found, err)
	}
	if again, _ := write(t, other); !bytes.Equal(again, file) {
		t.Error("exported again it is another file")
	}
}

func seeded(t testing.TB) *rand.Rand {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 1))
}

func TestAnExportReadBackIsTheSameFarm(t *testing.T) {
	s := openFarm(t, t.TempDir())
	grow(t, s, 600, seeded(t))
	for i := range 3 {
		putPhoto(t, s.Dir(), strings.Repeat("photo ", 1000*i+1))
	}
	damaged := putPhoto(t, s.Dir(), "soon damaged")
	putFile(t, filepath.Join(s.Dir(), "photos", damaged[:2], damaged), "damaged")
	gone := putPhoto(t, s.Dir(), "removed but still there")
	putFile(t, filepath.Join(s.Dir(), "photos", "removed", gone), "")
	putFile(t, filepath.Join(s.Dir(), "photos", "ab", "on-its-way.part"), "half")
	if _, told := write(t, s); told.Photos != 4 || len(told.Damaged) != 1 {
		t.Errorf("wrote %+v", told)
	}
	comesBack(t, s)
}

func TestAnEmptyFarmComesBackToo(t *testing.T) { comesBack(t, openFarm(t, t.TempDir())) }

var changesOfLarge = flag.Int("export.changes", 50_000, "how many changes the large farm has")

func TestALargeFarmComesBack(t *testing.T) {
	s := openFarm(t, t.TempDir())
	grow(t, s, *changesOfLarge, seeded(t))
	comesBack(t, s)
}

func TestAPhoneGoesOnWithAnImportedFarm(t *testing.T) {
	s := openFarm(t, t.TempDir())
	d := newDevice()
	push(t, s, d, d.Operation(d.wall, text("bed", "b1", "name", "North")))
	file, _ := write(t, s)
	dir, _, err := read(t, file)
	if err != nil {
		t.Fatal(err)
	}
	other := openFarm(t, dir)
	push(t, other, d, d.Operation(d.wall+1, text("bed", "b1", "name", "South")))
	if other.Newest() != 2 {
		t.Errorf("it holds %d changes", other.Newest())
	}
	if found, err := other.Verify(context.Background()); err != nil || len(found.Faults) > 0 {
		t.Errorf("verified: %+v (%v)", found, err)
	}
}

// inside is the ZIP as names and contents, in order.
type inside struct{ name, text string }

func opened(t testing.TB, file []byte) (all []inside) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		contents, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, inside{f.Name, string(contents)})
	}
	return all
}

func packed(t testing.TB, all []inside) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, one := range all {
		w, err := z.Create(one.name)
		if err == nil {
			_, err = io.WriteString(w, one.text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// resealed puts the right SHA-256 into the last line, as whoever alters lines on purpose would.
func resealed(lines string) string {
	at := strings.LastIndex(strings.TrimSuffix(lines, "\n"), "\n") + 1
	sum := sha256.Sum256([]byte(lines[:at]))
	last, _, _ := strings.Cut(lines[at:], `"sha256"`)
	return lines[:at] + last + `"sha256":"` + hex.EncodeToString(sum[:]) + "\"}\n"
}

func TestWhatIsNoWholeExportIsRefusedAndNothingIsThere(t *testing.T) {
	s := openFarm(t, t.TempDir())
	grow(t, s, 600, rand.New(rand.NewPCG(1, 1)))
	photo := putPhoto(t, s.Dir(), "a photo")
	good, _ := write(t, s)
	lines := func(alter func(string) string) []byte {
		all := opened(t, good)
		for i := range all {
			if all[i].name == linesName {
				all[i].text = alter(all[i].text)
			}
		}
		return packed(t, all)
	}
	once := func(old, new string) func(string) string {
		return func(text string) string {
			if !strings.Contains(text, old) {
				t.Fatalf("there is no %q", old)
			}
			return strings.Replace(text, old, new, 1)
		}
	}
	sealed := func(alter func(string) string) []byte {
		return lines(func(text string) string { return resealed(alter(text)) })
	}
	tests := []struct {
		name string
		file []byte
		says string
	}{
		{"half of it", good[:len(good)/2], "cut off"},
		{"nothing", nil, "cut off"},
		{"a text", []byte("plant,stock\nA1,Iris\n"), "no export"},
		{"another ZIP", packed(t, []inside{{"letter.txt", "Dear"}}), "letter.txt"},
		{"a backup", packed(t, []inside{{"corymb.db", "SQLite"}, {"manifest.json", "{}"}}), "corymb restore"},
		{"no lines", packed(t, []inside{{"photos/" + photo, "a photo"}}), "no farm.jsonl"},
		{"lines of something else", lines(func(string) string { return "{\"a\":1}\n" }), "line 1 of its farm.jsonl"},
		{"a newer version", sealed(once(`"corymb_export":1`, `"corymb_export":2`)), "newer version"},
		{"a number altered", lines(once(`["`, `["x`)), "farm.jsonl"},
		{"a refusal's words altered", lines(once(`"code":"`, `"code":"x`)), "SHA-256"},
		{"lines cut off", lines(func(text string) string { return text[:len(text)/2] }), "cut off"},
		{"the last line lost", lines(func(text string) string { return text[:strings.LastIndex(text, `{"end"`)] }), "cut off"},
		{"something behind the end", lines(func(text string) string { return text + "{}\n" }), "something follows"},
		{"a line lost", lines(func(text string) string {
			at := strings.Index(text, `{"change"`)
			return text[:at] + text[at+strings.Index(text[at:], "\n")+1:]
		}), "SHA-256"},
		{"a line lost, and sealed again", sealed(func(text string) string {
			at := strings.Index(text, `{"change"`)
			return text[:at] + text[at+strings.Index(text[at:], "\n")+1:]
		}), "numbers of changes"},
		{"a change altered, and sealed again", sealed(once("2026-06-01", "2026-06-02")), "does not fit together"},
		{"another farm's name put over it", sealed(once(s.Farm(), uuid.NewString())), "does not fit together"},
		{"a farm without an id", sealed(once(s.Farm(), "f1")), "not the id of a farm"},
		{"an unknown word", sealed(once(`{"change":`, `{"changed":`)), "not as Corymb writes it"},
		{"a change that is none", sealed(once(`{"change":[`, `{"change":["x",`)), "not a change"},
		{"a photo altered", packed(t, replaced(opened(t, good), "a photo", "b photo")), "damaged or was altered"},
		{"a photo lost", packed(t, replaced(opened(t, good), "a photo", "")), "is missing"},
		{"a photo too many", packed(t, append(opened(t, good), inside{"photos/" + strings.Repeat("a", 64), "x"})), "says nothing"},
		{"a photo that would lie elsewhere", packed(t, append(opened(t, good), inside{"photos/../../x", "x"})), "in no export"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir, _, err := read(t, tt.file)
			if err == nil || !strings.Contains(err.Error(), tt.says) || !strings.Contains(err.Error(), "Nothing was stored") {
				t.Errorf("said %v, want %q", err, tt.says)
			}
			if left, _ := os.ReadDir(filepath.Dir(dir)); len(left) != 0 {
				t.Errorf("left %v", left)
			}
		})
	}
}

// replaced has other contents in the place of some; without any the file is left out.
func replaced(all []inside, old, new string) (altered []inside) {
	for _, one := range all {
		if one.text == old {
			one.text = new
		}
		if one.text != "" {
			altered = append(altered, one)
		}
	}
	return altered
}

func TestNothingIsWrittenOverAFarm(t *testing.T) {
	s := openFarm(t, t.TempDir())
	file, _ := write(t, s)
	from := filepath.Join(t.TempDir(), "export.zip")
	putFile(t, from, string(file))
	if _, err := Read(context.Background(), from, s.Dir(), still); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("said %v", err)
	}
}

func TestAnExportThatIsStoppedSaysSo(t *testing.T) {
	s := openFarm(t, t.TempDir())
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Write(ctx, s, io.Discard); err == nil {
		t.Error("a stopped export is none")
	}
}
