package store

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corymb/syncproto"
)

// Each of these is a fault that Verify must see, with the words that it says.
func TestVerifySeesWhatIsWrong(t *testing.T) {
	tests := []struct{ name, spoil, says string }{
		{"a segment is lost", "DELETE FROM segments WHERE first = 1", "comes"},
		{"the counter is ahead", "UPDATE farms SET next_arrival = 9, projected = 8", "the farm counted 8"},
		{"a chain value is another", "UPDATE incarnations SET hash = zeroblob(32) WHERE no = 1", "chain value of incarnation"},
		{"more is settled than there is", "UPDATE incarnations SET seq = 9 WHERE no = 1", "9 changes settled"},
		{"a refusal is lost", "DELETE FROM outcomes", "are there"},
		{"a change was kept and refused", "UPDATE outcomes SET seq = 1", "both kept and not kept"},
		{"a segment has another number", "UPDATE segments SET first_seq = 7 WHERE first = 3", "in a segment from seq 7"},
		{"a part is lost", "DELETE FROM staged", "what is put aside ends at seq 0"},
		{"a part is of nobody", "UPDATE incarnations SET staged = 0", "of which nothing is known"},
		{"a part has another chain value", "UPDATE incarnations SET staged_hash = zeroblob(32) WHERE staged > 0", "another chain value"},
		{"a segment is noted without a scope", "UPDATE segments SET scopes = 0 WHERE first = 3", "at arrival 3 is noted with scopes []"},
		{"a segment is noted with a scope too many", "UPDATE segments SET scopes = 7 WHERE first = 1", "at arrival 1 is noted with scopes [field shed money]"},
		{"a former identity is lost", "DELETE FROM formers", "of 1 changes that name a former identity 1 are not noted, and 0"},
		{"a former identity is another", "UPDATE formers SET former = 'x:1'", "1 are not noted, and 1"},
		{"a former identity has other facts", "UPDATE formers SET facts = zeroblob(32)", "1 are not noted, and 1"},
		{"a former identity is found at the second of equals", "UPDATE formers SET arrival = arrival + 1", "1 are not noted, and 1"},
		{"a former identity that nothing names", "INSERT INTO formers SELECT farm, 'x:2', facts, arrival FROM formers", "0 are not noted, and 1"},
		{"the highest order is too low", "UPDATE farms SET highest_l = 1", "the highest order is noted as"},
		{"the highest order is too high", "UPDATE farms SET highest_c = highest_c + 1", "the highest order is noted as"},
		{"an incarnation is lost", "DELETE FROM incarnations WHERE no = 1", "of which nothing is known"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			s := open(t, dir)
			p, q := newPhone(), newPhone()
			settle(t, s, p.says(name("b1", "A"), name("b2", "B"))...)
			settle(t, s, slices.Concat(q.says(name("b1", "C")), q.says(set("bed", "name", syncproto.Int(1))))...)
			sent := name("b3", "D")
			sent.Extra = map[string]syncproto.Value{syncproto.ExtraFormer: syncproto.Text("no identity")} // so it is kept twice
			for range 2 {
				settle(t, s, newPhone().says(sent)...)
			}
			push(t, s, inParts(t, q.large(3000, "b"), 2000)[0])
			verify(t, s)
			if err := s.orm.Exec(tt.spoil).Error; err != nil {
				t.Fatal(err)
			}
			closeStore(t, s) // what it remembers is not what it looks at
			s = open(t, dir)
			found, err := s.Verify(context.Background())
			if err != nil || !strings.Contains(fmt.Sprint(found.Faults), tt.says) {
				t.Errorf("found %q (%v), want %q", found.Faults, err, tt.says)
			}
			// None of these is of the merge state, so the log alone shows it.
			if log, err := s.VerifyLog(context.Background()); err != nil || !strings.Contains(fmt.Sprint(log.Faults), tt.says) {
				t.Errorf("of the log alone, found %q (%v), want %q", log.Faults, err, tt.says)
			}
		})
	}
}
