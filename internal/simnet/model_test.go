package simnet

import (
	"path/filepath"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// What must hold beyond that everybody has the same: operations are whole, no order runs ahead of the
// shed's clock, orders that were told stay, what is recorded lies after what was told, and cells come to
// what was counted.

// checkWhole finds every operation in the log whole or not at all.
func (s *sim) checkWhole(times map[string]int) {
	for _, d := range s.devices {
		for _, log := range d.disk.kept.Logs {
			for _, o := range log.Operations {
				kept := 0
				for _, c := range o.Changes {
					kept += min(1, times[factsOf(c)])
				}
				if kept != 0 && kept != len(o.Changes) {
					s.fail("of the %d changes of the operation at %s, the log has %d", len(o.Changes), o.Changes[0].Identity(), kept)
					return
				}
			}
		}
	}
}

// checkStamp finds that what a phone records lies after all that it was told, so that it stands.
func (s *sim) checkStamp(d *device) {
	for _, told := range d.disk.kept.Reading.Told {
		if told.Order.Compare(d.last) >= 0 {
			s.fail("%s records at %v, having been told of %v", d.name, d.last, told.Order)
			return
		}
	}
}

// checkOrders holds the orders of what was just written against the shed's clock.
func (l *shedLog) checkOrders(results []changelog.Result) {
	for _, r := range results {
		for _, written := range r.Written {
			batch, err := syncproto.ReadAlone(written.Batch)
			if err != nil {
				l.shed.sim.fail("reading what was written: %v", err)
				return
			}
			for i, c := range batch.Changes {
				l.shed.checkOrder(c, batch.Orders[i])
			}
		}
	}
}

func (s *shed) checkOrder(c syncproto.Change, order syncproto.Stamp) {
	limit := syncproto.Stamp{L: s.now().UnixMilli() + 60_000}
	if next := s.highest.Next(); next.Compare(limit) > 0 {
		limit = next
	}
	if order.Compare(c.Stamp) > 0 || order.Compare(limit) > 0 {
		s.sim.fail("%s, of %v, got the order %v, above %v", c.Identity(), c.Stamp, order, limit)
	}
	if order.Compare(s.highest) > 0 {
		s.highest = order
	}
}

// highestOrder reads the log that a shed starts with.
func (s *shed) highestOrder() {
	kept, err := readLog(filepath.Join(s.dir, store.FileName))
	if err != nil {
		s.sim.fail("reading the log: %v", err)
	}
	s.highest = syncproto.Stamp{}
	for _, k := range kept {
		if k.Order.Compare(s.highest) > 0 {
			s.highest = k.Order
		}
	}
}

// noteTold notes the orders that a phone was told first. A change that is sent again to a restored shed
// is to have the same there.
func (d *device) noteTold() {
	for _, log := range d.disk.kept.Logs {
		for i := range log.Operations {
			o := &log.Operations[i]
			for k, c := range o.Changes {
				if _, noted := d.told[factsOf(c)]; !noted && o.Fates[k].Order != syncproto.NoOrder {
					d.told[factsOf(c)] = o.Fates[k].Order
				}
			}
		}
	}
}

// checkTold compares what phones were told with the log. It can be otherwise where the clock of the shed
// went back between, or a copy of the phone, which was not told, came first.
func (s *sim) checkTold(kept []Told) {
	if s.shed.wasWrong {
		return
	}
	orders := map[string]syncproto.Stamp{}
	for _, k := range kept {
		orders[factsOf(k.Change)] = k.Order
	}
	for _, d := range s.devices {
		if d.copied {
			continue
		}
		for facts, told := range d.told {
			if order, ok := orders[facts]; ok && order != told {
				s.fail("%s was told the order %v, the log has %v: %s", d.name, told, order, facts)
				return
			}
		}
	}
}

// checkCounts compares count cells with the log. One phone and its copies count in a cell, others correct
// it: so what was counted last is the total until somebody corrects it.
func (s *sim) checkCounts(kept []Told) {
	state := changelog.NewState()
	last := map[cell]Told{}
	for _, k := range kept {
		state.Merge(k.Change, k.Order)
		at := cell{k.Change.Type, k.Change.ID, k.Change.Field}
		if before, ok := last[at]; k.Change.Op == syncproto.OpCount && (!ok || k.isAbove(before)) {
			last[at] = k
		}
	}
	for at, k := range last {
		count := state.Entity(at.entity, at.id).Count(at.field)
		if len(count.Tips) == 0 && count.Total != k.Change.Value.Int {
			s.fail("%d was counted last in %s of %s %s, which comes to %d", k.Change.Value.Int, at.field, at.entity, at.id, count.Total)
			return
		}
	}
}

func (t Told) isAbove(o Told) bool {
	return changelog.EntryOf(t.Change, t.Order).Compare(changelog.EntryOf(o.Change, o.Order)) > 0
}
