package simnet

import (
	"encoding/json"
	"strings"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// ledger is what the world outside knows: which facts a shed acknowledged. The facts of any two
// changes differ, so that they name a change under whatever identity it was sent.
type ledger struct {
	acked []string // facts, in the order of the acknowledgements; may repeat
}

func factsOf(c syncproto.Change) string { return string(changelog.FactsOf(c)) }

// hear notes what a message tells a phone to be settled and kept, before the phone hears it.
func (g *ledger) hear(p *Phone, m Message) {
	if m.Binary || p.line == nil {
		return
	}
	var word struct {
		T       string `json:"t"`
		Seq     int64  `json:"seq"`
		Told    int64  `json:"told"`
		Hash    string `json:"hash"`
		Refused []syncproto.Refusal
	}
	if json.Unmarshal(m.Data, &word) != nil {
		return
	}
	r := p.Records()
	log := r.Logs[p.line.incarnation]
	isWelcome := word.T == syncproto.TypeWelcome && r.Farm != "" && log.proves(r.Farm, word.Seq, word.Hash)
	if word.T != syncproto.TypeAck && !isWelcome {
		return
	}
	from, to := log.Settled, word.Seq
	if isWelcome {
		from, to = p.line.asked, syncproto.Welcome{Seq: word.Seq, Told: word.Told}.Known(p.line.asked)
	}
	refused := map[int64]bool{}
	for _, refusal := range word.Refused {
		refused[refusal.Seq] = true
	}
	for _, o := range log.beyond(from) {
		for _, c := range o.Changes {
			if c.Seq > from && c.Seq <= to && !refused[c.Seq] {
				g.acked = append(g.acked, factsOf(c))
			}
		}
	}
}

// codeOf is the code of a refusal, or "".
func codeOf(m Message) syncproto.Code {
	if m.Binary || !strings.Contains(string(m.Data[:min(20, len(m.Data))]), "refuse") {
		return ""
	}
	var refuse syncproto.Refuse
	if err := json.Unmarshal(m.Data, &refuse); err != nil {
		return syncproto.CodeMalformed
	}
	return refuse.Code
}
