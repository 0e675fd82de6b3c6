package store

import (
	"encoding/json"
	"strings"
	"testing"

	"corymb/internal/farm"
	"corymb/syncproto"
)

func TestAnAnswerThatTellsOfRefusalsAloneFitsAMessage(t *testing.T) {
	var ack syncproto.Ack
	for seq := range int64(syncproto.MaxOperationChanges) {
		tellRefusal(&ack, syncproto.MaxInt-seq, syncproto.CodeTogether, strings.Repeat("x", farm.MostReason))
	}
	said, err := json.Marshal(ack)
	if err != nil || len(said) > syncproto.MaxMessageBytes/2 || ack.Refused[mostReasons-1].Text == "" {
		t.Errorf("%d refusals take %d bytes (%v)", len(ack.Refused), len(said), err)
	}
}
