package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"corymb/internal/access"
	"corymb/syncproto"
)

// version1 is what version 1 made its tables with.
var version1 = []string{
	"CREATE TABLE `schema` (`id` integer,`version` integer NOT NULL,PRIMARY KEY (`id`))",
	"CREATE TABLE `farms` (`id` text,`epoch` text NOT NULL,`next_arrival` integer NOT NULL,`highest_l` integer NOT NULL,`highest_c` integer NOT NULL,PRIMARY KEY (`id`))",
	"CREATE TABLE `changes` (`farm` text,`arrival` integer,`incarnation` text NOT NULL,`seq` integer NOT NULL,`scope` text NOT NULL,`order_l` integer NOT NULL,`order_c` integer NOT NULL,`former` text NOT NULL,`bytes` blob NOT NULL,PRIMARY KEY (`farm`,`arrival`),CONSTRAINT `fk_changes_farm` FOREIGN KEY (`farm`) REFERENCES `farms`(`id`))",
	"CREATE INDEX `changes_former` ON `changes`(`farm`,`former`) WHERE former <> ''",
	"CREATE UNIQUE INDEX `changes_identity` ON `changes`(`farm`,`incarnation`,`seq`)",
	"CREATE TABLE `incarnations` (`farm` text,`incarnation` text,`seq` integer NOT NULL,`hash` blob NOT NULL,`stamp_l` integer NOT NULL,`stamp_c` integer NOT NULL,`device` text NOT NULL,`person` text NOT NULL,`seen` integer NOT NULL,`unsent` integer NOT NULL,PRIMARY KEY (`farm`,`incarnation`),CONSTRAINT `fk_incarnations_farm` FOREIGN KEY (`farm`) REFERENCES `farms`(`id`))",
	"CREATE TABLE `outcomes` (`farm` text,`incarnation` text,`seq` integer,`digest` blob NOT NULL,`code` text NOT NULL,`text` text NOT NULL,`held_incarnation` text NOT NULL,`held_seq` integer NOT NULL,PRIMARY KEY (`farm`,`incarnation`,`seq`),CONSTRAINT `fk_outcomes_farm` FOREIGN KEY (`farm`) REFERENCES `farms`(`id`))",
	"CREATE TABLE `slots` (`farm` text,`type` text,`id` text,`op` text,`field` text,`part` text,`entry_op` text NOT NULL,`value` blob NOT NULL,`extra` blob NOT NULL,`order_l` integer NOT NULL,`order_c` integer NOT NULL,`incarnation` text NOT NULL,`seq` integer NOT NULL,`person` text NOT NULL,PRIMARY KEY (`farm`,`type`,`id`,`op`,`field`,`part`),CONSTRAINT `fk_slots_farm` FOREIGN KEY (`farm`) REFERENCES `farms`(`id`))",
	"INSERT INTO schema VALUES (1, 1)",
}

// old is a folder that version 1 filled.
type old struct {
	t        *testing.T
	db       *sql.DB
	farm     string
	arrivals int64
	highest  syncproto.Stamp // order
	chains   map[string]syncproto.Hash
	last     map[string]syncproto.Change
}

func newOld(t *testing.T, dir string) *old {
	t.Helper()
	db, err := sql.Open(DriverName, dsn(filepath.Join(dir, FileName), nil)+"?_journal_mode=WAL&_foreign_keys=on")
	if err != nil {
		t.Fatal(err)
	}
	o := &old{t: t, db: db, farm: "5d5a1bd0-0000-4000-8000-000000000000", chains: map[string]syncproto.Hash{}, last: map[string]syncproto.Change{}}
	for _, text := range version1 {
		o.exec(text)
	}
	o.exec("INSERT INTO farms VALUES (?, 'epoch', 1, 0, 0)", o.farm)
	return o
}

func (o *old) exec(text string, args ...any) {
	o.t.Helper()
	if _, err := o.db.Exec(text, args...); err != nil {
		o.t.Fatal(err)
	}
}

// keep writes a change as version 1 kept it.
func (o *old) keep(order syncproto.Stamp, c syncproto.Change) {
	o.arrivals++
	if order.Compare(o.highest) > 0 {
		o.highest = order
	}
	former, _ := c.Former()
	o.exec("INSERT INTO changes VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		o.farm, o.arrivals, c.Incarnation, c.Seq, string(c.Scope), order.L, order.C, string(former), c.Canonical())
	o.exec("INSERT OR REPLACE INTO slots VALUES (?, ?, ?, 'set', ?, '', 'set', '0', '', ?, ?, ?, ?, '')",
		o.farm, c.Type, c.ID, c.Field, order.L, order.C, c.Incarnation, c.Seq)
	o.settle(c)
}

func (o *old) settle(c syncproto.Change) {
	chain, ok := o.chains[c.Incarnation]
	if !ok {
		chain = syncproto.ChainStart(o.farm, c.Incarnation)
	}
	o.chains[c.Incarnation], o.last[c.Incarnation] = chain.Then(c.Canonical()), c
}

// outcome writes a change that was not kept.
func (o *old) outcome(c syncproto.Change, code syncproto.Code, heldIncarnation string, heldSeq int64) {
	digest := sha256.Sum256(c.Canonical())
	o.exec("INSERT INTO outcomes VALUES (?, ?, ?, ?, ?, ?, ?, ?)", o.farm, c.Incarnation, c.Seq, digest[:], string(code), "because", heldIncarnation, heldSeq)
	o.settle(c)
}

func (o *old) close() {
	for incarnation, hash := range o.chains {
		c := o.last[incarnation]
		o.exec("INSERT INTO incarnations VALUES (?, ?, ?, ?, ?, ?, 'device', 'ana', 7, 2)", o.farm, incarnation, c.Seq, hash[:], c.Stamp.L, c.Stamp.C)
	}
	o.exec("UPDATE farms SET next_arrival = ?, highest_l = ?, highest_c = ?", o.arrivals+1, o.highest.L, o.highest.C)
	if err := o.db.Close(); err != nil {
		o.t.Fatal(err)
	}
}

// oldHistory is what version 1 wrote in these tests: every way in which a change can be settled.
type oldHistory struct {
	log       []syncproto.Change // kept, in order of arrival
	orders    []syncproto.Stamp
	p, q      *phone
	ofQ       []syncproto.Change // all that q sent; its second is refused
	ofRenamed []syncproto.Change // held as q's first, then kept
	early     syncproto.Stamp    // the order of q's last two
}

// neverCame is an identity under which nothing came.
const neverCame = "0fffffff-0000-4000-8000-000000000000:3"

func (o *old) fill() *oldHistory {
	h := &oldHistory{p: newPhone(), q: newPhone(), early: syncproto.Stamp{L: 1_000, C: 9}}
	keep := func(order syncproto.Stamp, c syncproto.Change) {
		o.keep(order, c)
		h.log, h.orders = append(h.log, c), append(h.orders, order)
	}
	for i := range 2100 { // more than a segment holds
		c := h.p.says(name(fmt.Sprint("b", i%50), "North"))[0]
		keep(c.Stamp, c)
	}
	h.ofQ = slices.Concat(h.q.says(stemsAt("v", 4)), h.q.says(name("b1", "Refused")), h.q.says(name("b1", "Later"), name("b2", "Later")))
	keep(h.ofQ[0].Stamp, h.ofQ[0])
	o.outcome(h.ofQ[1], syncproto.CodeValue, "", 0)
	keep(h.early, h.ofQ[2])
	keep(h.early, h.ofQ[3])

	renamed := newPhone()
	held := again(h.ofQ[0], renamed.Incarnation, 1, h.ofQ[0].Identity())
	o.outcome(held, "", h.q.Incarnation, 1)
	fresh := again(h.p.says(name("b3", "Fresh"))[0], renamed.Incarnation, 2, neverCame)
	fresh.Stamp = held.Stamp.Next()
	keep(fresh.Stamp, fresh)
	h.ofRenamed = []syncproto.Change{held, fresh}
	o.close()
	return h
}

func TestADatabaseOfVersion1KeepsArrivalsOrdersAndBytes(t *testing.T) {
	dir := t.TempDir()
	o := newOld(t, dir)
	h := o.fill()
	s := open(t, dir)
	if s.Farm() != o.farm || s.Newest() != int64(len(h.log)) {
		t.Fatalf("farm %s with %d changes, want %s with %d", s.Farm(), s.Newest(), o.farm, len(h.log))
	}
	n := 0
	err := s.eachChange(context.Background(), func(c syncproto.Change, order syncproto.Stamp) error {
		if !bytes.Equal(c.Canonical(), h.log[n].Canonical()) || order != h.orders[n] {
			t.Errorf("arrival %d is %s with order %v, want %s with %v", n+1, c.Identity(), order, h.log[n].Identity(), h.orders[n])
		}
		n++
		return nil
	})
	if err != nil || n != len(h.log) {
		t.Errorf("%d changes came over (%v), want %d", n, err, len(h.log))
	}
	if got := segments(t, s); len(got) != 5 {
		t.Errorf("segments %v, want five", got)
	}
	if found := verify(t, s); found.Incarnations != 3 {
		t.Errorf("verified %+v", found)
	}
	var left []string
	if err := s.orm.Raw("SELECT name FROM sqlite_master WHERE name LIKE 'old%' OR name LIKE 'changes%'").Scan(&left).Error; err != nil || len(left) > 0 {
		t.Errorf("%v are left over (%v)", left, err)
	}
}

func TestADatabaseOfVersion1GoesOnAsIfNothingHadBeen(t *testing.T) {
	dir := t.TempDir()
	h := newOld(t, dir).fill()
	s := open(t, dir)
	ack := settle(t, s, h.ofQ...)
	if ack.Seq != h.q.Seq || len(ack.Refused) != 1 || len(ack.Orders) != 2 || ack.Orders[0].Order != h.early {
		t.Errorf("sent again, the answer was %+v", ack)
	}
	if ack := settle(t, s, h.ofRenamed...); !slices.Equal(ack.Held, []int64{1}) || len(ack.Orders) != 0 {
		t.Errorf("sent again, the answer was %+v", ack)
	}
	third := again(h.ofRenamed[1], "dddddddd-0000-4000-8000-000000000000", 1, neverCame)
	if ack := settle(t, s, third); !slices.Equal(ack.Held, []int64{1}) {
		t.Errorf("what names the same former identity got %+v", ack)
	}
	settle(t, s, h.q.says(name("b1", "New"))...)
	if found := verify(t, s); found.Changes != int64(len(h.log))+1 {
		t.Errorf("verified %+v", found)
	}
	var row incarnationRow
	if err := s.orm.Where("incarnation = ?", h.p.Incarnation).First(&row).Error; err != nil || row.Device != "device" || row.Person != "ana" || row.Seen != 7 || row.Unsent != 2 {
		t.Errorf("what a hello told became %+v (%v)", row, err)
	}
}

func TestAFailedMigrationChangesNothing(t *testing.T) {
	dir := t.TempDir()
	o := newOld(t, dir)
	c := newPhone().says(name("b1", "North"))[0]
	o.keep(c.Stamp, c)
	o.exec("UPDATE changes SET bytes = '?'")
	o.close()
	for range 2 {
		s, err := Open(dir, fixed)
		if err == nil {
			closeStore(t, s)
			t.Fatal("it opened")
		}
	}
	db, err := sql.Open(DriverName, filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }() // the test is over
	var version, changes int
	if err := db.QueryRow("SELECT version, (SELECT count(*) FROM changes) FROM schema").Scan(&version, &changes); err != nil || version != 1 || changes != 1 {
		t.Errorf("version %d with %d changes is left (%v)", version, changes, err)
	}
}

// eachChange visits every change that was ever kept, in order of arrival, whether it stands or not.
func (s *Store) eachChange(ctx context.Context, visit func(c syncproto.Change, order syncproto.Stamp) error) error {
	err := s.reading(ctx, func(tx *sql.Tx, _ counters) error {
		return each(tx.Stmt(s.read[readLog]), []any{s.no, 0}, func(rows *sql.Rows) error {
			var found segment
			if err := found.scanPassed(rows); err != nil {
				return err
			}
			for i, c := range found.batch.Changes {
				if err := visit(c, found.batch.Orders[i]); err != nil {
					return err
				}
			}
			return nil
		})
	})
	return explain("reading the change log", err)
}

func TestADatabaseOfVersion3LearnsOfOlderCopies(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	joins(t, s, anaPerson, access.Owner, "d1", "one", "")
	for _, text := range []string{"ALTER TABLE farms DROP COLUMN restored", "UPDATE schema SET version = 3"} {
		if err := s.orm.Exec(text).Error; err != nil {
			t.Fatal(err)
		}
	}
	closeStore(t, s)
	s = open(t, dir)
	if at, err := s.RestoredUnseen(context.Background()); err != nil || !at.IsZero() {
		t.Errorf("restored at %v, %v", at, err)
	}
	if _, _, ok := deviceOf(t, s, "one"); !ok {
		t.Error("who had joined is not known any more")
	}
}
