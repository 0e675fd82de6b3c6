package store

import (
	"testing"

	"corymb/internal/farm"
	"corymb/syncproto"
)

func TestAWelcomeThatTellsOfRefusalsAloneFitsAMessage(t *testing.T) {
	longest := len(`{"seq":9007199254740991,"code":"","text":},`) + len(syncproto.CodeTogether) + farm.MostReason
	if most := mostTold * longest; most > syncproto.MaxMessageBytes*9/10 {
		t.Errorf("%d refusals may take %d bytes, of %d that a message may have", mostTold, most, syncproto.MaxMessageBytes)
	}
}
