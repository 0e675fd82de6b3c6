package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/simnet"
	"corymb/syncproto"
)

// farmWithFiles is a data folder with a farm, a certificate's key and photos of so many bytes each.
func farmWithFiles(t *testing.T, photos, bytes int) (data string) {
	t.Helper()
	data = filepath.Join(t.TempDir(), "farm")
	if _, errs, ok := said(t, append([]string{"import", "-data", data}, pair(t, "good")...)...); !ok {
		t.Fatal(errs)
	}
	writeUnder(t, data, "certs/authority-key.pem", []byte("a key"))
	rnd := rand.NewChaCha8([32]byte{1})
	for range photos {
		photo := make([]byte, bytes)
		_, _ = rnd.Read(photo) // it never fails
		sum := sha256.Sum256(photo)
		digest := hex.EncodeToString(sum[:])
		writeUnder(t, data, "photos/"+digest[:2]+"/"+digest, photo)
	}
	return data
}

func writeUnder(t *testing.T, dir, name string, text []byte) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// backupsIn lists the files in a folder whose names end so.
func backupsIn(t *testing.T, folder, end string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, "*"+end))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestAFarmIsBackedUpAndRestoredByCommands(t *testing.T) {
	data, folder := farmWithFiles(t, 2, 5_000), t.TempDir()
	before, errs, ok := said(t, "verify", "-data", data)
	if !ok {
		t.Fatal(errs)
	}
	out, errs, ok := said(t, "backup", "-data", data, "-to", folder)
	files := backupsIn(t, folder, ".zip")
	if !ok || len(files) != 1 || !strings.Contains(out, files[0]+" was written, read back and found good.") {
		t.Fatalf("backup said %q %q and made %v", out, errs, files)
	}
	if out, errs, ok := said(t, "verify", "-backup", files[0]); !ok || !strings.Contains(out, "The backup is good.") {
		t.Errorf("verify said %q %q", out, errs)
	}
	restored := filepath.Join(t.TempDir(), "restored")
	if out, errs, ok := said(t, "restore", "-from", files[0], "-data", restored); !ok || !strings.Contains(out, "start -data "+restored) {
		t.Fatalf("restore said %q %q", out, errs)
	}
	if after, errs, ok := said(t, "verify", "-data", restored); !ok || after != before {
		t.Errorf("it was %q and is %q %q", before, after, errs)
	}
	if was, is := agesOfFolder(t, data), agesOfFolder(t, restored); !bytes.Equal(was, is) {
		t.Error("the model of the restored farm is another")
	}
	if out, errs, ok := said(t, "restore", "-from", files[0], "-data", restored); ok || !strings.Contains(errs, "move it away") {
		t.Errorf("over a farm restore said %q %q", out, errs)
	}
}

func TestWrongBackupCommandsAreExplained(t *testing.T) {
	data, folder := farmWithFiles(t, 0, 0), t.TempDir()
	served := start(t, data)
	closed := filepath.Join(t.TempDir(), "closed")
	if _, errs, ok := said(t, append([]string{"import", "-data", closed}, pair(t, "good")...)...); !ok {
		t.Fatal(errs)
	}
	junk := filepath.Join(folder, "junk.zip")
	if err := os.WriteFile(junk, []byte("?"), 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name string
		args []string
		says string
	}{
		{"no folder", []string{"backup", "-data", closed}, "name it with -to"},
		{"no farm", []string{"backup", "-data", folder, "-to", folder}, "no farm to back up"},
		{"a farm that is served", []string{"backup", "-data", data, "-to", folder}, "makes its backups itself"},
		{"a folder that is not there", []string{"backup", "-data", closed, "-to", filepath.Join(folder, "usb")}, "not plugged in"},
		{"a folder in the farm's own", []string{"backup", "-data", closed, "-to", closed}, "would be lost with it"},
		{"serving with a folder in the farm's own", []string{"serve", "-listen", "127.0.0.1:0", "-data", closed, "-backups", closed}, "would be lost with it"},
		{"no backup", []string{"restore", "-data", filepath.Join(folder, "new")}, "name its file with -from"},
		{"a backup that is none", []string{"restore", "-from", junk, "-data", filepath.Join(folder, "new")}, "is not a good backup"},
		{"verifying what is none", []string{"verify", "-backup", junk}, "is not a good backup"},
		{"verifying what is not there", []string{"verify", "-backup", junk + "x"}, "cannot be opened"},
		{"rebuilding a backup", []string{"verify", "-rebuild", "-backup", junk}, "never altered"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if out, errs, ok := said(t, tt.args...); ok || !strings.Contains(errs, tt.says) {
				t.Errorf("ok %v, said %q %q, want %q", ok, out, errs, tt.says)
			}
		})
	}
	served.stop(t)
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
		t.Errorf("something was written: %v (%v)", entries, err)
	}
}

// backupState is what a page is told.
type backupState struct {
	Folder  string
	On      bool
	Running bool
	Good    *struct {
		Path    string
		Arrival int64
		There   bool
	} `json:"last_good"`
	Failure *struct{ Text string } `json:"last_failure"`
	Files   []struct{ File string }
}

func (r *running) backups(t *testing.T, do string) (state backupState) {
	t.Helper()
	method, body := http.MethodGet, ""
	if do != "" {
		method, body = http.MethodPost, fmt.Sprintf(`{"do":%q}`, do)
	}
	request, err := http.NewRequest(method, "http://"+r.address+"/api/backups", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	request.Header = joined()
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = answer.Body.Close() }()
	if err := json.NewDecoder(answer.Body).Decode(&state); err != nil || answer.StatusCode >= 300 {
		t.Fatalf("status %d (%v)", answer.StatusCode, err)
	}
	return state
}

// The farm is served, a page asks for a backup, and the phones are told what it covers, after a restart too.
func TestAServedFarmIsBackedUpAndItsPhonesAreTold(t *testing.T) {
	data, folder := farmWithFiles(t, 1, 1_000), t.TempDir()
	if out, errs, ok := said(t, "backup", "-data", data, "-to", folder); !ok {
		t.Fatalf("%q %q", out, errs)
	}
	r := serveWith(t, data, "-backups", folder)
	url := "http://" + r.address + "/sync"
	phone, w := hello(t, url, uuid.NewString(), false)
	if w.BackedUp != 0 {
		t.Errorf("before any backup of its own the shed says %d", w.BackedUp)
	}
	if state := r.backups(t, ""); state.Folder != folder || !state.On || state.Good != nil || len(state.Files) != 1 {
		t.Errorf("it stands so: %+v", state)
	}
	pushAll(t, url, simnet.Counts(rand.New(rand.NewPCG(1, 1)), uuid.NewString(), 40), 20)
	if state := r.backups(t, "now"); !state.Running {
		t.Errorf("asked for one, it stands so: %+v", state)
	}
	var told syncproto.Backup
	if err := phone.ReadJSON(&told); err != nil || told.T != syncproto.TypeBackup || told.Arrival != w.Arrival+40 {
		t.Errorf("the phone was told %+v (%v), want %d", told, err, w.Arrival+40)
	}
	state := r.backups(t, "off")
	if state.On || state.Good == nil || state.Good.Arrival != told.Arrival || !state.Good.There || state.Failure != nil {
		t.Errorf("then it stands so: %+v", state)
	}
	r.stop(t)
	r = start(t, data)
	if _, w := hello(t, "http://"+r.address+"/sync", uuid.NewString(), false); w.BackedUp != told.Arrival {
		t.Errorf("after a restart a phone is told %d, want %d", w.BackedUp, told.Arrival)
	}
	r.stop(t)
	if err := os.Remove(state.Good.Path); err != nil {
		t.Fatal(err)
	}
	r = start(t, data)
	if _, w := hello(t, "http://"+r.address+"/sync", uuid.NewString(), false); w.BackedUp != 0 {
		t.Errorf("after it was deleted a phone is told %d", w.BackedUp)
	}
	r.stop(t)
}

// A kill at any moment of a backup leaves no file that looks like a good one and is none.
func TestKilledDuringABackupItLeavesNoFileThatLooksGood(t *testing.T) {
	const seed = 20_261_129
	rounds := killingRounds(t, ordinaryRounds)
	t.Logf("seed %d, %d rounds", seed, rounds)
	rnd := rand.New(rand.NewPCG(seed, 0))
	data, folder := farmWithFiles(t, 40, 500_000), t.TempDir()
	begun := time.Now()
	if _, errs, ok := said(t, "backup", "-data", data, "-to", folder); !ok {
		t.Fatal(errs)
	}
	whole := time.Since(begun)
	killedIn, left := 0, 0
	for range rounds {
		cmd := program(t, "backup", "-data", data, "-to", folder)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rnd.Int64N(int64(whole))))
		_ = cmd.Process.Kill() // it may be over
		if cmd.Wait() != nil {
			killedIn++
		}
		left += len(backupsIn(t, folder, ".partial"))
		for _, path := range backupsIn(t, folder, ".zip") {
			if out, errs, ok := said(t, "verify", "-backup", path); !ok {
				t.Errorf("%q %q", out, errs)
			}
		}
	}
	t.Logf("%d were killed, of which %d left something unfinished", killedIn, left)
	if killedIn == 0 {
		t.Error("none was killed, so nothing was proven")
	}
	if out, errs, ok := said(t, "backup", "-data", data, "-to", folder); !ok {
		t.Errorf("after all that: %q %q", out, errs)
	}
	verifyAsAnybodyWould(t, data)
	if unfinished := append(backupsIn(t, folder, ".partial"), backupsIn(t, data, ".partial")...); len(unfinished) > 0 {
		t.Errorf("%v are left", unfinished)
	}
}
