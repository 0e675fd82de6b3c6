package farm

import (
	"maps"
	"os"
	"strings"
	"testing"
)

// Whoever writes a client has only the document.
func TestTheProtocolNamesEveryFieldOfTheFarm(t *testing.T) {
	text, err := os.ReadFile("../../syncproto/PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]string{} // type, its row
	for line := range strings.Lines(string(text)) {
		if cells := strings.Split(line, "|"); len(cells) == 4 {
			named[strings.TrimSpace(cells[1])] = cells[2]
		}
	}
	all := maps.Clone(rules)
	maps.Copy(all, saleRules)
	maps.Copy(all, aheadRules)
	maps.Copy(all, moneyRules)
	for rule := range all {
		entityType, field, _ := strings.Cut(rule, " ")
		if !strings.Contains(named[entityType], "`"+field+"`") {
			t.Errorf("section 6 does not name %s of a %s", field, entityType)
		}
	}
}
