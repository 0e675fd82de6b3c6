package farm_test

import (
	"encoding/json"
	"strings"
	"testing"

	"corymb/internal/farm"
	"corymb/syncproto"
)

// A phone may be told of ten thousand refusals at once, and their values are the phone's own.
func TestAReasonIsShortHoweverLongTheValue(t *testing.T) {
	var changes []syncproto.Change
	for _, filler := range []string{"x", "\x01", "\\", "\U0010fffd"} {
		value := syncproto.Text(strings.Repeat(filler, syncproto.MaxTextBytes/len(filler)))
		cell := strings.Repeat(filler, syncproto.MaxNameBytes/len(filler))
		for _, at := range []struct{ kind, field string }{
			{"visit", "flush"}, {"visit", "date"}, {"planting", "planted"}, {"plant", "counted.2026"}, {"farm", "season_start"},
		} {
			changes = append(changes, syncproto.Change{Op: syncproto.OpSet, Type: at.kind, ID: "x", Field: at.field, Value: value})
		}
		changes = append(changes,
			syncproto.Change{Op: syncproto.OpCount, Type: farm.TypeVisit, ID: "v", Field: cell[:120] + "||00|0", Value: syncproto.Int(1)},
			syncproto.Change{Op: syncproto.OpCount, Type: farm.TypeVisit, ID: "v", Field: cell, Value: syncproto.Int(1)},
			syncproto.Change{Op: syncproto.OpCount, Type: cell, ID: "v", Field: "|0|0", Value: syncproto.Int(1)},
			syncproto.Change{Op: syncproto.OpSet, Type: "plant", ID: "v", Field: ("counted." + cell)[:120], Value: syncproto.Int(1)},
			syncproto.Change{Op: syncproto.OpAdd, Type: "plant", ID: "v", Field: cell, Value: syncproto.Int(1)},
		)
	}
	for _, c := range changes {
		code, why := farm.Check(c, "2026-11-25")
		written, err := json.Marshal(why)
		if err != nil || code == "" || len(written) > farm.MostReason {
			t.Errorf("%s of %.20q is refused as %q with %d bytes (%v)", c.Op, c.Type, code, len(written), err)
		}
	}
}
