package found

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/netip"
	"slices"
	"time"

	"github.com/pion/logging"
	"github.com/pion/mdns/v2"
	"golang.org/x/net/dns/dnsmessage"
	"golang.org/x/net/ipv4"
	"golang.org/x/net/ipv6"
)

// probeEvery and probeFor: three times, a quarter of a second apart (RFC 6762, section 8.1).
const (
	probeEvery = 250 * time.Millisecond
	probeFor   = 3 * probeEvery
)

// takenBy asks the networks for a name, and tells which other machine answers.
func takenBy(ctx context.Context, name string, reach Reach, ours []netip.Addr) (netip.Addr, bool, error) {
	conn, err := multicast(reach, mdns.WithQueryInterval(probeEvery))
	if err != nil {
		return netip.Addr{}, false, err
	}
	return ask(ctx, conn, name, ours)
}

func ask(ctx context.Context, conn *mdns.Conn, name string, ours []netip.Addr) (netip.Addr, bool, error) {
	ctx, cancel := context.WithTimeout(ctx, probeFor)
	defer cancel()
	_, by, err := conn.QueryAddr(ctx, name)
	by = by.Unmap().WithZone("")
	taken := err == nil && !slices.Contains(ours, by) // an error says that nobody answered
	return by, taken, conn.Close()
}

// respond answers with the addresses of the interface by which it is asked.
func respond(name string, reach Reach) (io.Closer, error) {
	return multicast(reach, mdns.WithLocalNames(name))
}

// multicast joins the group of multicast DNS on the links of a reach. The port is shared with whatever
// else on this machine answers to names.
func multicast(reach Reach, options ...mdns.ServerOption) (*mdns.Conn, error) {
	var interfaces []net.Interface
	for _, link := range reach {
		interfaces = append(interfaces, link.Interface)
	}
	options = append(options,
		mdns.WithInterfaces(interfaces...),
		mdns.WithRecordTypes(dnsmessage.TypeA, dnsmessage.TypeAAAA),
		mdns.WithLoggerFactory(&logging.DefaultLoggerFactory{Writer: io.Discard, DefaultLogLevel: logging.LogLevelDisabled}),
	)
	four, six, err := sockets(reach)
	if err != nil {
		return nil, err
	}
	conn, err := mdns.NewServer(four, six, options...)
	if err != nil {
		return nil, errors.Join(err, closeAll(four, six))
	}
	return conn, nil
}

// sockets are for IPv4 where there is any, which every phone speaks in a farm's network: asked over
// IPv6, the library would also answer addresses that hold on one link alone, which browsers cannot use.
func sockets(reach Reach) (*ipv4.PacketConn, *ipv6.PacketConn, error) {
	network, address := "udp6", mdns.DefaultAddressIPv6
	if slices.ContainsFunc(reach.Addresses(), netip.Addr.Is4) {
		network, address = "udp4", mdns.DefaultAddressIPv4
	}
	at, err := net.ResolveUDPAddr(network, address)
	if err != nil {
		return nil, nil, err
	}
	socket, err := net.ListenUDP(network, at)
	if err != nil {
		return nil, nil, fmt.Errorf("opening the port of multicast DNS: %w", err)
	}
	if network == "udp4" {
		return ipv4.NewPacketConn(socket), nil, nil
	}
	return nil, ipv6.NewPacketConn(socket), nil
}

func closeAll(four *ipv4.PacketConn, six *ipv6.PacketConn) error {
	if four != nil {
		return four.Close()
	}
	return six.Close()
}
