package backup

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/farm"
	"corymb/server/store"
	"corymb/syncproto"
)

// night is three in the morning in a place two hours east of Greenwich.
var night = time.Date(2026, 11, 29, 3, 0, 0, 0, time.FixedZone("", 2*3600))

// clock is a clock that stands until it is set.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) set(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = at
}

func (c *clock) pass(d time.Duration) { c.set(c.now().Add(d)) }

// ground is a farm, a folder for its backups, and a clock.
type ground struct {
	t      testing.TB
	farm   *store.Store
	folder string
	clock  *clock
	phone  changelog.Recorder
}

// newGround is a farm with a name, some changes, certificates, photos and settings.
func newGround(t testing.TB) *ground {
	t.Helper()
	g := &ground{t: t, folder: t.TempDir(), clock: &clock{at: night}, phone: changelog.Recorder{Incarnation: uuid.NewString()}}
	g.farm = g.openFarm(t.TempDir())
	g.record(fact(farm.TypeFarm, g.farm.Farm(), farm.FieldName, "Larkfield Ñandú & Co."))
	for i := range 20 {
		g.record(fact("bed", fmt.Sprint("b", i%7), "name", fmt.Sprint("North ", i)))
	}
	g.put("certs/authority.pem", "an authority")
	g.put("certs/authority-key.pem", "its key")
	g.put("names.json", `{"names":["shed"]}`)
	for i := range 3 {
		g.putPhoto(fmt.Sprint("photo ", i, strings.Repeat("x", 1000*i)))
	}
	return g
}

func (g *ground) openFarm(dir string) *store.Store {
	g.t.Helper()
	s, err := store.OpenStill(dir, g.clock.now)
	if err != nil {
		g.t.Fatal(err)
	}
	g.t.Cleanup(func() { _ = s.Close() }) // a test may have closed it already
	return s
}

func fact(entity, id, field, text string) changelog.Fact {
	return changelog.Fact{Scope: syncproto.ScopeField, Op: syncproto.OpSet, Type: entity, ID: id, Field: field, Value: syncproto.Text(text)}
}

func (g *ground) record(facts ...changelog.Fact) {
	g.t.Helper()
	changes := g.phone.Operation(g.clock.now().UnixMilli(), facts...)
	f, err := changelog.NewFrame(g.phone.Incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		g.t.Fatal(err)
	}
	results, err := g.farm.Append(context.Background(), []*changelog.Frame{f})
	if err != nil || results[0].Breach != nil {
		g.t.Fatal(err, results)
	}
}

// put writes a file of the data folder.
func (g *ground) put(name, text string) {
	g.t.Helper()
	path := filepath.Join(g.farm.Dir(), filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		g.t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		g.t.Fatal(err)
	}
}

func (g *ground) putPhoto(text string) (name string) {
	g.t.Helper()
	sum := sha256.Sum256([]byte(text))
	digest := hex.EncodeToString(sum[:])
	name = "photos/" + digest[:2] + "/" + digest
	g.put(name, text)
	return name
}

func (g *ground) making() Making {
	return Making{Farm: g.farm, Folder: g.folder, Version: "v1", Now: g.clock.now}
}

func (g *ground) make() Made {
	g.t.Helper()
	made, err := Make(context.Background(), g.making())
	if err != nil {
		g.t.Fatal(err)
	}
	return made
}

// filesIn lists what lies under a folder: names with slashes and their contents.
func filesIn(t testing.TB, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		found[filepath.ToSlash(name)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func codeOf(err error) Code {
	var problem *Problem
	if errors.As(err, &problem) {
		return problem.Code
	}
	return ""
}
