// Package found lets phones find this machine in the networks around it: its addresses, a name that it
// answers to, and a code to scan.
package found

import (
	"fmt"
	"net"
	"net/netip"
	"slices"
	"strings"
)

// Link is a network interface of this machine, and its addresses with their networks.
type Link struct {
	net.Interface
	Addresses []netip.Prefix
}

// Links are those of the system.
func Links() ([]Link, error) {
	interfaces, err := net.Interfaces()
	if err != nil {
		return nil, fmt.Errorf("asking the system for its networks: %w", err)
	}
	var links []Link
	for _, i := range interfaces {
		addresses, err := i.Addrs()
		if err != nil {
			continue // it has gone since
		}
		link := Link{Interface: i}
		for _, a := range addresses {
			if p, err := netip.ParsePrefix(a.String()); err == nil { // all are of this form
				link.Addresses = append(link.Addresses, netip.PrefixFrom(p.Addr().Unmap(), p.Bits()))
			}
		}
		links = append(links, link)
	}
	return links, nil
}

// Reach are the links over which phones can reach this machine, each with the addresses that are for it.
type Reach []Link

// ReachOf keeps of some links what phones can use: links that are up and lead to a network, their
// addresses of private networks (RFC 1918; RFC 4193 for IPv6), and those of IPv6 for the whole internet,
// which a farm's router gives its phones too.
func ReachOf(links []Link) Reach {
	var reach Reach
	for _, link := range links {
		if !leadsToPhones(link.Interface) {
			continue
		}
		link.Addresses = slices.DeleteFunc(slices.Clone(link.Addresses), func(p netip.Prefix) bool { return !forPhones(p.Addr()) })
		if len(link.Addresses) > 0 {
			reach = append(reach, link)
		}
	}
	return reach
}

// Addresses are those to reach this machine by, IPv4 first: people can read them out.
func (r Reach) Addresses() []netip.Addr {
	var four, six []netip.Addr
	for _, link := range r {
		for _, p := range link.Addresses {
			if p.Addr().Is4() {
				four = append(four, p.Addr())
			} else {
				six = append(six, p.Addr())
			}
		}
	}
	return append(four, six...)
}

// Networks are those that the addresses lie in, each once.
func (r Reach) Networks() []netip.Prefix {
	var networks []netip.Prefix
	for _, link := range r {
		for _, p := range link.Addresses {
			if !slices.Contains(networks, p.Masked()) {
				networks = append(networks, p.Masked())
			}
		}
	}
	return networks
}

func (r Reach) equal(other Reach) bool {
	return slices.EqualFunc(r, other, func(a, b Link) bool {
		return a.Index == b.Index && a.Name == b.Name && slices.Equal(a.Addresses, b.Addresses)
	})
}

// inside are the beginnings of names of interfaces that lead to programs on this machine alone. Common
// practice of virtual machines and containers, no source; one that is missing here costs one useless
// address.
var inside = []string{"docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "vEthernet", "lxc", "lxd", "cni", "podman"}

func leadsToPhones(i net.Interface) bool {
	const up = net.FlagUp | net.FlagRunning
	if i.Flags&up != up || i.Flags&(net.FlagLoopback|net.FlagPointToPoint) != 0 {
		return false
	}
	return !slices.ContainsFunc(inside, func(begin string) bool { return strings.HasPrefix(i.Name, begin) })
}

func forPhones(a netip.Addr) bool {
	return a.IsPrivate() || a.Is6() && a.IsGlobalUnicast()
}
