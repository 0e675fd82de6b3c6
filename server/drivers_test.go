package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// A release has SQLite in Go, a build from source in C where there is a compiler: whichever comes to a
// folder, even to what the other left when it was killed, finds everything and can go on.
func TestAFarmIsTheSameToBothDriversOfSQLite(t *testing.T) {
	const seed = 20_260_604
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	inC, inGo := buildWith(t, "CGO_ENABLED=1"), buildWith(t, "CGO_ENABLED=0")
	data := t.TempDir()
	devices := newDevices(farmOf(t, data))
	for round := range 4 {
		writer, reader := inC, inGo
		if round%2 == 1 {
			writer, reader = inGo, inC
		}
		pushUntilKilled(t, launch(t, programAt(t, writer, serving(data)...)), devices, rnd)
		if said, err := programAt(t, reader, "verify", "-data", data).CombinedOutput(); err != nil {
			t.Fatalf("round %d: verify with the other driver: %v\n%s", round, err, said)
		}
	}
	checkFarm(t, data, devices)
	logSettled(t, devices)
}

// buildWith builds the program with something added to the environment.
func buildWith(t *testing.T, env string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "corymb")
	build := exec.Command("go", "build", "-o", path, ".")
	build.Env = append(os.Environ(), env)
	if said, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building with %s: %v\n%s", env, err, said)
	}
	return path
}
