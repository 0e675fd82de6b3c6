package live

import (
	"encoding/json"
	"strconv"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// appendNews writes a syncproto.News from the bytes that the log holds: reading each change only to
// write it again would cost most of a pull.
func appendNews(b []byte, tail changelog.Tail, leaveOut func(changelog.Kept) bool, newest int64) []byte {
	b = append(b, `{"t":"news","changes":[`...)
	sent := tail.Changes[:0]
	for _, k := range tail.Changes {
		if leaveOut(k) {
			continue
		}
		if len(sent) > 0 {
			b = append(b, ',')
		}
		b = append(b, k.Bytes...)
		sent = append(sent, k)
	}
	b = append(b, `],"orders":[`...)
	for i, k := range sent {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendStamp(b, k.Order)
	}
	b = append(b, `],"arrival":`...)
	b = strconv.AppendInt(b, tail.Arrival, 10)
	b = append(b, `,"last":`...)
	b = syncproto.Text(string(tail.Last)).AppendCanonical(b)
	b = append(b, `,"newest":`...)
	b = strconv.AppendInt(b, newest, 10)
	return append(b, '}')
}

func appendStamp(b []byte, s syncproto.Stamp) []byte {
	b = append(b, '[')
	b = strconv.AppendInt(b, s.L, 10)
	b = append(b, ',')
	b = strconv.AppendInt(b, s.C, 10)
	return append(b, ']')
}

// encode writes any other message. These hold nothing that cannot be written as JSON.
func encode(message any) []byte {
	data, err := json.Marshal(message)
	if err != nil {
		panic(err)
	}
	return data
}
