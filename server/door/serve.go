package door

import (
	"errors"
	"net"
	"net/http"
)

// Serve answers https and plain http by one server on one listener, as http.Server's Serve does for one
// kind; a request of plain http has no TLS. The certificate is in the server's TLSConfig.
func Serve(server *http.Server, listener net.Listener) error {
	// Named here because http.Server works out once, for whichever end it serves first, whether it speaks
	// HTTP/2: had it begun with plain http, it would offer it over TLS and then not speak it.
	if len(server.TLSConfig.NextProtos) == 0 {
		server.TLSConfig.NextProtos = []string{"h2", "http/1.1"}
	}
	secure, plain := Split(listener)
	ended := make(chan error, 2)
	go func() { ended <- server.ServeTLS(secure, "", "") }()
	go func() { ended <- server.Serve(plain) }()
	err := <-ended
	err = errors.Join(err, secure.Close(), plain.Close())
	<-ended // it ends with its end
	return err
}
