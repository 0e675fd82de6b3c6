package live_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"corymb/syncproto"
)

// BenchmarkAChangeSeenOnAnotherPhone is the time from the push of one change to its news at another
// connected phone, the disk's included; one after the other. The server's and both phones'
// allocations count.
func BenchmarkAChangeSeenOnAnotherPhone(b *testing.B) { seen(b, 1) }

// BenchmarkAChangeSeenOnAHundredPhones is the time until the last of them has it.
func BenchmarkAChangeSeenOnAHundredPhones(b *testing.B) { seen(b, 100) }

func seen(b *testing.B, readers int) {
	s := startShed(b, nil)
	writer := newPhone(b)
	writer.connect(s)
	arrived := make(chan int64, readers)
	for range readers {
		p := newPhone(b)
		p.connect(s)
		if err := p.socket.SetReadDeadline(time.Now().Add(time.Hour)); err != nil {
			b.Fatal(err)
		}
		go func() {
			for {
				m, err := p.receive()
				if err != nil {
					return // the benchmark is over
				}
				if n, ok := m.(news); ok {
					arrived <- n.Arrival
				}
			}
		}()
	}
	if err := writer.socket.SetReadDeadline(time.Now().Add(time.Hour)); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var took []time.Duration
	for b.Loop() {
		change := writer.records("b1", fmt.Sprint(writer.Seq))
		at := time.Now()
		writer.push(change...)
		for range readers {
			if arrival := <-arrived; arrival != writer.Seq {
				b.Fatalf("news up to %d after seq %d", arrival, writer.Seq)
			}
		}
		took = append(took, time.Since(at))
		for await[syncproto.Ack](writer).Seq < writer.Seq {
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "median-µs")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "p99-µs")
}
