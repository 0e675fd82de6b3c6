package changelog

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"slices"

	"github.com/google/uuid"

	"corymb/syncproto"
)

// Intake takes what phones saved to files into a change log, through the door that their frames come by.
type Intake struct {
	Standing func(ctx context.Context, asked Asked) (Standing, error)
	Append   func(ctx context.Context, frames []*Frame) ([]Result, error)
	Rights   Rights // of whoever brings the files
	Device   string // by which they are brought; empty at the shed itself
}

// Taken is what became of the changes of a file.
type Taken struct {
	Kept    int                 // now in the log
	Already int                 // there before
	Refused []syncproto.Refusal // now or before; by the seq that the file has
}

// TakeIn asks for every change of a file. Nothing of it is lost or counts twice, whether the phone
// sends the same itself or the file is read again: what is pending goes in as the phone would have
// sent it or, where its past is not the one that the log knows, is said again under an incarnation of
// its own, each change naming the one it was. What was refused is not judged again, except by a log
// that does not know of it. After an error it can be tried again. Where the log cannot take anything
// now, the error is a *syncproto.Breach.
func (in Intake) TakeIn(ctx context.Context, u Unsent) (Taken, error) {
	taken := Taken{Refused: []syncproto.Refusal{}}
	if err := in.takePending(ctx, u, &taken); err != nil {
		return taken, fmt.Errorf("taking in what was not sent: %w", err)
	}
	for _, changes := range byIncarnation(u.Refused) {
		if err := in.takeRefused(ctx, changes, &taken); err != nil {
			return taken, fmt.Errorf("taking in what had been refused: %w", err)
		}
	}
	return taken, nil
}

func (in Intake) takePending(ctx context.Context, u Unsent, taken *Taken) error {
	if len(u.Pending) == 0 {
		return nil
	}
	last := u.Pending[len(u.Pending)-1].Seq
	standing, err := in.Standing(ctx, Asked{Incarnation: u.Incarnation, Settled: last})
	if err != nil {
		return err
	}
	if !u.provenAt(standing) {
		return in.sayAgain(ctx, u.Pending, taken)
	}
	return in.send(ctx, u.Pending, standing.Seq, taken)
}

// provenAt tells whether the pending changes may follow what the log has settled. Where they overlap
// with that, their bytes will tell.
func (u Unsent) provenAt(standing Standing) bool {
	before := u.Pending[0].Seq - 1
	return standing.Seq > before || standing.Seq == before && standing.Hash.String() == u.Before
}

// takeRefused asks for operations of one incarnation that were refused: a log that has settled them
// says again why, and any other judges them afresh.
func (in Intake) takeRefused(ctx context.Context, changes []syncproto.Change, taken *Taken) error {
	last := changes[len(changes)-1].Seq
	standing, err := in.Standing(ctx, Asked{Incarnation: changes[0].Incarnation, Settled: last})
	if err != nil {
		return err
	}
	settled := slices.IndexFunc(changes, func(c syncproto.Change) bool { return c.Seq+int64(c.Rest) > standing.Seq })
	if settled < 0 {
		settled = len(changes)
	}
	for _, run := range runs(changes[:settled]) {
		if err := in.send(ctx, run, standing.Seq, taken); err != nil {
			return err
		}
	}
	return in.sayAgain(ctx, changes[settled:], taken)
}

// send pushes changes as they are. From where they turn out to be of another past, they are said again.
func (in Intake) send(ctx context.Context, changes []syncproto.Change, settled int64, taken *Taken) error {
	sent, err := in.push(ctx, changes, changes, settled, taken)
	var breach *syncproto.Breach
	if errors.As(err, &breach) && (breach.Code == syncproto.CodeGap || breach.Code == syncproto.CodeReused) {
		return in.sayAgain(ctx, changes[sent:], taken)
	}
	return err
}

// sayAgain pushes changes of one incarnation under another, which follows from what they are: read
// again, they are settled again.
func (in Intake) sayAgain(ctx context.Context, changes []syncproto.Change, taken *Taken) error {
	if len(changes) == 0 {
		return nil
	}
	again, err := saidAgain(changes)
	if err != nil {
		return err
	}
	standing, err := in.Standing(ctx, Asked{Incarnation: again[0].Incarnation, Settled: int64(len(again))})
	if err != nil {
		return err
	}
	in.Device = "" // whoever brings it: it follows from what the changes are, so nobody else's can be meant
	_, err = in.push(ctx, again, changes, standing.Seq, taken)
	return err
}

func saidAgain(changes []syncproto.Change) ([]syncproto.Change, error) {
	namespace, err := uuid.Parse(changes[0].Incarnation)
	if err != nil {
		return nil, err
	}
	digest := sha256.New()
	for _, c := range changes {
		digest.Write(c.Canonical())
	}
	incarnation := uuid.NewSHA1(namespace, fmt.Appendf(nil, "taken in\n%x", digest.Sum(nil))).String()
	again := slices.Clone(changes)
	for i := range again {
		c := &again[i]
		former, ok := c.Former() // the identity under which it was first framed
		if !ok {
			former = c.Identity()
		}
		c.Incarnation, c.Seq, c.Extra = incarnation, int64(i)+1, maps.Clone(c.Extra)
		if c.Extra == nil {
			c.Extra = map[string]syncproto.Value{}
		}
		c.Extra[syncproto.ExtraFormer] = syncproto.Text(string(former))
	}
	return again, nil
}

// push pushes changes of one incarnation, of which the log had settled those up to a seq, and counts
// what becomes of them. asFiled are the same as they stand in the file. It returns how many are
// settled; a *syncproto.Breach is what kept the others from it.
func (in Intake) push(ctx context.Context, changes, asFiled []syncproto.Change, before int64, taken *Taken) (int, error) {
	settled := 0
	var ack syncproto.Ack
	talk := &Conversation{}
	for _, batch := range InFrames(changes) {
		frame, err := NewFrame(changes[0].Incarnation, in.Rights, syncproto.Batch{Changes: batch})
		if err != nil {
			return settled, err
		}
		frame.Conversation, frame.Device = talk, in.Device
		results, err := in.Append(ctx, []*Frame{frame})
		if err != nil {
			return settled, err
		}
		if results[0].Breach != nil {
			return settled, results[0].Breach
		}
		told := results[0].Ack
		// A part of a large operation settles nothing until its last.
		ack.Held, ack.Refused = append(ack.Held, told.Held...), append(ack.Refused, told.Refused...)
		if now := min(int(told.Seq-changes[0].Seq)+1, len(changes)); now > settled {
			taken.count(changes[settled:now], asFiled[settled:now], before, ack)
			settled, ack = now, syncproto.Ack{}
		}
	}
	return settled, nil
}

func (t *Taken) count(changes, asFiled []syncproto.Change, before int64, ack syncproto.Ack) {
	refused := map[int64]syncproto.Refusal{}
	for _, r := range ack.Refused {
		refused[r.Seq] = r
	}
	held := map[int64]bool{}
	for _, seq := range ack.Held {
		held[seq] = true
	}
	for i, c := range changes {
		r, isRefused := refused[c.Seq]
		switch {
		case isRefused:
			r.Seq = asFiled[i].Seq
			t.Refused = append(t.Refused, r)
		case c.Seq <= before || held[c.Seq]:
			t.Already++
		default:
			t.Kept++
		}
	}
}
