package api

import (
	"net/netip"
	"sync"
)

// seats counts the streams that are open, all of them and by the network they come from.
type seats struct {
	mu    sync.Mutex
	taken int
	by    map[netip.Prefix]int
}

// newSeats returns seats that nobody has taken.
func newSeats() *seats { return &seats{by: make(map[netip.Prefix]int)} }

// homeBits is how much of an IPv6 address names a household: the rest is its own to choose, and would give one machine
// as many addresses as it likes (RFC 4291, section 2.5.4).
const homeBits = 64

// networkOf is the network that a connection comes from: the address itself, or its first half for IPv6. It is the zero
// Prefix, which is not counted, for this machine itself and for what is no address. Only the connection is looked at:
// what a header says about where somebody comes from, anybody can write.
//
//	192.0.2.7:50312             192.0.2.7/32
//	[2001:db8:1:2::7]:50312     2001:db8:1:2::/64
//	127.0.0.1:50312             none
func networkOf(remote string) netip.Prefix {
	at, err := netip.ParseAddrPort(remote)
	if err != nil {
		return netip.Prefix{}
	}
	address := at.Addr().Unmap().WithZone("")
	if address.IsLoopback() {
		return netip.Prefix{}
	}
	network, _ := address.Prefix(min(address.BitLen(), homeBits)) // the length fits both sorts of addresses
	return network
}

// take takes a seat, and returns how to leave it, once. It is refused when all are taken, or all that the network may
// have. Two who come at once do not both get the last one.
func (s *seats) take(from netip.Prefix, pace Pace) (leave func(), err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.taken >= pace.Streams {
		return nil, busy()
	}
	if from.IsValid() && s.by[from] >= pace.PerAddress {
		return nil, &refusal{crowdedSort, "as many streams are open from your address as one may hold", instead, ""}
	}
	s.count(from, 1)
	return func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.count(from, -1)
	}, nil
}

// count counts one stream more or less; the caller holds mu. A network without a stream is forgotten.
func (s *seats) count(from netip.Prefix, more int) {
	s.taken += more
	if s.by[from] += more; s.by[from] == 0 || !from.IsValid() {
		delete(s.by, from)
	}
}

// instead is what whoever gets no stream does: the same documents are there to be read.
const instead = "read the class again every while, and try the stream later"

// busy refuses a stream that the server has no seat for.
func busy() error {
	return &refusal{busySort, "as many streams are open as this server can serve", instead, ""}
}
