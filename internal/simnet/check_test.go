package simnet

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// isQuiet tells whether every phone is level with the shed and nothing is left to do.
func (s *sim) isQuiet() bool { return s.whoIsNot() == "" }

func (s *sim) whoIsNot() string {
	var not []string
	newest := s.shed.store.Newest()
	for _, d := range s.devices {
		if !d.phone.Level() || d.disk.kept.Reading.arrival() != newest {
			r := d.disk.kept
			not = append(not, fmt.Sprintf("%s (online %v, unsettled %d, fills %d, read to %d of %d, refused %q)",
				d.name, d.phone.Online(), d.phone.Unsettled(), len(r.Fill), r.Reading.arrival(), newest, d.phone.Refusal()))
		}
	}
	return strings.Join(not, ", ")
}

// check compares everybody with the log of the shed, which is read from its file.
func (s *sim) check() {
	s.checkStore()
	kept, err := readLog(filepath.Join(s.shed.dir, store.FileName))
	if err != nil {
		s.fail("reading the log: %v", err)
		return
	}
	s.checkStates(kept)
	s.checkNothingLost(kept)
	s.checkTold(kept)
	s.checkCounts(kept)
}

func (s *sim) checkStore() {
	found, err := s.shed.store.Verify(context.Background())
	if err != nil || len(found.Faults) > 0 {
		s.fail("verify: %v %v", err, found.Faults)
	}
}

func (s *sim) checkStates(kept []Told) {
	expected := map[string][]byte{}
	for _, d := range s.devices {
		scopes := d.disk.kept.Reading.Cursor.Scopes
		name := fmt.Sprint(scopes)
		if _, ok := expected[name]; !ok {
			expected[name] = dumpOf(kept, scopes)
		}
		if got := d.phone.State().Dump(); !bytes.Equal(got, expected[name]) {
			s.fail("%s differs from the shed: %s", d.name, difference(string(got), string(expected[name])))
		}
	}
	state, _, err := s.shed.store.State(context.Background())
	if err != nil {
		s.fail("reading the state: %v", err)
	} else if !bytes.Equal(state.Dump(), dumpOf(kept, syncproto.Scopes)) {
		s.fail("the state of the shed is not what its log comes to")
	}
}

func dumpOf(kept []Told, scopes []syncproto.Scope) []byte {
	state := changelog.NewState()
	for _, k := range kept {
		for _, scope := range scopes {
			if k.Change.Scope == scope {
				state.Merge(k.Change, k.Order)
			}
		}
	}
	return state.Dump()
}

// difference shows the first lines that only one of two dumps has.
func difference(got, want string) string {
	lines := func(dump, other string) (only []string) {
		there := map[string]bool{}
		for _, line := range strings.Split(other, "\n") {
			there[line] = true
		}
		for _, line := range strings.Split(dump, "\n") {
			if !there[line] && len(only) < 3 {
				only = append(only, line)
			}
		}
		return only
	}
	return fmt.Sprintf("only there %v, only at the shed %v", lines(got, want), lines(want, got))
}

// checkNothingLost finds every acknowledged change in the log once, and every other where it was
// recorded.
func (s *sim) checkNothingLost(kept []Told) {
	times := map[string]int{}
	for _, k := range kept {
		facts := factsOf(k.Change)
		if times[facts]++; times[facts] > 1 {
			s.fail("the log holds %s twice: %s", k.Change.Identity(), facts)
		}
	}
	for _, facts := range s.ledger.acked {
		if times[facts] == 0 {
			s.fail("acknowledged, but not in the log: %s", facts)
			return
		}
	}
	for _, d := range s.devices {
		s.checkOwn(d, times)
	}
	s.checkWhole(times)
}

func (s *sim) checkOwn(d *device, times map[string]int) {
	refused := d.phone.refusedFacts()
	for _, c := range d.own {
		there, ok := d.disk.kept.Logs[c.Incarnation].change(c.Seq)
		if !ok || !bytes.Equal(there.Canonical(), c.Canonical()) {
			s.fail("%s was recorded on %s and vanished from it", c.Identity(), d.name)
			return
		}
		if facts := factsOf(c); times[facts] == 0 && !refused[facts] {
			s.fail("%s of %s is neither in the log nor refused: %s", c.Identity(), d.name, facts)
			return
		}
	}
}

// refusedFacts are those of which the shed said so last.
func (p *Phone) refusedFacts() map[string]bool {
	refused := map[string]bool{}
	for _, log := range p.Records().Logs {
		for _, o := range log.Operations {
			for i, c := range o.Changes {
				if !o.Moved && o.Fates[i].Refused != "" {
					refused[factsOf(c)] = true
				}
			}
		}
	}
	return refused
}

// readLog reads every change that the shed has kept.
func readLog(path string) ([]Told, error) {
	db, err := sql.Open(store.DriverName, "file:"+path+"?mode=ro")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	rows, err := db.Query("SELECT batch FROM segments ORDER BY first")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var kept []Told
	for rows.Next() {
		var packed []byte
		if err := rows.Scan(&packed); err != nil {
			return nil, err
		}
		batch, err := syncproto.ReadAlone(packed)
		if err != nil {
			return nil, err
		}
		for i, c := range batch.Changes {
			kept = append(kept, Told{Change: c, Order: batch.Orders[i]})
		}
	}
	return kept, rows.Err()
}
