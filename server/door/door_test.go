package door

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// never is longer than any test.
const never = time.Hour

func listen(t *testing.T) net.Listener {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = listener.Close() }) // a test may have closed it
	return listener
}

func dial(t *testing.T, to net.Listener) net.Conn {
	t.Helper()
	conn, err := net.Dial("tcp", to.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	return conn
}

func write(t *testing.T, conn net.Conn, text string) {
	t.Helper()
	if _, err := io.WriteString(conn, text); err != nil {
		t.Fatal(err)
	}
}

func accept(t *testing.T, from net.Listener) net.Conn {
	t.Helper()
	conn, err := from.Accept()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	return conn
}

// mustBeClosed waits until the other side has closed a connection.
func mustBeClosed(t *testing.T, conn net.Conn) {
	t.Helper()
	if n, err := conn.Read(make([]byte, 1)); err == nil || n > 0 {
		t.Errorf("read %d bytes (%v) of a connection that ought to be closed", n, err)
	}
}

// farm is a server that answers both kinds on one port.
type farm struct {
	listener net.Listener
	server   *http.Server
	client   *http.Client
	served   chan error
}

func serveFarm(t *testing.T, answer http.HandlerFunc) *farm {
	t.Helper()
	of := httptest.NewUnstartedServer(nil) // for its certificate, which is for 127.0.0.1
	of.StartTLS()
	t.Cleanup(of.Close)
	roots := x509.NewCertPool()
	roots.AddCert(of.Certificate())
	f := &farm{
		listener: listen(t),
		server:   &http.Server{Handler: answer, TLSConfig: &tls.Config{Certificates: of.TLS.Certificates}},
		client: &http.Client{Transport: &http.Transport{
			TLSClientConfig: &tls.Config{RootCAs: roots}, ForceAttemptHTTP2: true,
		}},
		served: make(chan error, 1),
	}
	go func() { f.served <- Serve(f.server, f.listener) }()
	t.Cleanup(func() {
		f.client.CloseIdleConnections()
		_ = f.server.Close()
	})
	return f
}

func (f *farm) get(t *testing.T, scheme string) string {
	t.Helper()
	answer, err := f.client.Get(scheme + "://" + f.listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

func tellsKind(w http.ResponseWriter, r *http.Request) {
	fmt.Fprintf(w, "TLS %v, HTTP/%d", r.TLS != nil, r.ProtoMajor)
}

func TestOnePortAnswersHTTPSAndPlainHTTP(t *testing.T) {
	f := serveFarm(t, tellsKind)
	for scheme, want := range map[string]string{"https": "TLS true, HTTP/2", "http": "TLS false, HTTP/1"} {
		if got := f.get(t, scheme); got != want {
			t.Errorf("%s: %s, want %s", scheme, got, want)
		}
	}
}

func TestTheFirstByteSaysTheKindAndIsReadAgain(t *testing.T) {
	tests := []struct {
		name, sends string
		secure      bool
	}{
		{"a record of TLS", "\x16\x03\x01", true},
		{"a request", "GET / HTTP/1.1\r\n", false},
		{"another record of TLS than the first", "\x17\x03\x03", false},
		{"nonsense", "\x00", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			listener := listen(t)
			secure, plain := split(listener, never, mostUndecided)
			write(t, dial(t, listener), tt.sends)
			from := plain
			if tt.secure {
				from = secure
			}
			got := make([]byte, len(tt.sends))
			if _, err := io.ReadFull(accept(t, from), got); err != nil || string(got) != tt.sends {
				t.Errorf("read %q (%v), want %q", got, err, tt.sends)
			}
		})
	}
}

func TestWhoSaysNothingHoldsUpNobody(t *testing.T) {
	f := serveFarm(t, tellsKind)
	for range mostUndecided + 20 {
		dial(t, f.listener)
	}
	f.get(t, "https")
	f.get(t, "http")
}

func TestWhoSaysNothingForTooLongIsClosed(t *testing.T) {
	listener := listen(t)
	split(listener, time.Millisecond, mostUndecided)
	mustBeClosed(t, dial(t, listener))
}

func TestOfTooManyThatSayNothingTheOldestIsClosed(t *testing.T) {
	listener := listen(t)
	_, plain := split(listener, never, 2)
	oldest, second, third := dial(t, listener), dial(t, listener), dial(t, listener)
	mustBeClosed(t, oldest)
	for _, conn := range []net.Conn{second, third} {
		write(t, conn, "G")
		accept(t, plain)
	}
}

// timed keeps the deadlines that its connections were given.
type timed struct {
	net.Listener
	deadlines chan time.Time
}

type timedConn struct {
	net.Conn
	deadlines chan time.Time
}

func (l timed) Accept() (net.Conn, error) {
	conn, err := l.Listener.Accept()
	return timedConn{conn, l.deadlines}, err
}

func (c timedConn) SetReadDeadline(at time.Time) error {
	c.deadlines <- at
	return c.Conn.SetReadDeadline(at)
}

func TestWhatIsSaidLaterIsNotHeldToTheTimeOfTheFirstByte(t *testing.T) {
	l := timed{listen(t), make(chan time.Time, 2)}
	_, plain := split(l, never, mostUndecided)
	write(t, dial(t, l), "G")
	accept(t, plain)
	if first, later := <-l.deadlines, <-l.deadlines; first.IsZero() || !later.IsZero() {
		t.Errorf("the first byte is due at %s, the rest at %s", first, later)
	}
}

func TestShutdownWaitsForRequestsAndClosesWhoSaidNothing(t *testing.T) {
	asked, answer := make(chan struct{}), make(chan struct{})
	f := serveFarm(t, func(w http.ResponseWriter, _ *http.Request) {
		close(asked)
		<-answer
		fmt.Fprint(w, "late but whole")
	})
	silent := dial(t, f.listener)
	got, done := make(chan string), make(chan error)
	go func() { got <- f.get(t, "https") }()
	<-asked
	go func() { done <- f.server.Shutdown(context.Background()) }()
	mustBeClosed(t, silent)
	if err := <-f.served; !errors.Is(err, http.ErrServerClosed) {
		t.Errorf("serving ended with %v", err)
	}
	select {
	case err := <-done:
		t.Errorf("it did not wait for the request (%v)", err)
	default:
	}
	close(answer)
	if text := <-got; text != "late but whole" {
		t.Errorf("the answer was %q", text)
	}
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func TestServingEndsWhenTheListenerFails(t *testing.T) {
	f := serveFarm(t, tellsKind)
	if err := f.listener.Close(); err != nil {
		t.Fatal(err)
	}
	if err := <-f.served; !errors.Is(err, net.ErrClosed) {
		t.Errorf("serving ended with %v", err)
	}
}

func TestTheListenerStaysOpenUntilBothEndsAreClosed(t *testing.T) {
	listener := listen(t)
	secure, plain := split(listener, never, mostUndecided)
	if err := secure.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := secure.Accept(); !errors.Is(err, net.ErrClosed) {
		t.Errorf("a closed end says %v", err)
	}
	tlsHello, request := dial(t, listener), dial(t, listener)
	write(t, tlsHello, "\x16")
	mustBeClosed(t, tlsHello)
	write(t, request, "G")
	accept(t, plain)
	if err := errors.Join(plain.Close(), plain.Close(), secure.Close()); err != nil {
		t.Error(err)
	}
	if conn, err := net.Dial("tcp", listener.Addr().String()); err == nil {
		_ = conn.Close()
		t.Error("the port is still open")
	}
}

// failing is a listener that fails as often as it is told to before it accepts.
type failing struct {
	net.Listener
	errs chan error
}

func (f failing) Accept() (net.Conn, error) {
	select {
	case err := <-f.errs:
		return nil, err
	default:
		return f.Listener.Accept()
	}
}

func TestAFailureToAcceptReachesWhoAcceptsAndAcceptingGoesOn(t *testing.T) {
	l := failing{listen(t), make(chan error, 1)}
	tooMany := errors.New("too many open files")
	l.errs <- tooMany
	_, plain := split(l, never, mostUndecided)
	if _, err := plain.Accept(); !errors.Is(err, tooMany) {
		t.Fatalf("it said %v", err)
	}
	write(t, dial(t, l), "GET")
	accept(t, plain)
}

func TestAnAnswerCanBeReadThoughTheRequestWasNot(t *testing.T) {
	f := serveFarm(t, func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "too large", http.StatusRequestEntityTooLarge)
	})
	conn := dial(t, f.listener)
	write(t, conn, "POST / HTTP/1.1\r\nHost: farm\r\nContent-Length: 9000000\r\n\r\n"+strings.Repeat("x", 300<<10))
	answer, err := io.ReadAll(conn)
	if err != nil || !strings.Contains(string(answer), "too large") {
		t.Errorf("read %q (%v)", answer, err)
	}
}
