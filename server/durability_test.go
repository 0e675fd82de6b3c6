//go:build linux

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"corymb/server/store"
)

// What a power cut leaves is made by testdata/power_cut.c, which runs the server: it keeps a disk that
// only learns of what was synced, by whichever driver.

// syncsToStart is more syncs than the server needs before it can be talked to.
const syncsToStart = 10

// ordinaryPowerCuts is how many there are in an ordinary run.
const ordinaryPowerCuts = 12

// Every acknowledgement holds if the power is cut at any moment, whatever the disk had begun to write.
func TestWhatIsAcknowledgedSurvivesAPowerCut(t *testing.T) {
	const seed = 20_260_602
	rounds := killingRounds(t, ordinaryPowerCuts)
	t.Logf("seed %d, %d rounds", seed, rounds)
	powerCut := buildPowerCut(t)
	data := folder(t)
	devices := newDevices(farmOf(t, data))
	rnd := rand.New(rand.NewPCG(seed, 0))
	unsynced := 0
	for range rounds {
		disk := newDisk(t, powerCut, data)
		if rnd.IntN(2) == 0 {
			pushUntilKilled(t, disk.start(t), devices, rnd)
		} else { // just before a sync, when most is at stake
			cut := fmt.Sprintf("DISK_CUTS=%d", syncsToStart+1+rnd.IntN(20))
			pushUntilCut(t, disk.start(t, cut), devices, rnd)
		}
		strict := disk.synced(t)
		mixed, sectors := disk.mixed(t, rnd)
		unsynced += sectors
		for _, left := range []string{strict, mixed} {
			verifyAsAnybodyWould(t, left)
			checkFarm(t, left, devices)
			if t.Failed() {
				t.FailNow()
			}
		}
		data = []string{strict, mixed}[rnd.IntN(2)]
		for _, d := range devices {
			d.proven = d.settled
		}
	}
	for _, d := range devices {
		d.proven = 0
	}
	checkFarm(t, data, devices) // once more all of it
	logSettled(t, devices)
	t.Logf("%d sectors were at stake", unsynced)
	if unsynced == 0 {
		t.Error("nothing was ever unsynced, so nothing was proven")
	}
}

// Were the log not synced, this test would see it.
func TestAServerThatDoesNotSyncItsLogLosesWhatItAcknowledged(t *testing.T) {
	const seed = 20_260_603
	t.Logf("seed %d", seed)
	data := folder(t)
	devices := newDevices(farmOf(t, data))
	disk := newDisk(t, buildPowerCut(t), data)
	rnd := rand.New(rand.NewPCG(seed, 0))
	pushUntilKilled(t, disk.start(t, "DISK_LOSES=-wal"), devices, rnd)
	s, err := store.Open(disk.synced(t), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	var lost int64
	for _, d := range devices {
		lost += d.lost(t, s)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d acknowledged changes are lost", lost)
	if lost == 0 {
		t.Error("nothing is lost although nothing was synced")
	}
}

// Asked to stop, the server leaves nothing to be synced, so the disk is what the folder is: the
// library has seen every write.
func TestAServerThatStoppedLeftEverythingOnTheDisk(t *testing.T) {
	data := folder(t)
	farmOf(t, data)
	disk := newDisk(t, buildPowerCut(t), data)
	disk.start(t).stop(t)
	live, err := os.ReadFile(filepath.Join(data, store.FileName))
	if err != nil {
		t.Fatal(err)
	}
	synced, err := os.ReadFile(filepath.Join(disk.synced(t), store.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(live, synced) {
		t.Errorf("the database has %d bytes, of which the disk holds %d or others", len(live), len(synced))
	}
}

func buildPowerCut(t *testing.T) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "power_cut")
	cc := exec.Command("cc", "-O1", "-Wall", "-Wextra", "-Werror", "-o", program, filepath.Join("testdata", "power_cut.c"))
	if said, err := cc.CombinedOutput(); err != nil {
		t.Fatalf("compiling power_cut.c: %v\n%s", err, said)
	}
	return program
}

// folder is a temporary one by the name that the system calls it.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// disk is where power_cut.c keeps what was synced of a data folder.
type disk struct{ powerCut, live, dir string }

func newDisk(t *testing.T, powerCut, data string) disk {
	t.Helper()
	return disk{powerCut: powerCut, live: data, dir: folder(t)}
}

// start serves the data folder and keeps the disk. env adds to the environment.
func (d disk) start(t *testing.T, env ...string) *running {
	t.Helper()
	cmd := program(t, serving(d.live)...)
	cmd.Path, cmd.Args = d.powerCut, append([]string{d.powerCut}, cmd.Args...)
	cmd.Env = append(cmd.Environ(), append(env, "DISK_OF="+d.live, "DISK="+d.dir)...)
	return launch(t, cmd)
}

// synced is a data folder that holds exactly what was synced.
func (d disk) synced(t *testing.T) string {
	t.Helper()
	left := folder(t)
	for _, name := range namesIn(t, filepath.Join(d.dir, "name")) {
		writeLeft(t, filepath.Join(left, name), readOrNothing(t, filepath.Join(d.dir, "name", name)))
	}
	return left
}

// mixed is a data folder in which each name, each length and each sector that was not synced is as it
// was or as it was to be, by chance. sectors is how many could be either.
func (d disk) mixed(t *testing.T, rnd *rand.Rand) (left string, sectors int) {
	t.Helper()
	left = folder(t)
	oldNames, liveNames := namesIn(t, filepath.Join(d.dir, "name")), namesIn(t, d.live)
	names := append(oldNames, liveNames...)
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		oldPath, livePath := filepath.Join(d.dir, "name", name), filepath.Join(d.live, name)
		inode := d.inodeOf(t, livePath)
		if !sameFile(oldPath, inode) && rnd.IntN(2) == 0 { // the name itself was not synced
			if slices.Contains(oldNames, name) {
				writeLeft(t, filepath.Join(left, name), readOrNothing(t, oldPath))
			}
			continue
		}
		if !slices.Contains(liveNames, name) {
			continue
		}
		mixed, differ := mixSectors(readOrNothing(t, inode), readOrNothing(t, livePath), rnd)
		sectors += differ
		writeLeft(t, filepath.Join(left, name), mixed)
	}
	return left, sectors
}

// inodeOf is where the disk keeps the synced bytes of a live file; it may have none.
func (d disk) inodeOf(t *testing.T, live string) string {
	t.Helper()
	var status syscall.Stat_t
	if err := syscall.Stat(live, &status); err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return filepath.Join(d.dir, "inode", fmt.Sprint(status.Ino))
}

func sameFile(a, b string) bool {
	one, err := os.Stat(a)
	other, errOther := os.Stat(b)
	return err == nil && errOther == nil && os.SameFile(one, other)
}

// namesIn lists what can be left of a folder: not SQLite's shared memory, which is made anew after a
// crash, nor the lock, which ends with the process.
func namesIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && !strings.HasSuffix(e.Name(), "-shm") && !strings.HasPrefix(e.Name(), "corymb.lock") {
			names = append(names, e.Name())
		}
	}
	return names
}

func readOrNothing(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return data
}

func writeLeft(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// sector is the least that a disk writes whole, in bytes.
const sector = 512

// mixSectors takes each sector from one of two states of a file, and a length between theirs. Where a
// state has no such sector it is all zeros. differ counts the sectors that are not the same in both.
func mixSectors(was, is []byte, rnd *rand.Rand) (mixed []byte, differ int) {
	shortest, longest := min(len(was), len(is)), max(len(was), len(is))
	between := max(shortest, (shortest+rnd.IntN(longest-shortest+1))/sector*sector)
	length := []int{len(was), len(is), between}[rnd.IntN(3)]
	written := []float64{0.1, 0.5, 0.9}[rnd.IntN(3)]
	mixed = append(was, make([]byte, longest-len(was))...)
	is = append(is, make([]byte, longest-len(is))...)
	for from := 0; from < longest; from += sector {
		to := min(from+sector, longest)
		if bytes.Equal(mixed[from:to], is[from:to]) {
			continue
		}
		differ++
		if rnd.Float64() < written {
			copy(mixed[from:to], is[from:to])
		}
	}
	return mixed[:length], differ
}
