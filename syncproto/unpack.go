package syncproto

import (
	"errors"
	"unicode/utf8"
)

// Unpacker reads the batches of one direction of a conversation.
type Unpacker struct {
	names readNames
}

// NewUnpacker makes an unpacker for a conversation that begins.
func NewUnpacker() *Unpacker { return &Unpacker{} }

// ReadAlone reads a batch that was packed alone.
func ReadAlone(data []byte) (Batch, error) {
	if len(data) == 0 || data[0] != modeAlone {
		return Batch{}, Breachf(CodeMalformed, "the batch does not stand alone")
	}
	return new(Unpacker).Read(data)
}

// Read reads the next batch. It checks its shape and limits, not those of each change: see
// Change.Check. The error is a *Breach, after which the unpacker is of no more use.
func (u *Unpacker) Read(data []byte) (Batch, error) {
	r := unpacking{packReader: packReader{data: data}}
	mode := r.byte()
	switch mode {
	case modeAnew:
		u.names = readNames{}
		fallthrough
	case modeLinked:
		r.names = &u.names
	case modeAlone:
		r.names = &readNames{}
	default:
		r.fail("its mode is %d", mode)
	}
	batch := r.batch()
	if r.fault == nil && len(r.data) > 0 {
		r.fail("%d bytes follow its end", len(r.data))
	}
	if r.fault == nil {
		return batch, nil
	}
	if breach := (*Breach)(nil); errors.As(r.fault, &breach) {
		return Batch{}, breach
	}
	return Batch{}, Breachf(CodeMalformed, "the batch cannot be read: %v", r.fault)
}

// unpacking is one batch under way.
type unpacking struct {
	packReader
	names   *readNames
	derived []derivedName
	room    int // elements of lists that may still come
}

func (r *unpacking) batch() Batch {
	batch := Batch{Proven: true}
	if r.fault != nil {
		return batch
	}
	r.room = MaxFrameElements
	n := r.count(MaxFrameChanges)
	r.readTexts()
	r.readDerived()
	if r.fault != nil {
		return batch
	}
	batch.Changes = make([]Change, n)
	extras := r.parts(&batch)
	r.extras(batch.Changes, extras)
	r.orders(&batch)
	return batch
}

func (r *unpacking) readTexts() {
	for range r.count(maxNames) {
		text := r.bytes(r.count(MaxTextBytes))
		if r.fault == nil && !utf8.Valid(text) {
			r.fail("a text is not UTF-8")
		}
		r.add(string(text))
	}
	for range r.count(maxNames) {
		if id := r.bytes(16); r.fault == nil {
			r.add(textOfUUID([16]byte(id)))
		}
	}
}

func (r *unpacking) add(text string) {
	if r.fault == nil {
		r.fault = r.names.add(text)
	}
}

func (r *unpacking) readDerived() {
	n := r.count(MaxFrameChanges)
	if r.fault != nil || n == 0 {
		return
	}
	parts := make([][originParts]string, n)
	numbers := make([]int64, n)
	for part := range originParts {
		r.column(numbers)
		for i, number := range numbers {
			parts[i][part] = r.name(number)
		}
	}
	r.derived = make([]derivedName, n)
	for i := range parts {
		if r.fault == nil {
			r.derived[i], r.fault = derive(parts[i])
		}
	}
}

func (r *unpacking) name(number int64) string {
	if r.fault != nil {
		return ""
	}
	if number < 0 || number >= int64(len(r.names.texts)) {
		r.fail("it names text %d of %d", number, len(r.names.texts))
		return ""
	}
	return r.names.texts[number]
}

// parts reads the columns that every change has; it returns how many extra parts each has.
func (r *unpacking) parts(batch *Batch) (extras []int64) {
	changes := batch.Changes
	column := make([]int64, len(changes))
	for _, put := range [...]func(c *Change, n int64){
		func(c *Change, n int64) { c.Incarnation = r.name(n) },
		func(c *Change, n int64) { c.Seq = n },
		func(c *Change, n int64) { c.Stamp.L = n },
		func(c *Change, n int64) { c.Stamp.C = n },
		func(c *Change, n int64) { c.Rest = r.rest(n) },
		func(c *Change, n int64) { c.Person = r.name(n) },
		func(c *Change, n int64) { c.Scope = Scope(r.name(n)) },
		func(c *Change, n int64) { c.Op = Op(r.name(n)) },
		func(c *Change, n int64) { c.Type = r.name(n) },
		func(c *Change, n int64) { r.putID(batch, c, n) },
		func(c *Change, n int64) { c.Field = r.name(n) },
		func(c *Change, n int64) { c.Value.Kind = r.kind(n) },
	} {
		r.column(column)
		for i := range changes {
			put(&changes[i], column[i])
		}
	}
	values := column
	r.column(values)
	extras = make([]int64, len(changes))
	r.column(extras)
	lists := make([]*Value, len(changes))
	for i := range changes {
		lists[i] = &changes[i].Value
	}
	r.values(lists, values)
	return extras
}

func (r *unpacking) putID(batch *Batch, c *Change, number int64) {
	at := number - int64(len(r.names.texts))
	if at < 0 || at >= int64(len(r.derived)) {
		c.ID = r.name(number)
		return
	}
	c.ID = r.derived[at].id
	if batch.Origins == nil {
		batch.Origins = make(map[string]Origin, len(r.derived))
	}
	batch.Origins[c.ID] = r.derived[at].origin
}

// rest is a number of changes, as far as an int holds it: on a small machine that is less than a column
// does.
func (r *unpacking) rest(n int64) int {
	if n != int64(int(n)) {
		r.fail("%d changes of an operation are to follow", n)
	}
	return int(n)
}

func (r *unpacking) kind(n int64) Kind {
	if n < int64(KindInt) || n > int64(KindList) {
		r.fail("it holds a value of kind %d", n)
		return KindInt
	}
	return Kind(n)
}

// values gives each value of known kind its contents.
func (r *unpacking) values(values []*Value, numbers []int64) {
	before := r.room
	for i, v := range values {
		switch v.Kind {
		case KindInt:
			v.Int = numbers[i]
		case KindText:
			v.Text = r.name(numbers[i])
		case KindList:
			v.List = r.emptyList(numbers[i])
		}
	}
	items := make([]int64, before-r.room)
	r.column(items)
	for _, v := range values {
		for i := range v.List {
			v.List[i] = r.name(items[i])
		}
		items = items[len(v.List):]
	}
}

func (r *unpacking) emptyList(n int64) []string {
	if n < 0 || n > int64(min(r.room, MaxListLen)) {
		if r.fault == nil {
			r.fault = Breachf(CodeTooLarge, "a list of %d elements: the most is %d, and %d in a batch", n, MaxListLen, MaxFrameElements)
		}
		return nil
	}
	r.room -= int(n)
	return make([]string, n)
}

func (r *unpacking) extras(changes []Change, counts []int64) {
	total := 0
	for _, n := range counts {
		if n < 0 || n > MaxExtra {
			r.fail("a change has %d extra parts", n)
		}
		total += int(n)
	}
	if r.fault != nil || total == 0 {
		return
	}
	names, kinds, numbers := make([]int64, total), make([]int64, total), make([]int64, total)
	for _, column := range [][]int64{names, kinds, numbers} {
		r.column(column)
	}
	values := make([]Value, total)
	pointers := make([]*Value, total)
	for i := range values {
		values[i].Kind = r.kind(kinds[i])
		pointers[i] = &values[i]
	}
	r.values(pointers, numbers)
	for i, n := range counts {
		if n > 0 && r.fault == nil {
			r.putExtra(&changes[i], names[:n], values[:n])
		}
		names, values = names[n:], values[n:]
	}
}

func (r *unpacking) putExtra(c *Change, names []int64, values []Value) {
	c.Extra = make(map[string]Value, len(names))
	before := ""
	for i, number := range names {
		name := r.name(number)
		if i > 0 && name <= before {
			r.fail("the extra parts of a change are not in the order of their names")
			return
		}
		c.Extra[name], before = values[i], name
	}
}

func (r *unpacking) orders(batch *Batch) {
	told := make([]int64, len(batch.Changes))
	r.column(told)
	n := 0
	for _, t := range told {
		if t != 0 && t != 1 {
			r.fail("whether an order is told is %d", t)
		}
		n += int(t)
	}
	if r.fault != nil || n == 0 {
		return
	}
	after, counters := make([]int64, n), make([]int64, n)
	r.column(after)
	r.column(counters)
	batch.Orders = make([]Stamp, len(batch.Changes))
	at := 0
	for i, c := range batch.Changes {
		if told[i] == 0 {
			batch.Orders[i] = NoOrder
			continue
		}
		batch.Orders[i] = Stamp{L: c.Stamp.L + after[at], C: c.Stamp.C + counters[at]}
		at++
	}
}
