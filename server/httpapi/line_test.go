package httpapi_test

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"corymb/server/httpapi"
)

// These go through a real server over a socket.

func served(t *testing.T, patience time.Duration) *httptest.Server {
	t.Helper()
	h, _ := photoDoor(t, func(c *httpapi.Config) {
		c.Patience, c.Hosts = patience, func(string) bool { return true }
	})
	server := httptest.NewServer(h)
	t.Cleanup(server.Close)
	return server
}

// dial sends the head of a piece and some of its bytes, and leaves the rest to the test.
func dial(t *testing.T, server *httptest.Server, data []byte, offset, length, now int) (net.Conn, *bufio.Reader) {
	t.Helper()
	line, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = line.Close() }) // it may be closed already
	head := fmt.Sprintf("PATCH /api/photos/%s/upload HTTP/1.1\r\nHost: shed\r\nContent-Type: application/partial-upload\r\n"+
		"Upload-Offset: %d\r\nUpload-Length: %d\r\nContent-Length: %d\r\n\r\n", hashOf(data), offset, len(data), length)
	if _, err := io.WriteString(line, head+string(data[offset:offset+now])); err != nil {
		t.Fatal(err)
	}
	return line, bufio.NewReader(line)
}

// offsetOf asks how far an upload has come.
func offsetOf(t *testing.T, server *httptest.Server, data []byte) (offset int, complete string) {
	t.Helper()
	answer, err := http.Head(server.URL + "/api/photos/" + hashOf(data) + "/upload")
	if err != nil {
		t.Fatal(err)
	}
	_ = answer.Body.Close() // there is none
	if _, err := fmt.Sscan(answer.Header.Get("Upload-Offset"), &offset); err != nil {
		t.Fatalf("%v: %v", answer.Header, err)
	}
	return offset, answer.Header.Get("Upload-Complete")
}

// sendPiece sends a piece and gives the answer, without its body.
func sendPiece(t *testing.T, server *httptest.Server, data []byte, offset, end int) *http.Response {
	t.Helper()
	r := piece(data, offset, end)
	again, err := http.NewRequest(r.Method, server.URL+r.URL.Path, bytes.NewReader(data[offset:end]))
	if err != nil {
		t.Fatal(err)
	}
	again.Header = r.Header
	answer, err := http.DefaultClient.Do(again)
	if err != nil {
		t.Fatal(err)
	}
	_ = answer.Body.Close() // it was not read
	return answer
}

func TestAPhoneThatFallsSilentIsCutOffAndGoesOn(t *testing.T) {
	server, data := served(t, 200*time.Millisecond), photo(t, 300)
	_, in := dial(t, server, data, 0, len(data), 1000)
	answer, err := http.ReadResponse(in, nil) // it waits until it is cut off
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusRequestTimeout || !strings.Contains(string(body), `"code":"slow"`) || !answer.Close {
		t.Errorf("%d %s (%v)", answer.StatusCode, body, err)
	}
	offset, _ := offsetOf(t, server, data)
	if fmt.Sprint(offset) != answer.Header.Get("Upload-Offset") || offset > 1000 {
		t.Errorf("it was told %q and then %d", answer.Header.Get("Upload-Offset"), offset)
	}
	checkSentFrom(t, server, data, offset)
}

// Over HTTP/2, which https brings, a piece is cut off in the same way.
func TestAPhoneThatFallsSilentIsCutOffOverHTTP2(t *testing.T) {
	h, _ := photoDoor(t, func(c *httpapi.Config) {
		c.Patience, c.Hosts = 200*time.Millisecond, func(string) bool { return true }
	})
	server := httptest.NewUnstartedServer(h)
	server.EnableHTTP2 = true
	server.StartTLS()
	defer server.Close()
	data := photo(t, 300)
	silence, end := io.Pipe()
	r, err := http.NewRequest("PATCH", server.URL+"/api/photos/"+hashOf(data)+"/upload", io.MultiReader(bytes.NewReader(data[:1000]), silence))
	if err != nil {
		t.Fatal(err)
	}
	r.Header = piece(data, 0, 0).Header
	answer, err := server.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	_ = end.Close() // it never fails; the client waits for it
	if _ = answer.Body.Close(); answer.ProtoMajor != 2 || answer.StatusCode != http.StatusRequestTimeout {
		t.Errorf("%s %s", answer.Proto, answer.Status)
	}
}

// checkSentFrom sends the rest of a photo in small pieces.
func checkSentFrom(t *testing.T, server *httptest.Server, data []byte, offset int) {
	t.Helper()
	for offset < len(data) {
		end := min(offset+10_000, len(data))
		answer := sendPiece(t, server, data, offset, end)
		if answer.StatusCode != http.StatusNoContent {
			t.Fatalf("from %d: %s", offset, answer.Status)
		}
		offset = end
	}
	if offset, complete := offsetOf(t, server, data); offset != len(data) || complete != "?1" {
		t.Errorf("%d bytes of %d, %s", offset, len(data), complete)
	}
}

// A weak line never brings a whole piece in time. Whatever comes of each counts, so the photo comes through.
func TestAWeakLineBringsAPhotoThroughAllTheSame(t *testing.T) {
	server, data := served(t, 100*time.Millisecond), photo(t, 60)
	for tries := 0; ; tries++ {
		offset, complete := offsetOf(t, server, data)
		if complete == "?1" {
			if tries < 3 {
				t.Errorf("it took only %d pieces, so nothing was weak", tries)
			}
			return
		}
		line, in := dial(t, server, data, offset, len(data)-offset, min(900, len(data)-offset))
		if _, err := http.ReadResponse(in, nil); err != nil {
			t.Fatal(err)
		}
		if err := line.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

func TestWhatCameBeforeALineBrokeCounts(t *testing.T) {
	server, data := served(t, 0), photo(t, 300)
	line, _ := dial(t, server, data, 0, len(data), 5000)
	for offset := 0; offset < 5000; { // until all of it is taken
		offset, _ = offsetOf(t, server, data)
	}
	if err := line.Close(); err != nil {
		t.Fatal(err)
	}
	checkSentFrom(t, server, data, 5000)
}

// A connection that was lost without a word holds up nobody, although the server still waits for it.
func TestALostConnectionDoesNotHoldUpTheNext(t *testing.T) {
	server, data := served(t, time.Hour), photo(t, 300)
	dial(t, server, data, 0, len(data), 5000)
	for offset := 0; offset < 5000; {
		offset, _ = offsetOf(t, server, data)
	}
	checkSentFrom(t, server, data, 5000)
}

func TestAnOversizePieceIsRefusedBeforeItIsRead(t *testing.T) {
	server, data := served(t, 0), photo(t, 300)
	_, in := dial(t, server, data, 0, 1<<30, 0) // not a byte of it is sent
	answer, err := http.ReadResponse(in, nil)
	if err != nil || answer.StatusCode != http.StatusRequestEntityTooLarge || answer.Header.Get("Upload-Limit") == "" {
		t.Errorf("%v, %v", answer, err)
	}
}

func TestAnEndlessPieceIsCutOff(t *testing.T) {
	server, data := served(t, 0), photo(t, 300)
	r, err := http.NewRequest("PATCH", server.URL+"/api/photos/"+hashOf(data)+"/upload", endless{})
	if err != nil {
		t.Fatal(err)
	}
	r.Header = piece(data, 0, 0).Header
	r.Header.Set("Upload-Length", "20000000")
	answer, err := http.DefaultClient.Do(r) // the client may see the line break first
	if err == nil {
		if _ = answer.Body.Close(); answer.StatusCode < 400 {
			t.Errorf("it was taken: %s", answer.Status)
		}
	}
	if offset, _ := offsetOf(t, server, data); offset != 0 {
		t.Errorf("%d bytes of no picture were kept", offset)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) { return len(b), nil }

func TestTwoPhonesSendTheSamePhotoAtOnceAndBothAreDone(t *testing.T) {
	server, data := served(t, 0), photo(t, 900)
	var sending sync.WaitGroup
	for range 3 {
		sending.Go(func() {
			for range 1000 {
				offset, complete := offsetOf(t, server, data)
				if complete == "?1" {
					return
				}
				answer := sendPiece(t, server, data, offset, min(offset+30_000, len(data)))
				if answer.StatusCode != http.StatusNoContent && answer.StatusCode != http.StatusConflict {
					t.Errorf("%s", answer.Status)
					return
				}
			}
			t.Error("it never got through")
		})
	}
	sending.Wait()
	answer, err := http.Get(server.URL + "/api/photos/" + hashOf(data))
	if err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(answer.Body)
	if _ = answer.Body.Close(); err != nil || !bytes.Equal(got, data) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}
