package syncproto

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

const someone = "aaaaaaaa-0000-4000-8000-000000000000"

// three is a good push: an operation of two changes, then one of one.
func three() Batch {
	change := func(seq, l int64, rest int) Change {
		return Change{
			Incarnation: someone, Seq: seq, Stamp: Stamp{L: l}, Rest: rest, Scope: ScopeField,
			Op: OpSet, Type: "bed", ID: "b", Field: "name", Value: Text("North"),
		}
	}
	return Batch{Changes: []Change{change(5, 10, 1), change(6, 10, 0), change(7, 11, 0)}}
}

// part is the first n changes of an operation.
func part(n, of int) []Change {
	changes := make([]Change, n)
	for i := range changes {
		changes[i] = three().Changes[0]
		changes[i].Seq, changes[i].Rest = int64(i+1), of-1-i
	}
	return changes
}

func TestAFrameIsCheckedWhateverTheServerHolds(t *testing.T) {
	tests := []struct {
		name   string
		change func(p *Batch)
		code   Code // empty where it passes
	}{
		{"as it should be", func(*Batch) {}, ""},
		{"with orders", func(p *Batch) { p.Orders = []Stamp{{L: 10}, NoOrder, {L: 9}} }, ""},
		{"a part of a large operation", func(p *Batch) { p.Changes = part(MaxFrameChanges, 3_000) }, ""},
		{"a part that is too short", func(p *Batch) { p.Changes = part(999, 3_000) }, CodeSplit},
		{"a part of few long changes", func(p *Batch) {
			p.Changes = part(140, 600)
			for i := range p.Changes {
				p.Changes[i].Value = Text(strings.Repeat("x", MaxTextBytes))
			}
		}, ""},
		{"few names that grow into too much", func(p *Batch) {
			p.Changes = part(600, 600)
			for i := range p.Changes {
				p.Changes[i].Value = Text(strings.Repeat("x", MaxTextBytes))
			}
		}, CodeTooLarge},
		{"few names that cannot be kept and grow into too much", func(p *Batch) {
			p.Changes = part(600, 600)
			for i := range p.Changes { // not NFC, which takes long to find out so often
				p.Changes[i].Value = Text(strings.Repeat("a\u0302\u0300", MaxTextBytes/5))
			}
		}, CodeTooLarge},
		{"a part of few long lists", func(p *Batch) {
			p.Changes = part(17, 600)
			for i := range p.Changes {
				p.Changes[i].Value = List(slices.Repeat([]string{"a"}, 1_000)...)
			}
		}, ""},
		{"more elements of lists than a frame may have", func(p *Batch) {
			p.Changes = part(66, 66)
			for i := range p.Changes {
				p.Changes[i].Value = List(slices.Repeat([]string{"a"}, 1_000)...)
			}
		}, CodeTooLarge},
		{"a change that is too long alone", func(p *Batch) {
			p.Changes[1].Extra = map[string]Value{}
			for i := range 9 { // a control character is written with six
				p.Changes[1].Extra[string(rune('a'+i))] = List(slices.Repeat([]string{strings.Repeat("\x01", 20)}, 1_000)...)
			}
		}, CodeMalformed},
		{"a part beside another operation", func(p *Batch) {
			p.Changes = append(part(1, 1), part(1_500, 3_000)...)
			for i := range p.Changes[1:] {
				p.Changes[i+1].Seq, p.Changes[i+1].Stamp.L = int64(i+2), 11
			}
		}, CodeSplit},
		{"nothing", func(p *Batch) { p.Changes = nil }, CodeMalformed},
		{"too much", func(p *Batch) { p.Changes = make([]Change, MaxFrameChanges+1) }, CodeTooLarge},
		{"another incarnation", func(p *Batch) { p.Changes[1].Incarnation = "b" }, CodeMalformed},
		{"a change that cannot be kept", func(p *Batch) { p.Changes[1].Field = "" }, CodeMalformed},
		{"a gap", func(p *Batch) { p.Changes[2].Seq = 8 }, CodeGap},
		{"a seq twice", func(p *Batch) { p.Changes[2].Seq = 6 }, CodeGap},
		{"an operation without its end", func(p *Batch) { p.Changes[2].Rest = 1 }, CodeSplit},
		{"an operation that miscounts", func(p *Batch) { p.Changes[0].Rest = 2 }, CodeSplit},
		{"two stamps in one operation", func(p *Batch) { p.Changes[1].Stamp.C = 1 }, CodeMalformed},
		{"two operations with one stamp", func(p *Batch) { p.Changes[2].Stamp.L = 10 }, CodeMalformed},
		{"an order above its stamp", func(p *Batch) { p.Orders = []Stamp{{L: 10, C: 1}, NoOrder, NoOrder} }, CodeMalformed},
		{"an order out of bounds", func(p *Batch) { p.Orders = []Stamp{{L: 10, C: -1}, NoOrder, NoOrder} }, CodeMalformed},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := three()
			tt.change(&p)
			err := p.Check(someone)
			var breach *Breach
			switch {
			case tt.code == "" && err != nil:
				t.Errorf("it was refused: %v", err)
			case tt.code != "" && (!errors.As(err, &breach) || breach.Code != tt.code || breach.Text == ""):
				t.Errorf("got %v, want %s", err, tt.code)
			}
		})
	}
}
