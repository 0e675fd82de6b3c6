package access_test

import (
	"testing"

	"corymb/internal/access"
	"corymb/syncproto"
)

func TestWhatEachRoleMayWrite(t *testing.T) {
	const ana, ben, olga = "ana", "ben", "olga"
	change := func(person string, scope syncproto.Scope, op syncproto.Op, kind, id, field string) syncproto.Change {
		return syncproto.Change{Person: person, Scope: scope, Op: op, Type: kind, ID: id, Field: field}
	}
	const field, shed, money = syncproto.ScopeField, syncproto.ScopeShed, syncproto.ScopeMoney
	const set, count, add, remove, correct = syncproto.OpSet, syncproto.OpCount, syncproto.OpAdd, syncproto.OpRemove, syncproto.OpCorrect
	const kept, role, scope = syncproto.Code(""), syncproto.CodeRole, syncproto.CodeScope
	tests := []struct {
		name                string
		change              syncproto.Change
		owner, crew, viewer syncproto.Code
	}{
		{"a count", change(ana, field, count, "visit", "v", "extra|500|600"), kept, kept, role},
		{"a correction", change(ana, field, correct, "visit", "v", "extra|500|600"), kept, kept, role},
		{"a bench total", change(ana, shed, count, "visit", "v", "c|extra|500|600"), kept, kept, role},
		{"a visit's date", change(ana, field, set, "visit", "v", "date"), kept, kept, role},
		{"a visit that is withdrawn", change(ana, field, syncproto.Op("withdraw"), "visit", "v", ""), kept, kept, role},
		{"a photo of a plant", change(ana, field, add, "plant", "p", "photos"), kept, kept, role},
		{"a photo taken back", change(ana, field, remove, "plant", "p", "photos"), kept, kept, role},
		{"photos that are set and not added", change(ana, field, set, "plant", "p", "photos"), kept, role, role},
		{"a flag", change(ana, field, add, "plant", "p", "flags"), kept, kept, role},
		{"a note", change(ana, field, add, "plant", "p", "notes"), kept, kept, role},
		{"that a plant was found gone", change(ana, field, set, "plant", "p", "removed"), kept, kept, role},
		{"that a plant came through the winter", change(ana, field, set, "plant", "p", "stand.2026"), kept, kept, role},
		{"a colour seen", change(ana, field, set, "plant", "p", "colour"), kept, kept, role},
		{"the colour of a season", change(ana, field, set, "plant", "p", "colour.2026"), kept, kept, role},
		{"a counted plant", change(ana, field, set, "plant", "p", "counted.2026"), kept, role, role},
		{"a move", change(ana, field, add, "plant", "p", "places"), kept, role, role},
		{"what was done to a bed", change(ana, field, set, "event", "e", "kind"), kept, kept, role},
		{"a colour that was measured", change(ana, field, set, "reading", "r", "lab"), kept, kept, role},
		{"a reading that is withdrawn", change(ana, field, set, "reading", "r", "withdrawn"), kept, kept, role},
		{"a batch of cards", change(ana, field, set, "card", "K7M2QX", "patches"), kept, role, role},
		{"a reference plant", change(ana, field, set, "plant", "p", "reference"), kept, role, role},
		{"the measured colour of a class", change(ana, field, set, "colour", "c", "lab"), kept, role, role},
		{"a plant's parents", change(ana, field, add, "plant", "p", "parents"), kept, role, role},
		{"the own name", change(ana, field, set, "person", ana, "name"), kept, kept, role},
		{"another's name", change(ana, field, set, "person", ben, "name"), kept, role, role},
		{"the farm's name", change(ana, field, set, "farm", "f", "name"), kept, role, role},
		{"a bed that was cut back", change(ana, field, set, "bed", "b", "cut_back.2026"), kept, role, role},
		{"a stock", change(ana, field, set, "stock", "s", "name"), kept, role, role},
		{"a price", change(ana, money, set, "price", "p", "cents"), kept, scope, scope},
		{"what was packed", change(ana, shed, count, "packed", "p", "bunches"), kept, kept, role},
		{"packed in an owner's name", change(olga, shed, count, "packed", "p", "bunches"), kept, role, role},
		{"what was written off", change(ana, shed, set, "shrink", "s", "stems"), kept, kept, role},
		{"an order", change(ana, shed, set, "order", "o", "due"), kept, role, role},
		{"a buyer", change(ana, shed, set, "buyer", "b", "name"), kept, role, role},
		{"what a line costs", change(ana, money, set, "line", "l", "cents"), kept, scope, scope},
		{"an invoice", change(ana, money, set, "invoice", "i", "invoice_no"), role, scope, scope},
		{"what somebody asks for", change(ana, shed, set, "ask", "a", "stems"), kept, role, role},
		{"the answer to an ask", change(ana, shed, set, "ask", "a", "answer"), kept, role, role},
		{"what an ask would pay", change(ana, money, set, "ask", "a", "cents"), kept, scope, scope},
		{"what a broken promise costs", change(ana, money, set, "farm", "f", "break_cost"), kept, scope, scope},
		{"the weather of a day", change(ana, field, set, "weather", "2026-05-28", "min"), kept, kept, role},
		{"weather that is taken back", change(ana, field, set, "weather", "2026-05-28", "withdrawn"), kept, kept, role},
		{"how warmth is reckoned", change(ana, field, set, "farm", "f", "warm_lower"), kept, role, role},
		{"a task that is done", change(ana, field, set, "task", "2026.cut_back.b", "done"), kept, kept, role},
		{"a task that is put off", change(ana, field, set, "task", "2026.cut_back.b", "due"), kept, kept, role},
		{"a task that is dropped", change(ana, field, set, "task", "2026.cut_back.b", "dropped"), kept, kept, role},
		{"a task that is given other words", change(ana, field, set, "task", "2026.cut_back.b", "what"), kept, role, role},
		{"a task that is withdrawn", change(ana, field, set, "task", "2026.cut_back.b", "withdrawn"), kept, role, role},
		{"an own task", change(ana, field, set, "task", "t", "what"), kept, kept, role},
		{"an own task that is withdrawn", change(ana, field, set, "task", "t", "withdrawn"), kept, kept, role},
		{"a division that is done", change(ana, field, set, "intent", "2026.p", "done"), kept, kept, role},
		{"what is to become of a plant", change(ana, field, set, "intent", "2026.p", "do"), kept, role, role},
		{"what a division is worth", change(ana, money, set, "intent", "2026.p", "cents"), kept, scope, scope},
		{"a division plan", change(ana, shed, set, "plan", "2026", "goal"), kept, role, role},
		{"what was spent", change(ana, money, set, "cost", "c", "cents"), kept, scope, scope},
		{"what was paid", change(ana, money, set, "payment", "p", "cents"), kept, scope, scope},
		{"a statement", change(ana, money, set, "statement", "s", "cents"), kept, scope, scope},
		{"a row of a statement", change(ana, money, set, "statement_row", "r", "cents"), kept, scope, scope},
		{"minutes of work", change(ana, field, set, "work", "w", "minutes"), kept, kept, role},
		{"work that is withdrawn", change(ana, field, set, "work", "w", "withdrawn"), kept, kept, role},
		{"work in an owner's name", change(olga, field, set, "work", "w", "minutes"), kept, role, role},
		{"for which channel somebody worked", change(ana, money, set, "work", "w", "channel"), kept, scope, scope},
		{"a visit in the scope of money", change(ana, money, count, "visit", "v", "extra|500|600"), kept, scope, scope},
		{"what no version knows yet", change(ana, field, set, "graft", "g", "f"), kept, role, role},
		{"a count for whoever holds the phone", change(ben, field, count, "visit", "v", "extra|500|600"), kept, kept, role},
		{"a count for nobody", change("", field, count, "visit", "v", "extra|500|600"), kept, kept, role},
		{"a count in an owner's name", change(olga, field, count, "visit", "v", "extra|500|600"), kept, role, role},
	}
	signed := change(ana, field, set, "visit", "v", "person")
	signed.Value = syncproto.Text(olga)
	tests = append(tests, struct {
		name                string
		change              syncproto.Change
		owner, crew, viewer syncproto.Code
	}{"a visit that an owner is said to have made", signed, kept, role, role})
	signed.Type, signed.ID = "task", "2026.cut_back.b"
	tests = append(tests, struct {
		name                string
		change              syncproto.Change
		owner, crew, viewer syncproto.Code
	}{"a task that an owner is said to have done", signed, kept, role, role})
	signed.Type, signed.ID = "work", "w"
	tests = append(tests, struct {
		name                string
		change              syncproto.Change
		owner, crew, viewer syncproto.Code
	}{"work that an owner is said to have done", signed, kept, role, role})
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for r, want := range map[access.Role]syncproto.Code{access.Owner: tt.owner, access.Crew: tt.crew, access.Viewer: tt.viewer, "forged": scope} {
				g := access.Grant{Role: r, Person: ana, Owners: []string{olga}}
				if code, text := g.Refuses(tt.change); code != want || (code == "") != (text == "") {
					t.Errorf("%s: %q (%s), want %q", r, code, text, want)
				}
			}
		})
	}
}

func TestAnOwnerWhoBecameCrewStillWritesInTheOwnName(t *testing.T) {
	g := access.Grant{Role: access.Crew, Person: "ana", Owners: []string{"ana"}}
	c := syncproto.Change{Person: "ana", Scope: syncproto.ScopeField, Op: syncproto.OpCount, Type: "visit"}
	if code, text := g.Refuses(c); code != "" {
		t.Errorf("refused: %s", text)
	}
}

func TestOnlyTheOwnerReadsMoney(t *testing.T) {
	for role, want := range map[access.Role]int{access.Owner: 3, access.Crew: 2, access.Viewer: 2, "forged": 0} {
		if got := role.Scopes(); len(got) != want {
			t.Errorf("%s reads %v", role, got)
		}
	}
	if _, err := access.ParseRole("forged"); err == nil {
		t.Error("a forged role is read")
	}
}
