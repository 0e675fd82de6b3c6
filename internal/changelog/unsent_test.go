package changelog_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

const (
	unsentFarm  = "f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2"
	unsentPhone = "aaaaaaaa-0000-4000-8000-000000000001"
	formerPhone = "aaaaaaaa-0000-4000-8000-000000000002"
)

// operation makes the changes of one operation, a count each.
func operation(incarnation string, first, l int64, values ...int64) []syncproto.Change {
	changes := make([]syncproto.Change, len(values))
	for i, value := range values {
		changes[i] = syncproto.Change{
			Incarnation: incarnation, Seq: first + int64(i), Stamp: syncproto.Stamp{L: l}, Rest: len(values) - 1 - i,
			Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit", ID: fmt.Sprint("v", l),
			Field: fmt.Sprintf("|%d|%d", i, i+1), Value: syncproto.Int(value),
		}
	}
	return changes
}

// savedFile is a file as webapp/src/sync/unsent.ts writes it.
type savedFile struct {
	form    int
	farm    string
	before  syncproto.Hash
	pending []syncproto.Change
	refused []syncproto.Change
}

func (f savedFile) lines() []string {
	refused := map[syncproto.Identity]syncproto.Code{}
	for _, c := range f.refused {
		refused[c.Identity()] = syncproto.CodeCount
	}
	header, err := json.Marshal(map[string]any{
		"t": "unsent", "version": f.form, "farm": f.farm, "device": "d", "incarnation": unsentPhone,
		"before": f.before.String(), "unsent": len(f.pending), "refused": refused, "later": "passed over",
	})
	if err != nil {
		panic(err)
	}
	lines := []string{string(header)}
	for _, c := range slices.Concat(f.pending, f.refused) {
		lines = append(lines, string(c.Canonical()))
	}
	return lines
}

// goodFile has pending changes from seq 4 on lines 2 to 4, and refused ones on 5 and 6.
func goodFile() savedFile {
	return savedFile{
		form: 1, farm: unsentFarm, before: syncproto.ChainStart(unsentFarm, unsentPhone),
		pending: slices.Concat(operation(unsentPhone, 4, 40, 1, 2), operation(unsentPhone, 6, 60, 3)),
		refused: operation(formerPhone, 2, 20, 1000, 1),
	}
}

func TestASavedFileIsReadAsItWasSaved(t *testing.T) {
	f := goodFile()
	u, err := changelog.ReadUnsent(unsentFarm, []byte(strings.Join(f.lines(), "\n")+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	if u.Incarnation != unsentPhone || u.Before != f.before.String() {
		t.Errorf("incarnation %s, before %s", u.Incarnation, u.Before)
	}
	for _, part := range []struct{ got, want []syncproto.Change }{{u.Pending, f.pending}, {u.Refused, f.refused}} {
		if fmt.Sprint(part.got) != fmt.Sprint(part.want) {
			t.Errorf("read %v, want %v", part.got, part.want)
		}
	}
}

func TestASavedFileOfNothingIsReadToo(t *testing.T) {
	u, err := changelog.ReadUnsent(unsentFarm, []byte(savedFile{form: 1, farm: unsentFarm}.lines()[0]+"\n"))
	if err != nil || len(u.Pending)+len(u.Refused) > 0 {
		t.Errorf("%v, error %v", u, err)
	}
}

func TestAFileThatIsNotAsItWasSavedIsRefusedWithLineAndRemedy(t *testing.T) {
	without := func(line int) func([]string) []string {
		return func(lines []string) []string { return slices.Delete(lines, line-1, line) }
	}
	replace := func(line int, old, with string) func([]string) []string {
		return func(lines []string) []string {
			lines[line-1] = strings.Replace(lines[line-1], old, with, 1)
			return lines
		}
	}
	asSaved := func(lines []string) []string { return lines }
	again, gone := "Save the file on the phone again", "If the phone is gone"
	tests := []struct {
		name  string
		file  func(*savedFile)
		alter func(lines []string) []string
		code  syncproto.Code
		says  []string
	}{
		{"nothing", nil, func([]string) []string { return []string{""} }, syncproto.CodeMalformed, []string{"Line 1 ", "Choose a file"}},
		{"something else", nil, func([]string) []string { return []string{"plant,bed"} }, syncproto.CodeMalformed, []string{"Line 1 ", "Choose a file"}},
		{"another farm's", func(f *savedFile) { f.farm = formerPhone }, asSaved, syncproto.CodeFarm, []string{"Line 1 ", "its own shed"}},
		{"one of a newer form", func(f *savedFile) { f.form = 2 }, replace(1, `"unsent":3`, `"unsent":{}`), syncproto.CodeVersion, []string{"Line 1 ", "up to date"}},
		{"a header of another shape", nil, replace(1, `"unsent":3`, `"unsent":"3"`), syncproto.CodeMalformed, []string{"Line 1 ", again}},
		{"fewer than nothing", nil, replace(1, `"unsent":3`, `"unsent":-1`), syncproto.CodeMalformed, []string{"Line 1 ", again}},
		{"no change", nil, replace(3, "[", "{"), syncproto.CodeMalformed, []string{"Line 3 ", again}},
		{"a change that cannot be kept", nil, replace(3, `"field"`, `"attic"`), syncproto.CodeMalformed, []string{"Line 3 ", "attic", again}},
		{"another form of the same", nil, replace(3, ",", ", "), syncproto.CodeMalformed, []string{"Line 3 ", "altered", again}},
		{"lines ended as on Windows", nil, replace(2, "0]", "0]\r"), syncproto.CodeMalformed, []string{"Line 2 ", "altered", again}},
		{"an empty line", nil, replace(6, `["aaa`, "\n[\"aaa"), syncproto.CodeMalformed, []string{"Line 6 ", again}},
		{"a pending change missing", nil, without(4), syncproto.CodeMalformed, []string{"Line 4 ", again}},
		{"pending changes missing at the end", func(f *savedFile) { f.refused = nil }, without(4), syncproto.CodeMalformed, []string{"Line 4 ", again, gone, `"unsent":2`}},
		{"a refused change missing", nil, without(6), syncproto.CodeMalformed, []string{"Line 6 ", formerPhone + ":3", again, gone}},
		{"a change twice", func(f *savedFile) { f.refused = append(f.refused, f.refused...) }, asSaved, syncproto.CodeMalformed, []string{"Line 7 ", again}},
		{"a gap", func(f *savedFile) { f.pending[2].Seq = 7 }, asSaved, syncproto.CodeMalformed, []string{"Line 4 ", again}},
		{"a stamp that does not grow", func(f *savedFile) { f.pending[2].Stamp.L = 40 }, asSaved, syncproto.CodeMalformed, []string{"Line 4 ", again}},
		{"a pending change of another phone", func(f *savedFile) { f.pending[2].Incarnation = formerPhone }, asSaved, syncproto.CodeMalformed, []string{"Line 4 ", again}},
		{"an operation without its end", func(f *savedFile) { f.pending[2].Rest = 1 }, asSaved, syncproto.CodeMalformed, []string{"Line 4 ", again, gone}},
		{"an operation that miscounts", func(f *savedFile) { f.refused[1].Rest = 1 }, asSaved, syncproto.CodeMalformed, []string{"Line 6 "}},
		{"an operation of two stamps", func(f *savedFile) { f.refused[1].Stamp.L = 21 }, asSaved, syncproto.CodeMalformed, []string{"Line 6 ", again}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := goodFile()
			if tt.file != nil {
				tt.file(&f)
			}
			_, err := changelog.ReadUnsent(unsentFarm, []byte(strings.Join(tt.alter(f.lines()), "\n")+"\n"))
			wantSentence(t, err, tt.code, append(tt.says, "Nothing was taken in.")...)
		})
	}
}

func TestAFileThatIsCutOffAnywhereIsRefused(t *testing.T) {
	whole := strings.Join(goodFile().lines(), "\n") + "\n"
	for length := range len(whole) {
		_, err := changelog.ReadUnsent(unsentFarm, []byte(whole[:length]))
		if err == nil {
			t.Fatalf("its first %d bytes of %d were taken for a file", length, len(whole))
		}
	}
	_, err := changelog.ReadUnsent(unsentFarm, []byte(whole[:len(whole)-1]))
	wantSentence(t, err, syncproto.CodeMalformed, "Line 6 ", "cut off", "take this line out")
}

func wantSentence(t *testing.T, err error, code syncproto.Code, says ...string) {
	t.Helper()
	var breach *syncproto.Breach
	if !errors.As(err, &breach) || breach.Code != code {
		t.Fatalf("got %v, want %s", err, code)
	}
	for _, part := range says {
		if !strings.Contains(breach.Text, part) {
			t.Errorf("%q does not say %q", breach.Text, part)
		}
	}
}
