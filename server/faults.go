package main

import (
	"bytes"
	"log"
	"log/slog"
)

// faults takes what net/http says of its connections: that a request ended in a fault of the program is
// an error, and the rest, of handshakes that fail and lines that break, is for whoever looks for it.
type faults struct{ logger *slog.Logger }

func faultsTo(logger *slog.Logger) *log.Logger { return log.New(faults{logger}, "", 0) }

func (f faults) Write(line []byte) (int, error) {
	text := string(bytes.TrimSpace(line))
	if bytes.Contains(line, []byte("panic serving")) {
		f.logger.Error("a request ended in a fault of the program", "error", text)
	} else {
		f.logger.Debug("a connection failed", "error", text)
	}
	return len(line), nil
}
