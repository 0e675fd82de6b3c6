package syncproto

// Size is what of some changes counts against the limits of a frame.
type Size struct {
	Changes  int
	Bytes    int // canonical
	Elements int // of all lists
}

// SizeOf measures changes.
func SizeOf(changes []Change) Size {
	var buffer []byte
	size := Size{Changes: len(changes)}
	for i := range changes {
		c := &changes[i]
		buffer = c.AppendCanonical(buffer[:0])
		size.Bytes += len(buffer)
		size.Elements += c.elements()
	}
	return size
}

// Plus is the size of both together.
func (s Size) Plus(o Size) Size {
	return Size{Changes: s.Changes + o.Changes, Bytes: s.Bytes + o.Bytes, Elements: s.Elements + o.Elements}
}

// FitsFrame tells whether so much may share a frame.
func (s Size) FitsFrame() bool {
	return s.Changes <= MaxFrameChanges && s.Bytes <= MaxFrameBytes && s.Elements <= MaxFrameElements
}

// sufficesForPart tells whether so much may be a part of a large operation that is not its last: a
// writer that fills its parts always has more, since a change alone has less than a third of the bytes
// and of the elements that fit.
func (s Size) sufficesForPart() bool {
	return s.Changes >= MaxFrameChanges/2 || s.Bytes >= MaxFrameBytes/4 || s.Elements >= MaxFrameElements/4
}

func (c *Change) elements() int {
	n := len(c.Value.List)
	for _, v := range c.Extra {
		n += len(v.List)
	}
	return n
}

// leastBytes is no more than the length of the canonical bytes: that of the texts.
func (c *Change) leastBytes() int {
	least := len(c.Person) + len(c.Type) + len(c.ID) + len(c.Field) + c.Value.leastBytes()
	for _, v := range c.Extra {
		least += v.leastBytes()
	}
	return least
}

func (v Value) leastBytes() int {
	least := len(v.Text)
	for _, item := range v.List {
		least += len(item)
	}
	return least
}

// MostBytes is no less than the length of the canonical bytes, and quickly found.
func (c *Change) MostBytes() int {
	const escaped, fixed = 6, 250 // bytes of a character at most; of numbers, scope and punctuation
	texts := len(c.Person) + len(c.Op) + len(c.Type) + len(c.ID) + len(c.Field) + c.Value.mostBytes()
	for name, v := range c.Extra {
		texts += len(name) + 4 + v.mostBytes()
	}
	return fixed + escaped*texts
}

func (v Value) mostBytes() int {
	size := len(v.Text) + 20
	for _, item := range v.List {
		size += len(item) + 3
	}
	return size
}
