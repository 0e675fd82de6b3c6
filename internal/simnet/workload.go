package simnet

import (
	"fmt"
	"math/rand/v2"

	"github.com/google/uuid"

	"corymb/syncproto"
)

// Counts is the workload that the sync is measured by: n operations of one stem count each, as a
// walk makes them, of a random plant of 2,000 on a random day of a season of two months, with a
// random grade and length class, 1 to 9 stems, and 0.2 to 3 seconds between two.
func Counts(rnd *rand.Rand, incarnation string, n int) syncproto.Batch {
	b := syncproto.Batch{Origins: map[string]syncproto.Origin{}}
	stamp := syncproto.Stamp{L: 1_780_000_000_000}
	for i := range n {
		stamp.L += 200 + rnd.Int64N(2_800)
		o := syncproto.Origin{
			Namespace: incarnation, Person: "ana", Subject: plantID(rnd.IntN(2_000)),
			Recorded: fmt.Sprintf("2026-%02d-%02d", 5+rnd.IntN(2), 1+rnd.IntN(30)), Purpose: "cut",
		}
		id, _ := o.ID() // the namespace is a UUID
		b.Origins[id] = o
		length := 200 + 100*rnd.IntN(7)
		b.Changes = append(b.Changes, syncproto.Change{
			Incarnation: incarnation, Seq: int64(i + 1), Stamp: stamp, Person: "ana", Scope: syncproto.ScopeField,
			Op: syncproto.OpCount, Type: "visit", ID: id,
			Field: fmt.Sprintf("%s|%d|%d", grades[rnd.IntN(len(grades))], length, length+100),
			Value: syncproto.Int(1 + rnd.Int64N(9)),
		})
	}
	return b
}

var grades = []string{"extra", "first", "second", "out"}

func plantID(n int) string { return uuid.NewSHA1(uuid.Nil, fmt.Append(nil, n)).String() }

// Part is the changes from..to-1 of a batch.
func Part(b syncproto.Batch, from, to int) syncproto.Batch {
	part := syncproto.Batch{Changes: b.Changes[from:to], Origins: b.Origins}
	if b.Orders != nil {
		part.Orders = b.Orders[from:to]
	}
	return part
}
