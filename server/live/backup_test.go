package live_test

import (
	"strings"
	"testing"

	"corymb/server/live"
	"corymb/syncproto"
)

func TestPhonesAreToldWhatIsBackedUp(t *testing.T) {
	s := newShed(t, nil)
	early, w := call(t, s, nil)
	if w.BackedUp != 0 {
		t.Errorf("before any backup the welcome says %d", w.BackedUp)
	}
	writer, _ := call(t, s, nil)
	writer.push(writer.records("b1", "North")...)
	s.Commit()
	s.BackedUp(1)
	hears[syncproto.Ack](writer) // which comes first
	for _, c := range []*caller{writer, early} {
		if b := hears[syncproto.Backup](c); b.T != syncproto.TypeBackup || b.Arrival != 1 {
			t.Errorf("told %+v", b)
		}
		hears[news](c)
		c.silent() // it is told once
	}
	s.BackedUp(1) // again, as after a look
	early.silent()
	late, w := call(t, s, nil)
	if w.BackedUp != 1 {
		t.Errorf("the welcome says %d, want 1", w.BackedUp)
	}
	hears[news](late)
	late.silent()
	s.BackedUp(0) // it is gone
	for _, c := range []*caller{early, late} {
		if b := hears[syncproto.Backup](c); b.Arrival != 0 {
			t.Errorf("told %+v, want that there is none any more", b)
		}
	}
}

// Where nothing is backed up the welcome is what it was before there were backups.
func TestAWelcomeWithoutABackupDoesNotNameOne(t *testing.T) {
	s := newShed(t, nil)
	c := &caller{client: newClient(), t: t, talk: s.Begin(everything)}
	c.talk.Hear(textMessage(c.hello()))
	m, ok := c.talk.Say()
	if !ok || strings.Contains(string(m.Data), "backed_up") {
		t.Errorf("it says %s", m.Data)
	}
}

func TestASilentPhoneHearsOfABackup(t *testing.T) {
	s := startShed(t, nil)
	p := newPhone(t)
	p.connect(s)
	s.BackedUp(7)
	if b := await[syncproto.Backup](p); b.Arrival != 7 {
		t.Errorf("told %+v", b)
	}
}

func TestAPhoneThatTellsOfABackupIsRefused(t *testing.T) {
	s := newShed(t, nil)
	c, _ := call(t, s, nil)
	c.talk.Hear(live.Message{Data: []byte(`{"t":"backup","arrival":1}`)})
	if r := hears[syncproto.Refuse](c); r.Code != syncproto.CodeMalformed {
		t.Errorf("refused with %+v", r)
	}
}
