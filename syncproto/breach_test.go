package syncproto

import (
	"errors"
	"testing"
)

const someone = "aaaaaaaa-0000-4000-8000-000000000000"

// three is a good push: an operation of two changes, then one of one.
func three() Push {
	change := func(seq, l int64, rest int) Change {
		return Change{
			Incarnation: someone, Seq: seq, Stamp: Stamp{L: l}, Rest: rest, Scope: ScopeField,
			Op: OpSet, Type: "bed", ID: "b", Field: "name", Value: Text("North"),
		}
	}
	return Push{T: TypePush, Changes: []Change{change(5, 10, 1), change(6, 10, 0), change(7, 11, 0)}}
}

func TestAPushIsCheckedWhateverTheServerHolds(t *testing.T) {
	tests := []struct {
		name   string
		change func(p *Push)
		code   Code // empty where it passes
	}{
		{"as it should be", func(*Push) {}, ""},
		{"with orders", func(p *Push) { p.Orders = []SeqOrder{{5, Stamp{L: 10}}, {7, Stamp{L: 9}}} }, ""},
		{"nothing", func(p *Push) { p.Changes = nil }, CodeMalformed},
		{"too much", func(p *Push) { p.Changes = make([]Change, MaxFrameChanges+1) }, CodeTooLarge},
		{"more orders than changes", func(p *Push) { p.Orders = make([]SeqOrder, 4) }, CodeTooLarge},
		{"another incarnation", func(p *Push) { p.Changes[1].Incarnation = "b" }, CodeMalformed},
		{"a change that cannot be kept", func(p *Push) { p.Changes[1].Field = "" }, CodeMalformed},
		{"a gap", func(p *Push) { p.Changes[2].Seq = 8 }, CodeGap},
		{"a seq twice", func(p *Push) { p.Changes[2].Seq = 6 }, CodeGap},
		{"an operation without its end", func(p *Push) { p.Changes[2].Rest = 1 }, CodeSplit},
		{"an operation that miscounts", func(p *Push) { p.Changes[0].Rest = 2 }, CodeSplit},
		{"two stamps in one operation", func(p *Push) { p.Changes[1].Stamp.C = 1 }, CodeMalformed},
		{"two operations with one stamp", func(p *Push) { p.Changes[2].Stamp.L = 10 }, CodeMalformed},
		{"an order above its stamp", func(p *Push) { p.Orders = []SeqOrder{{5, Stamp{L: 10, C: 1}}} }, CodeMalformed},
		{"an order out of bounds", func(p *Push) { p.Orders = []SeqOrder{{5, Stamp{L: -1}}} }, CodeMalformed},
		{"an order of another change", func(p *Push) { p.Orders = []SeqOrder{{4, Stamp{}}} }, CodeMalformed},
		{"an order twice", func(p *Push) { p.Orders = []SeqOrder{{5, Stamp{}}, {5, Stamp{}}} }, CodeMalformed},
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
