package live

import (
	"compress/flate"
	"errors"
	"io"
	"time"

	"github.com/gorilla/websocket"

	"corymb/syncproto"
)

// next reads one message. It is a *syncproto.Breach if that is no text or inflates to too much, and
// another error if the line broke. A slow line is not a dead one: each piece renews the deadline.
func (c *conn) next(within time.Duration) ([]byte, error) {
	c.expect(within)
	kind, reader, err := c.socket.NextReader()
	if err != nil {
		return nil, err
	}
	if kind != websocket.TextMessage {
		return nil, syncproto.Breachf(syncproto.CodeMalformed, "messages are text, not binary")
	}
	patient := readerFunc(func(p []byte) (int, error) {
		c.expect(within)
		return reader.Read(p)
	})
	data, err := io.ReadAll(io.LimitReader(patient, syncproto.MaxFrameBytes+1))
	var corrupt flate.CorruptInputError
	switch {
	case errors.As(err, &corrupt):
		return nil, malformed("the message", err)
	case err != nil:
		return nil, err
	case len(data) > syncproto.MaxFrameBytes:
		return nil, syncproto.Breachf(syncproto.CodeTooLarge, "a message is at most %d bytes", syncproto.MaxFrameBytes)
	}
	return data, nil
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

// deflateFrom is the length from which deflate wins on text like ours.
const deflateFrom = 256

// send writes one message.
func (c *conn) send(data []byte) error {
	c.socket.EnableWriteCompression(len(data) >= deflateFrom)
	writer, err := c.socket.NextWriter(websocket.TextMessage)
	if err != nil {
		return err
	}
	for len(data) > 0 {
		piece := data[:min(len(data), pieceBytes)]
		data = data[len(piece):]
		_ = c.socket.SetWriteDeadline(time.Now().Add(c.WriteWithin)) // never fails in gorilla
		if _, err := writer.Write(piece); err != nil {
			return err
		}
	}
	return writer.Close()
}

// refuse tells why the conversation ends, and ends it.
func (c *conn) refuse(b *syncproto.Breach) {
	if c.send(encode(b.Refuse())) != nil {
		return // the line broke; the phone tries again and hears it then
	}
	c.bye(websocket.ClosePolicyViolation, string(b.Code))
}

func (c *conn) bye(code int, reason string) {
	farewell := websocket.FormatCloseMessage(code, reason)
	_ = c.socket.WriteControl(websocket.CloseMessage, farewell, time.Now().Add(c.WriteWithin)) // a courtesy
	c.stop()
}
