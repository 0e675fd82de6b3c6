package main

import (
	"flag"
	"fmt"
	"net"
	"strings"
)

// listenFlag adds the flag that names the address to serve on.
func listenFlag(set *flag.FlagSet) *string {
	return set.String("listen", "127.0.0.1:8420", "the `address` to serve on; port 0 takes any free port")
}

// loopbackOnly refuses addresses that other machines can reach: without https anyone on the network
// could read and write the farm, and phones would not install the app.
func loopbackOnly(listen string) error {
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return fmt.Errorf("-listen %s is not an address: write it like 127.0.0.1:8420", listen)
	}
	if !isLoopback(host) {
		return fmt.Errorf("-listen %s would be open to the network, which needs https, and this version has none yet: use 127.0.0.1 or localhost", listen)
	}
	return nil
}

// isLoopback tells whether a host name is this machine's own.
func isLoopback(host string) bool {
	host = strings.Trim(host, "[]")
	ip := net.ParseIP(host)
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}
