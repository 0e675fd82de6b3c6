package store

import (
	"database/sql"
	"fmt"
	"maps"
	"math/bits"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// segment is a segment of the log, read.
type segment struct {
	first    int64 // arrival number of its first change
	firstSeq int64
	batch    syncproto.Batch
	passed   bitmap // nil where all stand, or where it was not asked for
}

// packedSegment is a row of the log as it is read; its bytes are good until the next row.
type packedSegment struct {
	first, n, firstSeq int64
	packed, passed     sql.RawBytes
}

// scan reads a row of segmentColumns and the bits of what stands no longer.
func (p *packedSegment) scan(rows *sql.Rows) error {
	return rows.Scan(&p.first, &p.n, &p.firstSeq, &p.packed, &p.passed)
}

func (p *packedSegment) unpack() (segment, error) {
	s := segment{first: p.first, firstSeq: p.firstSeq, passed: bitmap(slices.Clone(p.passed))}
	var err error
	if s.batch, err = syncproto.ReadAlone(p.packed); err != nil {
		return s, fmt.Errorf("the segment at arrival %d: %v", p.first, err) // no fault of whoever talks to us
	}
	if int64(len(s.batch.Changes)) != p.n || s.batch.Orders == nil {
		return s, fmt.Errorf("the segment at arrival %d holds %d changes, not %d, or lacks their orders", p.first, len(s.batch.Changes), p.n)
	}
	return s, nil
}

// scan reads a row of segmentColumns.
func (s *segment) scan(rows *sql.Rows) (err error) {
	var p packedSegment
	if err := rows.Scan(&p.first, &p.n, &p.firstSeq, &p.packed); err != nil {
		return err
	}
	*s, err = p.unpack()
	return err
}

// scanPassed reads a row of segmentColumns and the bits of what stands no longer.
func (s *segment) scanPassed(rows *sql.Rows) (err error) {
	var p packedSegment
	if err := p.scan(rows); err != nil {
		return err
	}
	*s, err = p.unpack()
	return err
}

// at is the change with an arrival number, if the segment holds it.
func (s *segment) at(arrival int64) (kept, bool) {
	i := arrival - s.first
	if i < 0 || i >= int64(len(s.batch.Changes)) {
		return kept{}, false
	}
	return kept{change: s.batch.Changes[i], order: s.batch.Orders[i], arrival: arrival, first: s.first}, true
}

// kept is one change of the log.
type kept struct {
	change  syncproto.Change
	order   syncproto.Stamp
	arrival int64
	first   int64 // arrival number of the first change of its segment
}

// bitmap holds a bit for each change of a segment.
type bitmap []byte

func (b bitmap) has(i int) bool { return i/8 < len(b) && b[i/8]&(1<<(i%8)) != 0 }

// count is how many bits are set.
func (b bitmap) count() int {
	n := 0
	for _, eight := range b {
		n += bits.OnesCount8(eight)
	}
	return n
}

// with is the bitmap with one more bit set.
func (b bitmap) with(i int) bitmap {
	for i/8 >= len(b) {
		b = append(b, 0)
	}
	b[i/8] |= 1 << (i % 8)
	return b
}

// Limits of a segment. What it comes to as a batch must stay within those of PROTOCOL.md, section 4,
// also where frames share it: a change brings at most so many new names and elements of lists.
const (
	segmentBytes = 1 << 20 // canonical
	segmentNames = 60_000
)

// run is a segment in the making.
type run struct {
	no      int64 // the incarnation's number
	first   int64 // arrival number of its first change
	batch   syncproto.Batch
	scopes  int64
	bytes   int
	names   int
	borrows bool // the origins are a frame's own
}

// takes tells whether the change can be the next one of the run.
func (r *run) takes(no int64, c syncproto.Change, arrival int64, bytes int) bool {
	n := len(r.batch.Changes)
	if n == 0 {
		return true
	}
	last := &r.batch.Changes[n-1]
	return r.no == no && last.Seq+1 == c.Seq && r.first+int64(n) == arrival && n < syncproto.MaxFrameChanges &&
		r.bytes+bytes <= segmentBytes && r.names+namesOf(c) <= segmentNames
}

// add takes a change in.
func (r *run) add(no int64, c syncproto.Change, order syncproto.Stamp, arrival int64, bytes int) {
	if len(r.batch.Changes) == 0 {
		r.no, r.first = no, arrival
	}
	r.batch.Changes = append(r.batch.Changes, c)
	r.batch.Orders = append(r.batch.Orders, order)
	r.scopes |= scopeBits(c.Scope)
	r.bytes += bytes
	r.names += namesOf(c)
}

// at is the change with an arrival number, if it is in the run.
func (r *run) at(arrival int64) (kept, bool) {
	running := segment{first: r.first, batch: r.batch}
	return running.at(arrival)
}

// seq is the change with a seq of an incarnation, if it is in the run.
func (r *run) seq(no, seq int64) (kept, bool) {
	if r.no != no || len(r.batch.Changes) == 0 {
		return kept{}, false
	}
	return r.at(r.first + seq - r.batch.Changes[0].Seq)
}

// clear makes the run ready for the next segment.
func (r *run) clear() {
	clear(r.batch.Changes) // what they point to may go
	*r = run{batch: syncproto.Batch{Changes: r.batch.Changes[:0], Orders: r.batch.Orders[:0]}}
}

// derive notes what ids of a frame were derived from; again says that its last change was of the same
// frame.
func (r *run) derive(f *changelog.Frame, again bool) {
	origins := f.Batch().Origins
	r.batch.Proven = f.Batch().Proven && (r.batch.Proven || r.batch.Origins == nil)
	switch {
	case len(origins) == 0:
		return
	case r.batch.Origins == nil:
		r.batch.Origins, r.borrows = origins, true
	case again:
		return
	case r.borrows:
		r.batch.Origins, r.borrows = maps.Clone(r.batch.Origins), false
		fallthrough
	default:
		maps.Copy(r.batch.Origins, origins)
	}
}

// last is the identity of the last change.
func (r *run) last() syncproto.Identity {
	return r.batch.Changes[len(r.batch.Changes)-1].Identity()
}

// segment is the run as it is written.
func (r *run) segment() changelog.Segment {
	return changelog.Segment{
		Incarnation: r.batch.Changes[0].Incarnation, First: r.first, Arrival: r.first + int64(len(r.batch.Changes)) - 1,
		Last: r.last(), Scopes: scopesOf(r.scopes), Batch: syncproto.AppendAlone(nil, r.batch),
	}
}

// namesOf is at least how many names and elements of lists a change needs.
func namesOf(c syncproto.Change) int {
	n := 13 + len(c.Value.List) + 2*len(c.Extra)
	for _, v := range c.Extra {
		n += len(v.List)
	}
	return n
}

// scopeBits is the bit mask of scopes.
func scopeBits(scopes ...syncproto.Scope) int64 {
	bits := int64(0)
	for _, scope := range scopes {
		if i := slices.Index(syncproto.Scopes, scope); i >= 0 {
			bits |= 1 << i
		}
	}
	return bits
}

func scopesOf(bits int64) []syncproto.Scope {
	var scopes []syncproto.Scope
	for i, scope := range syncproto.Scopes {
		if bits&(1<<i) != 0 {
			scopes = append(scopes, scope)
		}
	}
	return scopes
}
