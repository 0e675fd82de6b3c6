package syncproto

import "encoding/binary"

// AppendPush writes a push message.
func AppendPush(b []byte, p *Packer, batch Batch) []byte {
	return p.Append(append(b, KindPush), batch)
}

// ReadPush reads a push message. The error is a *Breach.
func ReadPush(data []byte, u *Unpacker) (Batch, error) {
	if len(data) == 0 || data[0] != KindPush {
		return Batch{}, Breachf(CodeMalformed, "the message is no push")
	}
	return u.Read(data[1:])
}

// News carries changes in arrival order, each with its order, and moves the cursor.
type News struct {
	Arrival int64    // of the last change passed, whatever its scope
	Newest  int64    // the farm's newest arrival number, for the progress shown
	Last    string   // says which log that was, for the cursor alone: at most 128 bytes
	Batches [][]byte // packed
}

// Append writes a news message.
func (n News) Append(b []byte) []byte {
	b = append(b, KindNews)
	b = binary.AppendUvarint(b, uint64(n.Arrival))
	b = binary.AppendUvarint(b, uint64(n.Newest))
	b = binary.AppendUvarint(b, uint64(len(n.Last)))
	b = append(b, n.Last...)
	b = binary.AppendUvarint(b, uint64(len(n.Batches)))
	for _, batch := range n.Batches {
		b = binary.AppendUvarint(b, uint64(len(batch)))
		b = append(b, batch...)
	}
	return b
}

// ReadNews reads a news message; its batches are read with the conversation's Unpacker. The error
// is a *Breach.
func ReadNews(data []byte) (News, error) {
	r := packReader{data: data}
	if r.byte() != KindNews {
		return News{}, Breachf(CodeMalformed, "the message is no news")
	}
	n := News{Arrival: r.uvarint(), Newest: r.uvarint()}
	n.Last = string(r.bytes(r.count(MaxNameBytes)))
	for range r.count(MaxFrameChanges) {
		if batch := r.bytes(r.count(MaxMessageBytes)); r.fault == nil {
			n.Batches = append(n.Batches, batch)
		}
	}
	if r.fault == nil && len(r.data) > 0 {
		r.fail("%d bytes follow its end", len(r.data))
	}
	if r.fault != nil {
		return News{}, Breachf(CodeMalformed, "the news cannot be read: %v", r.fault)
	}
	return n, nil
}
