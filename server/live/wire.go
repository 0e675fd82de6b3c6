package live

import (
	"bytes"
	"compress/flate"
	"errors"
	"io"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"corymb/syncproto"
)

// buffers hold messages while they are read. Whoever is silent holds none.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// largeBuffer is a size beyond which a buffer is not kept: messages are seldom so long.
const largeBuffer = 256 << 10

// next reads one message and hands it over; its bytes are used again afterwards. The error is a
// *syncproto.Breach if the message inflates to too much or cannot be inflated, and another if the
// line broke. A slow line is not a dead one: the deadline is asked for anew at each piece.
func (c *conn) next(deadline func() time.Time, hand func(Message)) error {
	c.expect(deadline())
	kind, reader, err := c.socket.NextReader()
	if err != nil {
		return err
	}
	most := syncproto.MaxMessageBytes
	if kind == websocket.TextMessage || !c.talk.isGreeted() {
		most = mostText
	}
	patient := readerFunc(func(p []byte) (int, error) {
		c.expect(deadline())
		return reader.Read(p)
	})
	buffer := buffers.Get().(*bytes.Buffer)
	buffer.Reset()
	defer func() {
		if buffer.Cap() <= largeBuffer {
			buffers.Put(buffer)
		}
	}()
	_, err = buffer.ReadFrom(io.LimitReader(patient, int64(most)+1))
	var corrupt flate.CorruptInputError
	switch {
	case errors.As(err, &corrupt):
		return malformed("the message", err)
	case err != nil:
		return err
	case buffer.Len() > most:
		return tooLong(most)
	}
	hand(Message{Binary: kind == websocket.BinaryMessage, Data: buffer.Bytes()})
	return nil
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }

// discard reads on until the other side closes or its time is up. To close at once with something
// unread could take the refusal off the wire before it was heard.
func (c *conn) discard() {
	for {
		if _, _, err := c.socket.NextReader(); err != nil {
			return
		}
	}
}

// Pieces of a message are this long; each has its own deadline, so that a slow line gets on.
const pieceBytes = 16 << 10

// send writes one message.
func (c *conn) send(m Message) error {
	kind := websocket.TextMessage
	if m.Binary {
		kind = websocket.BinaryMessage
	}
	c.socket.EnableWriteCompression(worthDeflating(m))
	writer, err := c.socket.NextWriter(kind)
	if err != nil {
		return err
	}
	for data := m.Data; len(data) > 0; {
		piece := data[:min(len(data), pieceBytes)]
		data = data[len(piece):]
		_ = c.socket.SetWriteDeadline(time.Now().Add(c.WriteWithin)) // never fails in gorilla
		if _, err := writer.Write(piece); err != nil {
			return err
		}
	}
	return writer.Close()
}
