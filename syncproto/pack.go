package syncproto

import (
	"encoding/binary"
	"maps"
	"slices"
)

// Modes of a batch (PROTOCOL.md, section 4).
const (
	modeLinked = iota
	modeAnew
	modeAlone
)

// Batch is a run of changes as they travel and are stored.
type Batch struct {
	Changes []Change
	// Orders are the orders that were given, one for each change, NoOrder where it is not told; nil
	// where none is told.
	Orders []Stamp
	// Origins says which ids were derived, and from what. It may be nil and may hold more.
	Origins map[string]Origin
	// Proven says that every origin is known to give its id, as those of a batch that was read are:
	// they are not derived again to see.
	Proven bool
}

// NoOrder stands for an order that is not told.
var NoOrder = Stamp{L: -1}

// Packer packs the batches of one direction of a conversation: a name travels once.
type Packer struct {
	begun   bool
	names   *packedNames
	derived []Origin // of the batch under way
	ids     []int64  // for each change, which of the derived its id is, or named
	columns []int64
	kinds   []int64
	values  []int64
	items   []int64
}

// named says that an id is a name like any other.
const named = -1

// NewPacker makes a packer for a conversation that begins.
func NewPacker() *Packer { return &Packer{names: newPackedNames()} }

// AppendAlone packs a batch that can be read without any other.
func AppendAlone(b []byte, batch Batch) []byte {
	p := NewPacker()
	p.collect(batch)
	return p.append(append(b, modeAlone), batch)
}

// Append packs the next batch of the conversation. The changes are within the limits that Check
// knows; so is the batch.
func (p *Packer) Append(b []byte, batch Batch) []byte {
	mode := byte(modeLinked)
	if !p.begun {
		p.begun, mode = true, modeAnew
	}
	p.collect(batch)
	if p.names.isFull() {
		p.names = newPackedNames()
		p.collect(batch)
		mode = modeAnew
	}
	return p.append(append(b, mode), batch)
}

func (p *Packer) append(b []byte, batch Batch) []byte {
	p.names.number()
	b = binary.AppendUvarint(b, uint64(len(batch.Changes)))
	b = p.appendNames(b)
	b = p.appendParts(b, batch.Changes)
	b = p.appendExtras(b, batch.Changes)
	b = p.appendOrders(b, batch)
	p.names.settle()
	return b
}

// The names that every change has.
var (
	incarnationOf = func(c *Change) string { return c.Incarnation }
	personOf      = func(c *Change) string { return c.Person }
	scopeOf       = func(c *Change) string { return string(c.Scope) }
	opOf          = func(c *Change) string { return string(c.Op) }
	typeOf        = func(c *Change) string { return c.Type }
	fieldOf       = func(c *Change) string { return c.Field }
)

// collect finds the names that the batch needs, a column after the other: what a column holds then
// lies close together, and its numbers are short.
func (p *Packer) collect(batch Batch) {
	for _, part := range [...]func(*Change) string{incarnationOf, personOf, scopeOf, opOf, typeOf, fieldOf} {
		p.names.collectColumn(batch.Changes, part)
	}
	for i := range batch.Changes {
		if v := &batch.Changes[i].Value; v.Kind == KindText {
			p.names.collect(v.Text)
		}
	}
	for i := range batch.Changes {
		p.names.collectItems(batch.Changes[i].Value)
	}
	p.collectExtras(batch.Changes)
	p.collectIDs(batch)
}

// collectColumn spares the lookup of what only repeats the change before.
func (n *packedNames) collectColumn(changes []Change, part func(*Change) string) {
	for i := range changes {
		if text := part(&changes[i]); i == 0 || text != part(&changes[i-1]) {
			n.collect(text)
		}
	}
}

func (n *packedNames) collectItems(v Value) {
	for _, item := range v.List {
		n.collect(item)
	}
}

func (p *Packer) collectExtras(changes []Change) {
	for _, collect := range [...]func(name string, v Value){
		func(name string, _ Value) { p.names.collect(name) },
		func(_ string, v Value) {
			if v.Kind == KindText {
				p.names.collect(v.Text)
			}
		},
		func(_ string, v Value) { p.names.collectItems(v) },
	} {
		for i := range changes {
			eachExtra(&changes[i], collect)
		}
	}
}

func eachExtra(c *Change, visit func(name string, v Value)) {
	if len(c.Extra) == 0 {
		return
	}
	for _, name := range slices.Sorted(maps.Keys(c.Extra)) {
		visit(name, c.Extra[name])
	}
}

// collectIDs finds out which ids are derived, and takes the others and what the derived ones come
// from.
func (p *Packer) collectIDs(batch Batch) {
	p.derived, p.ids = p.derived[:0], p.ids[:0]
	for i := range batch.Changes {
		id := batch.Changes[i].ID
		if i > 0 && id == batch.Changes[i-1].ID {
			p.ids = append(p.ids, p.ids[i-1])
			continue
		}
		o, ok := batch.Origins[id]
		if !ok || !batch.Proven && !o.gives(id) {
			p.names.collect(id)
			p.ids = append(p.ids, named)
			continue
		}
		p.ids = append(p.ids, int64(len(p.derived)))
		p.derived = append(p.derived, o)
	}
	for part := range originParts {
		for i := range p.derived {
			p.names.collect(p.derived[i].part(part))
		}
	}
}

// gives tells whether the origin derives the id, from parts that may be named.
func (o Origin) gives(id string) bool {
	for part := range originParts {
		if len(o.part(part)) > MaxNameBytes {
			return false
		}
	}
	got, ok := o.ID()
	return ok && got == id
}

func (p *Packer) appendNames(b []byte) []byte {
	n := p.names
	b = binary.AppendUvarint(b, uint64(len(n.texts)))
	for _, text := range n.texts {
		b = binary.AppendUvarint(b, uint64(len(text)))
		b = append(b, text...)
	}
	b = binary.AppendUvarint(b, uint64(len(n.uuids)))
	for _, id := range n.uuids {
		b = append(b, id[:]...)
	}
	b = binary.AppendUvarint(b, uint64(len(p.derived)))
	for part := range originParts {
		b = p.textColumn(b, len(p.derived), func(i int) string { return p.derived[i].part(part) })
	}
	return b
}

// column appends a column of k numbers.
func (p *Packer) column(b []byte, k int, number func(i int) int64) []byte {
	p.columns = p.columns[:0]
	for i := range k {
		p.columns = append(p.columns, number(i))
	}
	return appendColumn(b, p.columns)
}

func (p *Packer) appendParts(b []byte, changes []Change) []byte {
	k := len(changes)
	b = p.textColumn(b, k, func(i int) string { return changes[i].Incarnation })
	b = p.column(b, k, func(i int) int64 { return changes[i].Seq })
	b = p.column(b, k, func(i int) int64 { return changes[i].Stamp.L })
	b = p.column(b, k, func(i int) int64 { return changes[i].Stamp.C })
	b = p.column(b, k, func(i int) int64 { return int64(changes[i].Rest) })
	for _, part := range [...]func(*Change) string{personOf, scopeOf, opOf, typeOf} {
		b = p.textColumn(b, k, func(i int) string { return part(&changes[i]) })
	}
	b = p.column(b, k, func(i int) int64 { return p.idNumber(changes, i) })
	b = p.textColumn(b, k, func(i int) string { return changes[i].Field })
	b = p.column(b, k, func(i int) int64 { return int64(changes[i].Value.Kind) })
	b = p.column(b, k, func(i int) int64 { return p.valueNumber(changes[i].Value) })
	b = p.column(b, k, func(i int) int64 { return int64(len(changes[i].Extra)) })
	p.items = p.items[:0]
	for i := range changes {
		p.noteItems(changes[i].Value)
	}
	return appendColumn(b, p.items)
}

// textColumn appends the numbers of names, sparing the lookup of what repeats the one before.
func (p *Packer) textColumn(b []byte, k int, text func(i int) string) []byte {
	var number int64
	var before string
	return p.column(b, k, func(i int) int64 {
		if t := text(i); i == 0 || t != before {
			number, before = p.names.numbers[t], t
		}
		return number
	})
}

func (p *Packer) idNumber(changes []Change, i int) int64 {
	if p.ids[i] == named {
		return p.names.numbers[changes[i].ID]
	}
	return int64(len(p.names.numbers)) + p.ids[i]
}

// valueNumber is what stands for a value: itself, its text's name, its list's length.
func (p *Packer) valueNumber(v Value) int64 {
	switch v.Kind {
	case KindText:
		return p.names.numbers[v.Text]
	case KindList:
		return int64(len(v.List))
	default:
		return v.Int
	}
}

func (p *Packer) noteItems(v Value) {
	for _, item := range v.List {
		p.items = append(p.items, p.names.numbers[item])
	}
}

func (p *Packer) appendExtras(b []byte, changes []Change) []byte {
	p.columns, p.kinds, p.values, p.items = p.columns[:0], p.kinds[:0], p.values[:0], p.items[:0]
	for i := range changes {
		eachExtra(&changes[i], func(name string, v Value) {
			p.columns = append(p.columns, p.names.numbers[name])
			p.kinds = append(p.kinds, int64(v.Kind))
			p.values = append(p.values, p.valueNumber(v))
			p.noteItems(v)
		})
	}
	for _, numbers := range [][]int64{p.columns, p.kinds, p.values, p.items} {
		b = appendColumn(b, numbers)
	}
	return b
}

func (p *Packer) appendOrders(b []byte, batch Batch) []byte {
	told := p.columns[:0]
	p.kinds, p.values = p.kinds[:0], p.values[:0]
	for i, c := range batch.Changes {
		order := NoOrder
		if batch.Orders != nil {
			order = batch.Orders[i]
		}
		if order == NoOrder {
			told = append(told, 0)
			continue
		}
		told = append(told, 1)
		p.kinds = append(p.kinds, order.L-c.Stamp.L)
		p.values = append(p.values, order.C-c.Stamp.C)
	}
	p.columns = told
	for _, numbers := range [][]int64{told, p.kinds, p.values} {
		b = appendColumn(b, numbers)
	}
	return b
}
