package found

import (
	"net"
	"net/netip"
	"slices"
	"testing"
)

const running = net.FlagUp | net.FlagRunning | net.FlagBroadcast | net.FlagMulticast

func link(index int, name string, flags net.Flags, addresses ...string) Link {
	l := Link{Interface: net.Interface{Index: index, Name: name, Flags: flags, MTU: 1500}}
	for _, a := range addresses {
		l.Addresses = append(l.Addresses, netip.MustParsePrefix(a))
	}
	return l
}

func texts[T interface{ String() string }](of []T) []string {
	var all []string
	for _, v := range of {
		all = append(all, v.String())
	}
	return all
}

func TestWhereThisMachineCanBeReached(t *testing.T) {
	tests := []struct {
		name                string
		links               []Link
		addresses, networks []string
	}{
		{"nothing but itself", []Link{link(1, "lo", running|net.FlagLoopback, "127.0.0.1/8", "::1/128")}, nil, nil},
		{
			"wifi with both kinds of addresses, those people can read out first",
			[]Link{link(2, "wlan0", running, "fd00:7::20/64", "2001:db8:7::20/64", "fe80::20/64", "192.168.7.20/24")},
			[]string{"192.168.7.20", "fd00:7::20", "2001:db8:7::20"},
			[]string{"fd00:7::/64", "2001:db8:7::/64", "192.168.7.0/24"},
		},
		{
			"wifi and cable in one network, which is named once",
			[]Link{link(2, "eth0", running, "192.168.7.20/24"), link(3, "wlan0", running, "192.168.7.21/24")},
			[]string{"192.168.7.20", "192.168.7.21"}, []string{"192.168.7.0/24"},
		},
		{"an address that a machine gave itself for want of a router", []Link{link(2, "eth0", running, "169.254.3.4/16")}, nil, nil},
		{"an address of the whole internet, where no farm's phones are", []Link{link(2, "eth0", running, "203.0.113.5/24")}, nil, nil},
		{"switched off", []Link{link(2, "wlan0", net.FlagBroadcast, "192.168.7.20/24")}, nil, nil},
		{"no cable", []Link{link(2, "eth0", net.FlagUp|net.FlagBroadcast, "192.168.7.20/24")}, nil, nil},
		{"a tunnel to elsewhere", []Link{link(4, "tun0", running|net.FlagPointToPoint, "10.8.0.2/24")}, nil, nil},
		{
			"bridges to containers and virtual machines",
			[]Link{link(5, "docker0", running, "172.17.0.1/16"), link(6, "vEthernet (Default Switch)", running, "172.20.0.1/20"), link(7, "virbr0", running, "192.168.122.1/24")},
			nil, nil,
		},
		{"a bridge that is the farm's network", []Link{link(5, "br0", running, "10.0.0.5/24")}, []string{"10.0.0.5"}, []string{"10.0.0.0/24"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			reach := ReachOf(tt.links)
			if got := texts(reach.Addresses()); !slices.Equal(got, tt.addresses) {
				t.Errorf("addresses %v, want %v", got, tt.addresses)
			}
			if got := texts(reach.Networks()); !slices.Equal(got, tt.networks) {
				t.Errorf("networks %v, want %v", got, tt.networks)
			}
		})
	}
}

func TestTheLinksGivenStayAsTheyAre(t *testing.T) {
	links := []Link{link(2, "wlan0", running, "fe80::20/64", "192.168.7.20/24")}
	ReachOf(links)
	if got := texts(links[0].Addresses); !slices.Equal(got, []string{"fe80::20/64", "192.168.7.20/24"}) {
		t.Errorf("they are %v now", got)
	}
}

func TestTheSystemTellsOfThisMachineItself(t *testing.T) {
	links, err := Links()
	if err != nil {
		t.Fatal(err)
	}
	if own := addressesOf(links); !slices.ContainsFunc(own, netip.Addr.IsLoopback) {
		t.Errorf("no loopback among %v", own)
	}
}
